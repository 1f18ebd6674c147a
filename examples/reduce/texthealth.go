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

// writeHealth says what the log tells of its logger, and what to change before the
// day.
func writeHealth(w io.Writer, rep *station.Report) {
	h := &rep.Health
	fmt.Fprintln(w, "THE LOGGER'S HEALTH")
	fmt.Fprintf(w, "  samples    %d over %s", h.Samples, lasting(3600*h.SpanH))
	if s := h.Steps; s != nil {
		fmt.Fprintf(w, ", one every %.3g s", s.MedianS)
		if s.SpreadS > 0 {
			fmt.Fprintf(w, " +- %.2g", s.SpreadS)
		}
		fmt.Fprintf(w, "; %s of the steps are off, %s of the samples are missing", percent(s.OffShare), percent(s.MissedShare))
	}
	fmt.Fprintln(w)
	if g := h.Gaps; g.Count > 0 {
		fmt.Fprintf(w, "  gaps       %d, together %s, the longest %s\n", g.Count, lasting(g.TotalS), lasting(g.LongestS))
	}
	if c := h.Clock; c.UnsetRecords > 0 {
		fmt.Fprintf(w, "  clock      not set in %s, %s; %d put right\n", plural(int64(c.UnsetRecords), "record"), plural(int64(c.UnsetSpells), "spell"), c.MendedRecords)
	}
	if h.Lines.NoLightShare > 0 {
		fmt.Fprintf(w, "  no light   in %s of the records\n", percent(h.Lines.NoLightShare))
	}
	if h.Range != nil {
		writeLight(w, rep)
	}
	writeAdvice(w, h)
}

// writeLight is the part about the readings.
func writeLight(w io.Writer, rep *station.Report) {
	h := &rep.Health
	r, f := h.Range, h.Floor
	column, light := unitOf(r.Unit), unitOf(r.Unit)
	if r.Distinct == 1 { // it has no range, no floor and no noise
		fmt.Fprintf(w, "  readings   %.6g%s throughout\n", r.Least, column)
		if h.Sky != nil {
			writeDay(w, h.Sky)
		}
		return
	}
	if rep.Station.Chain != nil {
		light = " lx"
	}
	fmt.Fprintf(w, "  readings   %.6g to %.6g%s, %d different ones; %.1f decades of light\n", r.Least, r.Greatest, column, r.Distinct, r.Decades)
	if c := h.Ceiling; c != nil {
		fmt.Fprintf(w, "  ceiling    %.6g%s (%s): %s", c.Reading, light, c.Sure, plural(int64(c.Samples), "sample"))
		if c.NoonShare != nil {
			fmt.Fprintf(w, ", %s of the hours around noon", percent(*c.NoonShare))
		}
		fmt.Fprintf(w, "; %s\n", c.Why)
	} else {
		fmt.Fprintln(w, "  ceiling    none was reached")
	}
	if f.Piled {
		fmt.Fprintf(w, "  floor      %.4g%s: %s pile up there", f.Reading, light, plural(int64(f.Samples), "sample"))
	} else {
		fmt.Fprintf(w, "  floor      %.4g%s at least, and still changing there", f.Reading, light)
	}
	if f.LostLux != nil {
		fmt.Fprintf(w, "; the sky was lost with the Sun at %.1f degrees, about %s lx", *f.LostSunDeg, twoDigits(*f.LostLux))
	}
	fmt.Fprintln(w)
	var noise []string
	for _, n := range []struct {
		where string
		s     *station.Scatter
	}{{"in bright light", h.Noise.Bright}, {"in the dark", h.Noise.Dark}} {
		if n.s != nil {
			noise = append(noise, fmt.Sprintf("%s %s (a step is %s)", scatterOf(n.s), n.where, percent(n.s.Step)))
		}
	}
	if len(noise) > 0 {
		fmt.Fprintf(w, "  noise      %s", strings.Join(noise, ", "))
		if h.Steps != nil && h.Steps.MedianS > cloudS {
			fmt.Fprint(w, "; at this cadence cloud is in it")
		}
		fmt.Fprintln(w)
	}
	if s := h.Sky; s != nil {
		writeDay(w, s)
	}
}

// scatterOf says of a scatter that is far below the sensor's step that it hides there.
func scatterOf(s *station.Scatter) string {
	if s.Relative < s.Step/5 {
		return "less than a step"
	}
	return percent(s.Relative)
}

func writeDay(w io.Writer, s *station.Sky) {
	fmt.Fprintf(w, "  day, night %d and %d samples, the Sun at %.0f degrees at most", s.DaySamples, s.NightSamples, s.HighestSunDeg)
	if s.NightToDay != nil {
		fmt.Fprintf(w, "; the night has %s of noon's reading", percent(*s.NightToDay))
	}
	if s.NoonOffsetMin != nil {
		fmt.Fprintf(w, "; the light's noon lies %+.0f min from the Sun's", math.Round(*s.NoonOffsetMin)+0)
	}
	fmt.Fprintln(w)
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
