package station

import "math"

// Advice is one thing to change before the day, with the number that gave rise to it.
type Advice struct {
	Rule   string  `json:"rule"`   // its name in the table of rules
	Text   string  `json:"text"`   // in words, one line
	Number float64 `json:"number"` // as measured
	Unit   string  `json:"unit"`   // of Number and Limit; "1" for a share or a count
	Limit  float64 `json:"limit"`  // that Number is beyond
	Source string  `json:"source"` // of the limit
}

// A rule is one row of the table that advice comes from.
type rule struct {
	name, unit string
	limit      float64
	below      bool // it fires below its limit, not above
	source     string
	// number is what the log shows; false where it does not show it.
	number func(d *diagnosis) (float64, bool)
	words  func(d *diagnosis, number float64) string
}

const (
	usage         = "common practice, no source"
	nightLimit    = 0.01
	invertedLimit = 2.0 // night over day, no lamp's wobble any more
	noonLimitMin  = 40.0
	cloudS        = 5 // seconds between samples from which cloud passes for noise; common practice, no source
)

// advise walks the table in its order, which is that of importance.
func advise(d *diagnosis) []Advice {
	out := []Advice{}
	for _, r := range rules {
		n, ok := r.number(d)
		if !ok || math.IsNaN(n) || r.below && n >= r.limit || !r.below && n <= r.limit {
			continue
		}
		out = append(out, Advice{Rule: r.name, Text: r.words(d, n), Number: n, Unit: r.unit, Limit: r.limit, Source: r.source})
	}
	return out
}

