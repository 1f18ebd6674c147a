package main

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"example.org/noonfall/eclipse/station"
)

// cloudS are seconds between samples from which cloud passes for noise (common
// practice, no source).
const cloudS = 5

// A trait is a line of the logger's health.
type trait struct{ name, text string }

// writeHealth says what the log tells of its logger, and what to change before the
// day.
func writeHealth(w io.Writer, rep *station.Report) {
	fmt.Fprintln(w, "THE LOGGER'S HEALTH")
	for _, t := range traits(rep) {
		fmt.Fprintf(w, "  %-10s %s\n", t.name, t.text)
	}
	writeAdvice(w, &rep.Health)
}

// traits are what the log tells.
func traits(rep *station.Report) []trait {
	h := &rep.Health
	samples := fmt.Sprintf("%d over %s", h.Samples, lasting(3600*h.SpanH))
	if s := h.Steps; s != nil {
		samples += fmt.Sprintf(", one every %.3g s", s.MedianS)
		if s.SpreadS > 0 {
			samples += fmt.Sprintf(" +- %.2g", s.SpreadS)
		}
		samples += fmt.Sprintf("; %s of the steps are off, %s of the samples are missing", percent(s.OffShare), percent(s.MissedShare))
	}
	out := []trait{{"samples", samples}}
	if g := h.Gaps; g.Count > 0 {
		out = append(out, trait{"gaps", fmt.Sprintf("%d, together %s, the longest %s", g.Count, lasting(g.TotalS), lasting(g.LongestS))})
	}
	if c := h.Clock; c.UnsetRecords > 0 {
		out = append(out, trait{"clock", fmt.Sprintf("not set in %s, %s; %d put right", plural(int64(c.UnsetRecords), "record"), plural(int64(c.UnsetSpells), "spell"), c.MendedRecords)})
	}
	if h.Lines.NoLightShare > 0 {
		out = append(out, trait{"no light", fmt.Sprintf("in %s of the records", percent(h.Lines.NoLightShare))})
	}
	if h.Range != nil {
		out = append(out, lightTraits(rep)...)
	}
	return out
}

// lightTraits are the part about the readings.
func lightTraits(rep *station.Report) (out []trait) {
	h := &rep.Health
	r := h.Range
	column, light := unitOf(r.Unit), unitOf(r.Unit)
	if r.Distinct == 1 { // it has no range, no floor and no noise
		out = append(out, trait{"readings", fmt.Sprintf("%.6g%s throughout", r.Least, column)})
	} else {
		if rep.Station.Chain != nil {
			light = " lx"
		}
		out = append(out,
			trait{"readings", fmt.Sprintf("%.6g to %.6g%s, %d different ones; %.1f decades of light", r.Least, r.Greatest, column, r.Distinct, r.Decades)},
			trait{"ceiling", ceilingOf(h.Ceiling, light)}, trait{"floor", floorOf(h.Floor, light)})
		if noise := noiseOf(h); noise != "" {
			out = append(out, trait{"noise", noise})
		}
	}
	if s := h.Sky; s != nil {
		out = append(out, trait{"day, night", dayOf(s)})
	}
	return out
}

func ceilingOf(c *station.Ceiling, unit string) string {
	if c == nil {
		return "none was reached"
	}
	noon := ""
	if c.NoonShare != nil {
		noon = fmt.Sprintf(", %s of the hours around noon", percent(*c.NoonShare))
	}
	return fmt.Sprintf("%.6g%s (%s): %s%s; %s", c.Reading, unit, c.Sure, plural(int64(c.Samples), "sample"), noon, c.Why)
}

func floorOf(f *station.Floor, unit string) string {
	text := fmt.Sprintf("%.4g%s at least, and still changing there", f.Reading, unit)
	if f.Piled {
		text = fmt.Sprintf("%.4g%s: %s pile up there", f.Reading, unit, plural(int64(f.Samples), "sample"))
	}
	if f.LostLux != nil {
		text += fmt.Sprintf("; the sky was lost with the Sun at %.1f degrees, about %s lx", *f.LostSunDeg, twoDigits(*f.LostLux))
	}
	return text
}

func noiseOf(h *station.Health) string {
	var noise []string
	for _, n := range []struct {
		where string
		s     *station.Scatter
	}{{"in bright light", h.Noise.Bright}, {"in the dark", h.Noise.Dark}} {
		if n.s != nil {
			noise = append(noise, fmt.Sprintf("%s %s (a step is %s)", scatterOf(n.s), n.where, percent(n.s.Step)))
		}
	}
	if len(noise) > 0 && h.Steps != nil && h.Steps.MedianS > cloudS {
		noise[len(noise)-1] += "; at this cadence cloud is in it"
	}
	return strings.Join(noise, ", ")
}

// scatterOf says of a scatter that is far below the sensor's step that it hides there.
func scatterOf(s *station.Scatter) string {
	if s.Relative < s.Step/5 {
		return "less than a step"
	}
	return percent(s.Relative)
}

func dayOf(s *station.Sky) string {
	text := fmt.Sprintf("%d and %d samples, the Sun at %.0f degrees at most", s.DaySamples, s.NightSamples, s.HighestSunDeg)
	if s.NightToDay != nil {
		text += fmt.Sprintf("; the night has %s of noon's reading", percent(*s.NightToDay))
	}
	if s.NoonOffsetMin != nil {
		text += fmt.Sprintf("; the light's noon lies %+.0f min from the Sun's", math.Round(*s.NoonOffsetMin)+0)
	}
	return text
}

// twoDigits is a number of which no more is worth printing.
func twoDigits(v float64) string {
	if !(v > 0) {
		return "0"
	}
	step := math.Pow(10, math.Floor(math.Log10(v))-1)
	return strconv.FormatFloat(math.Round(v/step)*step, 'f', max(0, -int(math.Round(math.Log10(step)))), 64)
}

func unitOf(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}

// writeAdvice is what to change, most important first.
func writeAdvice(w io.Writer, h *station.Health) {
	fmt.Fprint(w, "\nWHAT TO CHANGE BEFORE THE DAY\n")
	if len(h.Advice) == 0 {
		fmt.Fprintln(w, "  Nothing: as far as this log shows, the logger is fine.")
	}
	for i, a := range h.Advice {
		fmt.Fprintf(w, "  %d. %s\n", i+1, a.Text)
	}
	fmt.Fprintln(w)
}

// percent is a share with as many digits as it is worth.
func percent(share float64) string {
	switch p := 100 * share; {
	case p == 0:
		return "0 %"
	case p < 0.01:
		return "under 0.01 %"
	case p < 10:
		return fmt.Sprintf("%.2g %%", p)
	default:
		return fmt.Sprintf("%.0f %%", p)
	}
}

func lasting(seconds float64) string {
	switch {
	case seconds < 600:
		return fmt.Sprintf("%.0f s", seconds)
	case seconds < 7200:
		return fmt.Sprintf("%.0f min", seconds/60)
	case seconds < 48*3600:
		return fmt.Sprintf("%.1f h", seconds/3600)
	}
	return fmt.Sprintf("%.1f days", seconds/86400)
}
