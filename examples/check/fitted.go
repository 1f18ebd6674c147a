package main

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"time"
)

// fitted are the explanations whose size the claims themselves tell: hours of a zone, and
// another Delta T, of all the claims or of one eclipse's.
func fitted(odd, even []kept, j *judge) []explanation {
	out := zones(odd)
	out = append(out, deltaTs("", odd, j)...)
	if len(even) > 0 { // where some agree by rounding, those that do not are off by more than all are
		out = append(out, deltaTs("", slices.Concat(odd, even), j)...)
	}
	byDay := map[string][]kept{}
	for _, k := range odd {
		byDay[k.day] = append(byDay[k.day], k)
	}
	if len(byDay) < 2 {
		return out
	}
	days := slices.Sorted(maps.Keys(byDay))
	slices.SortStableFunc(days, func(a, b string) int { return len(byDay[b]) - len(byDay[a]) })
	const most = 6 // eclipses, those with the most claims; each costs some hundreds of predictions
	for _, day := range days[:min(len(days), most)] {
		out = append(out, deltaTs(day, byDay[day], j)...)
	}
	return out
}

// quarter is what zones are apart, s: whole, half and quarter hours are in use.
const quarter = 900

// zones are the differences from UTC, in quarters of an hour, that would mend the most
// instants.
func zones(odd []kept) (out []explanation) {
	const most, widest = 6, 15 * 3600 / quarter // zones run to 14 h
	votes := map[int]int{}
	for _, k := range odd {
		q := math.Round(k.diff / quarter)
		if k.value.kind == anInstant && q != 0 && math.Abs(q) <= widest && math.Abs(k.diff-q*quarter) <= k.tolerance+slack["s"] {
			votes[int(q)]++
		}
	}
	order := slices.SortedFunc(maps.Keys(votes), func(a, b int) int {
		return cmp.Or(cmp.Compare(votes[b], votes[a]), cmp.Compare(a, b))
	})
	for _, q := range order[:min(len(order), most)] {
		by := time.Duration(q) * quarter * time.Second
		out = append(out, explanation{fmt.Sprintf("instants are local time, %+g h from UTC", by.Hours()), 1, 0, false, func(c *claim, _ *judge) bool {
			c.value.at = c.value.at.Add(-by)
			return c.value.kind == anInstant
		}})
	}
	return out
}

// deltaTs are the changes of Delta T that take the lateness out of the instants: of the
// given day's, or of all where it is empty. One keeps the scale that a claim names; the
// other takes instants called UTC for UT too, where there are any.
func deltaTs(day string, from []kept, j *judge) (out []explanation) {
	var instants []kept
	called := false // UTC
	for _, k := range from {
		if k.value.kind == anInstant && !math.IsNaN(k.diff) {
			instants, called = append(instants, k), called || !k.ut
		}
	}
	if len(instants) == 0 {
		return nil
	}
	const enough = 80 // for a median
	some := thinned[kept]{most: enough}
	for _, k := range instants {
		some.add(k)
	}
	for _, asUT := range []bool{false, true}[:1+btoi(called)] {
		by := deltaTChange(some.kept, asUT, j)
		if !(math.Abs(by) > negligible(some.kept)) {
			continue
		}
		what := fmt.Sprintf("Delta T is %s by %s s than the one used here", [2]string{"larger", "smaller"}[btoi(by < 0)], secondsText(math.Abs(by)))
		if asUT {
			what = "instants called UTC are UT, and " + what
		}
		if day != "" {
			what += " for " + day
		}
		out = append(out, explanation{what, 1 + btoi(asUT), 1, true, func(c *claim, j *judge) bool {
			if day != "" && c.day != day || asUT && c.ut && c.value.kind == anInstant {
				return false
			}
			c.ut = c.ut || asUT
			return c.withDeltaT(by, j)
		}})
	}
	return out
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// secondsText writes a number of seconds with the digits that a fit is good for.
func secondsText(s float64) string {
	if s < 1 {
		return fmt.Sprintf("%.2f", s)
	}
	return fmt.Sprintf("%.1f", s)
}

// negligible is the change of Delta T, s, that claims cannot tell: it moves an instant by
// as much at most, and within the tolerance that is nothing.
func negligible(instants []kept) float64 {
	tolerances := make([]float64, len(instants))
	for i, k := range instants {
		tolerances[i] = k.tolerance
	}
	return middle(tolerances)
}

// lateness is by how much instants are late in the middle, s, when they are asked with more
// Delta T; NaN without any.
func lateness(instants []kept, more float64, asUT bool, j *judge) float64 {
	late := make([]float64, 0, len(instants))
	for _, k := range instants {
		c := k.claim
		c.ut = c.ut || asUT
		c.withDeltaT(more, j)
		if computed, _, _ := j.judge(&c); computed.kind == anInstant {
			late = append(late, difference(&c, computed))
		}
	}
	return middle(late)
}

// deltaTChange is the change of Delta T that takes the lateness out, s; NaN for none within
// five minutes. The turning Earth gives some of it back, so that it is found by secants.
func deltaTChange(instants []kept, asUT bool, j *judge) float64 {
	const most, steps, near = 300, 8, 0.003 // s
	was, late := 0.0, lateness(instants, 0, asUT, j)
	if math.Abs(late) < near {
		return 0
	}
	by := -late
	for range steps {
		if !(math.Abs(by) <= most) {
			return math.NaN()
		}
		now := lateness(instants, by, asUT, j)
		if math.Abs(now) < near {
			return by
		}
		next := by - now*(by-was)/(now-late)
		was, late, by = by, now, next
	}
	return math.NaN()
}

// withDeltaT asks the claim with another Delta T.
func (c *claim) withDeltaT(more float64, j *judge) bool {
	own := c.deltaT
	if !c.deltaTOf {
		day, err := time.Parse(time.DateOnly, c.day)
		if err != nil {
			return false
		}
		own = j.scale.DeltaT(j.scale.TT(day)).Seconds
	}
	c.deltaTOf, c.deltaT = true, own+more
	return true
}