// rules, most important first: what leaves no eclipse in the log, then what spoils
// it, then what blurs it.
var rules = []rule{
	{"nothing-read", "1", 1, true, "by definition",
		func(d *diagnosis) (float64, bool) { return float64(d.h.Records), true },
		func(d *diagnosis, _ float64) string {
			return "no record could be read: look whether these are the right files, and at the first refused lines, or name the columns"
		}},
	{"short", "1", 100, true, usage,
		func(d *diagnosis) (float64, bool) {
			return float64(d.h.Samples), d.h.Records > 0 && d.h.Clock.UnsetRecords == 0
		},
		func(d *diagnosis, n float64) string {
			return several(int(n), "sample") + " cannot say much of a logger: let it run for a day and a night"
		}},
	{"no-light", "1", 0.5, false, usage,
		func(d *diagnosis) (float64, bool) { return d.h.Lines.NoLightShare, d.h.Samples > 0 },
		func(d *diagnosis, n float64) string {
			return percent(n) + " of the records have no readable light: check the sensor's wires, and which column is light"
		}},
	{"flat", "1", 0.05, true, usage, swing, wordsOfFlat},
	{"unset-clock", "1", 0, false, "by definition",
		func(d *diagnosis) (float64, bool) { return float64(d.h.Clock.UnsetRecords), true }, wordsOfUnset},
	{"no-daylight", "deg", 0, true, "by definition",
		func(d *diagnosis) (float64, bool) {
			if d.h.Sky == nil {
				return 0, false
			}
			return d.h.Sky.HighestSunDeg, true
		},
		func(d *diagnosis, n float64) string {
			return words("the Sun is never up in this log, %.0f degrees at most: let it run by day, or look at the clock's zone and at the site", n)
		}},
	{"inverted", "1", invertedLimit, false, usage, nightOverDay,
		func(d *diagnosis, n float64) string {
			return words("it reads more by night than by day, %s against %s: a reading that falls as light grows (turn the divider round, or describe the chain), or a clock that is hours off",
				d.light(*d.h.Sky.NightReading), d.light(*d.h.Sky.DayReading))
		}},
	{"saturated", "1", 0.01, false, usage, saturation, wordsOfSaturation},
	{"dark-limit", "lx", totalityLux, false, "light left in totality, testdata/references/eclipse_light_measured.csv",
		func(d *diagnosis) (float64, bool) { return d.leastLux, d.leastLux > 0 && d.darkens }, wordsOfDarkLimit},
	{"totality-bright", "lx", 20, false, "twice the most that was measured in totality, package eclipse", totalityLeft,
		func(d *diagnosis, n float64) string {
			return words("in totality it still read %.3g lx, where 1 to 10 are left: its zero, or stray light, and the darkest it can tell", n)
		}},
	{"twilight-lost", "1", 10, true, "a step is then a tenth of the light; " + usage, twilight, wordsOfTwilight},
	{"dark-by-day", "1", 2, false, usage,
		func(d *diagnosis) (float64, bool) {
			if d.h.Floor == nil || d.clockDoubted() {
				return 0, false
			}
			return float64(d.h.Floor.DaySamples), true
		},
		func(d *diagnosis, n float64) string {
			return words("%.0f samples with the Sun up are at the floor, %s: a larger load or more gain, if that was totality; else look at what covered the sensor",
				n, d.light(d.h.Floor.Reading))
		}},
	{"night-light", "1", nightLimit, false, usage, nightLight, wordsOfNight},
	{"noon", "min", noonLimitMin, false, "hills and walls shift it by half an hour; " + usage, noonOff, wordsOfNoon},
	{"dim", "lx", 500, true, "office lighting, testdata/references/natural_illuminance.csv", dayLux,
		func(d *diagnosis, n float64) string {
			return words("the hours around noon read %.3g lx, as in a lit room: put the sensor under the open sky, or look at its calibration", n)
		}},
	{"clock-back", "1", 0, false, "by definition", stepsBack,
		func(d *diagnosis, n float64) string {
			return times(n, "the clock went back %s: set it before the log begins and leave it alone, or give it a new battery")
		}},
	{"cadence", "s", 2, false, usage,
		func(d *diagnosis) (float64, bool) {
			if d.h.Steps == nil {
				return 0, false
			}
			return d.h.Steps.MedianS, true
		}, wordsOfCadence},
	{"gaps", "s", gapS, false, usage,
		func(d *diagnosis) (float64, bool) { return d.h.Gaps.LongestS, d.h.Gaps.Count > 0 }, wordsOfGaps},
	{"missed", "1", 0.02, false, usage,
		func(d *diagnosis) (float64, bool) {
			if d.h.Steps == nil {
				return 0, false
			}
			return d.h.Steps.MissedShare, true
		},
		func(d *diagnosis, n float64) string {
			return percent(n) + " of the samples that the cadence would give are not there: find what holds the logger up, such as the card or the display"
		}},
	{"refused", "1", 0.01, false, usage,
		func(d *diagnosis) (float64, bool) { return d.h.Lines.RefusedShare, d.h.Records > 0 },
		func(d *diagnosis, n float64) string {
			return percent(n) + " of the lines were refused: write whole lines, flush each, and mind the supply while the card is written"
		}},
	{"some-light-missing", "1", 0.01, false, usage,
		func(d *diagnosis) (float64, bool) { n := d.h.Lines.NoLightShare; return n, n <= 0.5 },
		func(d *diagnosis, n float64) string {
			return percent(n) + " of the records have no readable light: check the sensor's wires"
		}},
	{"repeats", "1", 0.01, false, usage,
		func(d *diagnosis) (float64, bool) {
			if back, _ := stepsBack(d); d.h.Steps == nil || back > 0 { // it wrote the same stamps twice
				return 0, false
			}
			return d.h.Steps.RepeatShare, true
		},
		func(d *diagnosis, n float64) string {
			return percent(n) + " of the stamps repeat the one before: write the stamp's seconds, and their fraction if need be"
		}},
	{"no-zone", "1", 0, false, "RFC 3339, section 4.4",
		func(d *diagnosis) (float64, bool) { return float64(d.h.Clock.NoZoneFiles), true },
		func(d *diagnosis, _ float64) string {
			return "the stamps say no zone and were taken for UTC: keep the clock in UTC and write a Z behind each stamp, or give the zone"
		}},
	{"noise", "1", 0.02, false, usage,
		func(d *diagnosis) (float64, bool) {
			b := d.bright()
			if b == nil || d.h.Steps == nil || d.h.Steps.MedianS > cloudS {
				return 0, false
			}
			return b.Relative, true
		},
		func(d *diagnosis, n float64) string {
			return words("neighbouring readings scatter by %s in bright light: average more of them into one, and look for a loose wire", percent(n))
		}},
	{"coarse", "1", 0.01, false, usage,
		func(d *diagnosis) (float64, bool) {
			b := d.bright()
			if b == nil {
				return 0, false
			}
			return b.Step, true
		},
		func(d *diagnosis, n float64) string {
			return words("one step of the reading is %s of bright light: log a mean of many readings with its fraction, or use a converter of more bits", percent(n))
		}},
}
