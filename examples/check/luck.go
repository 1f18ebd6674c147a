package main

import (
	"cmp"
	"maps"
	"math"
	"slices"
)

// unlikely is the chance of luck at which an explanation counts as found (common practice,
// no source).
const unlikely = 0.05

// chance is that of a claim to agree by luck once it is moved by so much: it might be off by
// anything up to twice the move, either way.
func chance(moved, tolerance float64) float64 {
	return math.Min(0.5, tolerance/(2*math.Abs(moved)))
}

// beyondLuck says that so many claims do not agree by luck, under one of so many trials with
// so many free numbers.
//
// Claims of one site, eclipse and unit may be off together, as by a clock, so that they are
// no witnesses for each other: what they are moved by in the middle counts once, and each
// by how far its own move is from that. A free number takes one such middle away.
func beyondLuck(touched []outcome, free, trials int) bool {
	mended := 0
	together := map[string][]outcome{}
	for _, o := range touched {
		if o.mends() {
			mended++
			together[o.together] = append(together[o.together], o)
		}
	}
	luck := math.Log(float64(trials)) + logChoose(len(touched), mended)
	var middles []float64
	for _, key := range slices.Sorted(maps.Keys(together)) { // sums round alike in one order
		middle, apart := chances(together[key])
		luck += apart
		middles = append(middles, middle)
	}
	slices.Sort(middles)
	for _, m := range middles[min(free, len(middles)):] {
		luck += m
	}
	return luck < math.Log(unlikely)
}

// chances are the logarithms of those of claims that may be off together: of their middle,
// and of what they are moved by apart from it.
func chances(together []outcome) (middle, apart float64) {
	slices.SortFunc(together, func(a, b outcome) int { return cmp.Compare(a.change, b.change) })
	m := together[len(together)/2]
	for i, o := range together {
		if i != len(together)/2 {
			apart += math.Log(chance(o.change-m.change, o.tolerance))
		}
	}
	const least = 1e-12 // a claim without tolerance is no proof
	return math.Log(math.Max(least, chance(m.change, m.tolerance))), math.Max(float64(len(together))*math.Log(least), apart)
}

// logChoose is the logarithm of the number of ways to choose k of n.
func logChoose(n, k int) float64 {
	of := func(n int) float64 { v, _ := math.Lgamma(float64(n + 1)); return v }
	return of(n) - of(k) - of(n-k)
}

// loose takes the claims that it mends for a group of their own, where luck would mend far
// fewer: five standard deviations and three above. Claims that may be off together count as
// one.
func (s *search) loose(e explanation, odd []outcome) (cause, bool) {
	c := cause{explanation: e, part: scattered, touched: len(odd)}
	byLuck, really := map[string]float64{}, map[string]bool{}
	for _, o := range odd {
		byLuck[o.together] = math.Max(byLuck[o.together], chance(o.change, o.tolerance))
		if o.mends() {
			c.mended++
			c.outcomes = append(c.outcomes, o)
			really[o.together] = true
		}
	}
	luck := 0.0
	for _, key := range slices.Sorted(maps.Keys(byLuck)) {
		luck += byLuck[key]
	}
	c.gain = float64(c.mended) * s.odd
	return c, float64(len(really)) > luck+5*math.Sqrt(luck)+3 && luck < 0.1*float64(len(byLuck))
}
