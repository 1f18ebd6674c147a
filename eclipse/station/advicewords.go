package station

import (
	"fmt"
	"math"
	"strconv"

	"example.org/noonfall/sensor"
)

func words(format string, args ...any) string { return fmt.Sprintf(format, args...) }

// percent is a share in words, with two digits where it is small.
func percent(share float64) string {
	if share < 0.1 {
		return fmt.Sprintf("%.2g %%", 100*share)
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}

// rounded is a number as people write it, with so many digits.
func rounded(v float64, digits int) string {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64) // of its own making
	if a := math.Abs(r); a >= 1e9 || a < 1e-6 && a > 0 {
		return strconv.FormatFloat(r, 'g', -1, 64)
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

func reading(v float64) string { return rounded(v, 4) }

// light is a reading that was made lux by the chain.
func (d *diagnosis) light(v float64) string {
	if d.chain != nil {
		return reading(v) + " lx"
	}
	return reading(v)
}

func several(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// times puts "once" or "n times" into a sentence.
func times(n float64, format string) string {
	if n == 1 {
		return fmt.Sprintf(format, "once")
	}
	return fmt.Sprintf(format, fmt.Sprintf("%.0f times", n))
}

func wordsOfFlat(d *diagnosis, n float64) string {
	return words("the light changes by %s in %.1f h: a sensor at its end, a broken wire, or another column", percent(n), d.h.SpanH)
}

func wordsOfUnset(d *diagnosis, n float64) string {
	return words("%s the stamp of a clock that was not set, in %s: give the clock a new battery and set it before the log begins",
		map[bool]string{true: "1 record carries", false: fmt.Sprintf("%.0f records carry", n)}[n == 1], several(d.h.Clock.UnsetSpells, "spell"))
}

func wordsOfSaturation(d *diagnosis, n float64) string {
	c := d.h.Ceiling
	when := "of the hours around noon"
	if c.NoonShare == nil || d.clockDoubted() {
		when = "of the time"
	}
	verb := "saturated"
	if c.Sure == SurePossible {
		verb = "perhaps saturated"
	}
	return words("%s for %s %s, at %s: %s", verb, percent(n), when, d.light(c.Reading), d.moreRoom())
}

// moreRoom says what brings full Sun into range.
func (d *diagnosis) moreRoom() string {
	filter := "a filter over the sensor (never for eyes)"
	reach := d.mostLux
	if reach == 0 && d.h.Ceiling.SunDeg != nil && !d.clockDoubted() {
		reach = clearSky(*d.h.Ceiling.SunDeg)
	}
	if reach > 0 {
		density := math.Max(leastFilter, math.Ceil(10*math.Log10(skySpread*d.fullSun/reach))/10)
		filter = words("a filter of optical density %.1f or more over the sensor (never for eyes)", density)
	}
	switch {
	case d.chain != nil && d.chain.Digital != nil:
		return filter + ", or a shorter integration, brings full Sun into range"
	case d.chain != nil && d.chain.Divider != nil:
		design, err := d.chain.Design(totalityLux, math.Max(d.fullSun, 2*totalityLux), sensor.DesignOptions{SunLux: math.Max(1, d.fullSun)})
		if load := d.chain.Divider.LoadOhm; err == nil && design.One.Ohms < load {
			return words("a load of %s ohm instead of %s, or %s, brings full Sun into range", rounded(design.One.Ohms, 3), rounded(load, 3), filter)
		}
	}
	return "a smaller load resistor or less gain, or " + filter + ", brings full Sun into range"
}

func wordsOfDarkLimit(_ *diagnosis, n float64) string {
	return words("below %.3g lx this sensor chain tells nothing, and totality leaves about %.0f lx: a larger load, or a second sensor for the dark", n, totalityLux)
}

func wordsOfTwilight(d *diagnosis, n float64) string {
	lost := ""
	if f := d.h.Floor; f.LostLux != nil {
		lost = words(" (the sky was lost with the Sun at %.1f degrees, about %s lx)", *f.LostSunDeg, rounded(*f.LostLux, 2))
	}
	return words("at the end of civil twilight, as dark as totality, it reads %s above darkness%s: a larger load, more gain, or a second sensor for the dark", stepsOf(n), lost)
}

func wordsOfNight(_ *diagnosis, n float64) string {
	return words("the night is not dark, %s of noon: a lamp near the sensor, a zero that is not zero, or a clock that is hours off", percent(n))
}

func wordsOfNoon(d *diagnosis, _ float64) string {
	m := *d.h.Sky.NoonOffsetMin
	way := "after"
	if m < 0 {
		way = "before"
	}
	return words("the light's noon comes %s %s the Sun's, by dawn and dusk: look at the clock, the zone of its stamps and the site", lasting(60*math.Abs(m)), way)
}

func wordsOfCadence(d *diagnosis, n float64) string {
	if !d.darkens {
		return words("a sample every %.3g s: one a second is wanted", n)
	}
	return words("a sample every %.3g s: a totality of %.0f s would get %.0f of them; one a second is wanted", n, d.totality(), math.Floor(d.totality()/n))
}

func wordsOfGaps(d *diagnosis, n float64) string {
	risk := ""
	if d.darkens {
		risk = words("a totality of %.0f s can fall into one; ", d.totality())
	}
	return words("%s, the longest of %s: %slook at power, card and loose contacts", several(d.h.Gaps.Count, "gap"), lasting(n), risk)
}

// lasting is a time in words.
func lasting(s float64) string {
	switch {
	case s < 600:
		return fmt.Sprintf("%.0f s", s)
	case s < 7200:
		return fmt.Sprintf("%.0f min", s/60)
	case s < 48*3600:
		return fmt.Sprintf("%.1f h", s/3600)
	}
	return fmt.Sprintf("%.1f days", s/86400)
}

func stepsOf(n float64) string {
	switch {
	case n == 0:
		return "nothing"
	case n < 1.5:
		return "one step"
	}
	return fmt.Sprintf("%.0f steps", n)
}
