package main

import (
	"fmt"
	"math"

	"example.org/noonfall/sensor"
)

// of says what a load does at both ends.
func (s *story) of(c candidate) string {
	out := fmt.Sprintf("%s reads %s to %s lx.", capital(ohms(c.Ohms)), figure(c.DarkLux, 3), figure(c.SaturatesLux, 3))
	for _, r := range c.readings {
		if r.short != "totality" && r.short != "full Sun" {
			continue
		}
		out += fmt.Sprintf(" %s (%s lx) gives %s", capital(r.short), figure(r.lux, 4), plural(r.counts))
		switch r.status {
		case sensor.TooDark:
			out += fmt.Sprintf(": too dark to tell, all that is known is less than %s lx.", figure(c.DarkLux, 3))
		case sensor.Saturated:
			out += fmt.Sprintf(": saturated, all that is known is more than %s lx.", figure(c.SaturatesLux, 3))
		default:
			out += fmt.Sprintf(", one of them %s of the light.", percent(r.share))
		}
	}
	return out + s.remedy(c)
}

// plural writes whole counts.
func plural(counts float64) string {
	if n := math.Round(counts); n != 1 {
		return fmt.Sprintf("%.0f counts", n)
	}
	return "1 count"
}

// remedy says what helps a load that loses an end.
func (s *story) remedy(c candidate) string {
	switch dark, bright := c.CountsPerOctaveLeast == 0, c.CountsPerOctaveGreatest == 0; {
	case c.DarkLux >= s.high:
		return fmt.Sprintf(" All of %s to %s lx is too dark for this load: a larger one helps.", figure(s.low, 4), figure(s.high, 4))
	case c.SaturatesLux <= s.low:
		return s.filter(c)
	case dark && bright:
		return fmt.Sprintf(" Of %s to %s lx it loses both ends, and no filter mends that.", figure(s.low, 4), figure(s.high, 4))
	case dark:
		return fmt.Sprintf(" At %s lx it is too dark for this load, and a filter makes that worse: a larger load helps.", figure(s.low, 4))
	case bright:
		return s.filter(c)
	}
	return ""
}

// filter says what a filter does for a load that saturates.
func (s *story) filter(c candidate) string {
	density := math.Ceil(10*c.SunDensity) / 10 // sold in tenths; common practice, no source
	dark, bright := c.Behind(density)
	verdict := fmt.Sprintf("and %s lx is still read", figure(s.low, 4))
	if dark > s.low {
		verdict = fmt.Sprintf("and %s lx is lost", figure(s.low, 4))
	}
	return fmt.Sprintf(" A filter of optical density %.1f before the sensor would bring %s lx into range: then it reads %s to %s lx, %s.",
		density, figure(s.high, 4), figure(dark, 3), figure(bright, 3), verdict)
}

const filters = "A filter takes the same share of all light, 9 tenths at density 1. It moves the range, as a smaller load does, and makes it no wider:" +
	" where both ends are lost no filter helps. What it does spare is the sensor's heat, and the doubt about its law in very bright light." +
	" It must be grey in all the colours that the sensor sees; silicon sees infrared. It is no protection for eyes."

// practice says what the common loads do, and one's own.
func (s *story) practice() []string {
	out := []string{"Circuits that are passed on have 1 kohm or 10 kohm (common practice, no source)."}
	if s.own != nil {
		out = append(out, "Yours: "+s.of(*s.own))
	}
	for _, c := range s.common {
		out = append(out, s.of(c))
	}
	return append(out, "For comparison, the best: "+s.of(s.best), filters)
}

func (s *story) doubt() string {
	if len(s.spread) == 0 {
		return "Nothing is known of sensors that differ from this one."
	}
	what := "Two cells of one type differ by a factor of two, and the straight law is good from about 1 to 1000 lx: in full Sun it is a guess (both from memory)."
	if s.sensor == "phototransistor" {
		what = "Two transistors of one bin differ by a factor of two (from memory)."
	}
	return what + " Calibrate your own, and try it in full Sun and at dusk before you trust either end. This is what becomes of the range with the loads above:"
}
