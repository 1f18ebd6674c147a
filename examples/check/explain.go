package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"time"

	"gonum.org/v1/gonum/stat"
)

// sampled bounds the claims of either kind, those that agree and those that do not, on
// which explanations are tried: what a whole table has in common shows in these.
const sampled = 400

// An explanation is a mistake, or another choice, that people make with such numbers. It
// puts the claim as it should have been put; false where it changes nothing about it.
type explanation struct {
	what string
	put  func(c *claim) bool
}

// explanations are the usual ones whose size is known beforehand.
var explanations = []explanation{
	{"the longitude has the other sign (west positive)", func(c *claim) bool {
		c.site.Lon = -math.Remainder(c.site.Lon, 360)
		return c.site.Lon != 0
	}},
	{"the latitude has the other sign", func(c *claim) bool { c.site.Lat = -c.site.Lat; return c.site.Lat != 0 }},
	{"latitude and longitude are exchanged", func(c *claim) bool {
		c.site.Lat, c.site.Lon = math.Remainder(c.site.Lon, 360), c.site.Lat
		return c.site.Validate() == nil
	}},
	{"instants called UTC are UT (TT - Delta T), or the other way round", func(c *claim) bool {
		c.ut = !c.ut
		return c.value.kind == anInstant
	}},
	{"magnitude stands for obscuration, or the other way round", func(c *claim) bool {
		other, ok := map[string]string{"magnitude": "obscuration", "obscuration": "magnitude"}[c.quantity.name]
		if ok {
			c.quantity = quantities[other]
		}
		return ok
	}},
	{"magnitude in totality is the ratio of the diameters, or the other way round", func(c *claim) bool {
		other, ok := map[string]string{"magnitude": "diameter_ratio", "diameter_ratio": "magnitude"}[c.quantity.name]
		if ok {
			c.quantity = quantities[other]
		}
		return ok
	}},
	// The Moon's radii: the IAU's of 1982 for all phases, and those of one bulletin series
	// for each (package ephemeris has their sources).
	{"the Moon has a radius of 0.2725076 Earth radii throughout", radii(0.2725076, 0.2725076)},
	{"the Moon has a radius of 0.272281 Earth radii throughout", radii(0.272281, 0.272281)},
	{"the Moon has radii of 0.272488 and 0.272281 Earth radii", radii(0.272488, 0.272281)},
	{"delta_t_s is not what the claims were made with, but this library's own is", func(c *claim) bool {
		was := c.deltaTOf
		c.deltaTOf, c.deltaT = false, 0
		return was
	}},
}

func radii(k1, k2 float64) func(*claim) bool {
	return func(c *claim) bool {
		same := c.k1 == k1 && c.k2 == k2
		c.k1, c.k2 = k1, k2
		return !same && c.elements == ""
	}
}

// fitted are the explanations whose size the claims themselves tell: hours of a zone, and
// another Delta T.
func fitted(sample []claim, j *judge) (out []explanation) {
	middle := lateness(sample, j)
	if math.IsNaN(middle) {
		return nil
	}
	if quarters := math.Round(middle / 900); quarters != 0 && math.Abs(quarters) <= 60 {
		by := time.Duration(quarters) * 15 * time.Minute
		out = append(out, explanation{fmt.Sprintf("instants are local time, %+g h from UTC", by.Hours()), func(c *claim) bool {
			c.value.at = c.value.at.Add(-by)
			return c.value.kind == anInstant
		}})
	}
	if by := deltaT(sample, j, middle); by != 0 {
		out = append(out, explanation{fmt.Sprintf("Delta T is larger by %+.1f s than the one used here", by), func(c *claim) bool { return c.withDeltaT(by, j) }})
	}
	return out
}

