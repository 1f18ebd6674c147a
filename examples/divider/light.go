package main

import "example.org/noonfall/sensor"

// A level is a light that people know, and who says so.
type level struct {
	name   string
	lux    float64
	source string
	short  string // its name in the table of loads and the picture, where it is in them
}

// sources are cited by number in the text.
var sources = []string{
	"a widely copied table of natural light, its compilers mixed", // testdata/references/natural_illuminance.csv
	"J. Opt. Soc. Am. 23 (1933) 234: 0.35 footcandle",             // this and the next three: eclipse_light_measured.csv
	"web report of the eclipse of 2006, Comolli & Gambaro",
	"web report of the eclipse of 2005, Comolli",
	"lighting laboratory of a technical university, news of 7 April 2015",
	"S. Darula, R. Kittler & C. Gueymard, Solar Energy 79 (2005) 559",
}

// levels are of the horizontal, but for the last, which is of what faces the Sun.
var levels = []level{
	{"clear night without a Moon", 0.002, sources[0], ""},
	{"full Moon, at the most", 0.3, sources[0], ""},
	{"end of civil twilight, clear", 3.4, sources[0], "twilight"},
	{"totality of 31 August 1932, under cloud", 3.77, sources[1], ""},
	{"totality of 29 March 2006, clear", 4.1, sources[2], "totality"},
	{"living room", 50, sources[0], ""},
	{"sunrise or sunset, clear", 400, sources[0], ""},
	{"overcast day", 1000, sources[0], "overcast"},
	{"middle of the annular eclipse of 3 October 2005", 3000, sources[3], ""},
	{"74 % covered, 20 March 2015", 13000, sources[4], ""},
	{"the same place later that day", 67000, sources[4], ""},
	{"full Sun before the totality of 2006, at least", 113000, sources[2], "full Sun"},
	{"sunlight outside the atmosphere", 133300, sources[5], ""},
}

// marked are the levels of the table of loads and the picture.
func marked() []level {
	var out []level
	for _, l := range levels {
		if l.short != "" {
			out = append(out, l)
		}
	}
	return out
}

// A reading is what a circuit makes of a level.
type reading struct {
	level
	counts float64
	status sensor.Status
	share  float64 // of the light, of one count; 0 where counts are a bound
}

func readings(conv *sensor.Converter) []reading {
	var out []reading
	for _, l := range marked() {
		counts := conv.Counts(l.lux)
		r := reading{level: l, counts: counts, status: conv.Lux(counts).Status}
		r.share = ofLight(conv.CountsPerOctave(l.lux))
		out = append(out, r)
	}
	return out
}