// lateness is by how much instants are late in the middle, s; NaN without any.
func lateness(sample []claim, j *judge) float64 {
	var late []float64
	for i := range sample {
		if c := sample[i]; c.value.kind == anInstant {
			if computed, v, _ := j.judge(&c); v == differs || v == agrees {
				late = append(late, difference(&c, computed))
			}
		}
	}
	if len(late) == 0 {
		return math.NaN()
	}
	slices.Sort(late)
	return stat.Quantile(0.5, stat.Empirical, late, nil)
}

// deltaT is the change of Delta T that takes the lateness out, s, 0 for none within five
// minutes. Half of it or so comes back through the turning Earth, so that it is approached
// in steps.
func deltaT(sample []claim, j *judge, late float64) float64 {
	const most, steps, near = 300, 12, 0.005 // s
	by := 0.0
	for range steps {
		if by -= late; !(math.Abs(by) <= most) {
			return 0
		}
		if math.Abs(late) < near {
			break
		}
		moved := make([]claim, 0, len(sample))
		for i := range sample {
			if c := sample[i]; c.withDeltaT(by, j) {
				moved = append(moved, c)
			}
		}
		late = lateness(moved, j)
	}
	return by
}

// withDeltaT asks the claim with another Delta T, as almanacs print UT.
func (c *claim) withDeltaT(more float64, j *judge) bool {
	own := c.deltaT
	if !c.deltaTOf {
		day, err := time.Parse(time.DateOnly, c.day)
		if err != nil {
			return false
		}
		own = j.scale.DeltaT(j.scale.TT(day)).Seconds
	}
	c.deltaTOf, c.deltaT, c.ut = true, own+more, true
	return more != 0
}

// A trial is what an explanation does to the claims of the sample.
type trial struct {
	what                 string
	touched, mended, hit int // differing claims it is about, and those of them that agree under it; agreeing ones that it spoils
}

// explain tries every explanation on the sample and returns those that mend two thirds at
// least of the differing claims that they are about, and more than they spoil, best first.
func (s *sample) explain(j *judge) (found []trial, differ int) {
	differ = len(s.odd)
	if differ == 0 {
		return nil, 0
	}
	for _, e := range append(fitted(s.odd, j), explanations...) {
		t := trial{what: e.what}
		for i := range s.odd {
			if c := s.odd[i]; e.put(&c) {
				t.touched++
				if _, v, _ := j.judge(&c); v == agrees {
					t.mended++
				}
			}
		}
		if t.mended == 0 || 3*t.mended < 2*t.touched {
			continue
		}
		for i := range s.even {
			if c := s.even[i]; e.put(&c) {
				if _, v, _ := j.judge(&c); v != agrees {
					t.hit++
				}
			}
		}
		found = append(found, t)
	}
	slices.SortStableFunc(found, func(a, b trial) int {
		if a.mended != b.mended {
			return b.mended - a.mended
		}
		return a.hit - b.hit
	})
	return found, differ
}

// A sample keeps claims to try explanations on.
type sample struct{ odd, even []claim }

func (s *sample) add(f *finding) {
	switch {
	case f.verdict == badClaim:
	case f.verdict == agrees && len(s.even) < sampled:
		s.even = append(s.even, f.claim)
	case f.verdict != agrees && len(s.odd) < sampled:
		s.odd = append(s.odd, f.claim)
	}
}

// writeExplained says what was found by trying.
func writeExplained(w io.Writer, found []trial, differ, all int) {
	if differ == 0 {
		return
	}
	fmt.Fprint(w, "\nWhat would explain those that do not agree, each tried on all of them")
	if all > differ {
		fmt.Fprintf(w, " (on the first %d of %d)", differ, all)
	}
	fmt.Fprint(w, "\n\n")
	if len(found) == 0 {
		fmt.Fprintf(w, "  None of the usual mistakes and choices does: signs and order of the coordinates, UT\n  for UTC, local time, another Delta T, another lunar radius, magnitude for obscuration.\n")
		return
	}
	for _, t := range found {
		fmt.Fprintf(w, "  If %s:\n    %d of the %d it is about would agree, and %d of those that agree would not.\n", t.what, t.mended, t.touched, t.hit)
	}
}
