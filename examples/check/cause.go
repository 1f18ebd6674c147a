package main

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
)

// A result is what came of a claim.
type result struct {
	diff    float64 // claimed minus computed; NaN where nothing was computed
	verdict verdict
}

// honest leaves no difference where there is nothing to differ from.
func (a result) honest(computed figure) result {
	if computed.kind == nothing {
		a.diff = math.NaN()
	}
	return a
}

func (j *judge) result(c *claim) result {
	computed, v, _ := j.judge(c)
	a := result{math.NaN(), v}
	if computed.kind != nothing {
		a.diff = difference(c, computed)
	}
	return a
}

// An outcome is what an explanation does to a claim.
type outcome struct {
	of                int // its place among the claims
	unit              string
	together          string // what it shares with others that one cause may move alike: site, eclipse and unit
	before, after     result
	change, tolerance float64
}

// widest is what a difference may be where there was none to begin with, by unit: an hour,
// a circle, a whole Sun. It is what luck is measured against.
var widest = map[string]float64{"s": 3600, "deg": 360, "1": 1}

// outcomes puts the claims and answers them anew; those that it leaves as they were are not
// among them.
func (j *judge) outcomes(e explanation, claims []kept) (out []outcome) {
	for i := range claims {
		k := &claims[i]
		c := k.claim
		if !e.put(&c, j) {
			continue
		}
		after := j.result(&c)
		change := after.diff - k.diff
		if math.IsNaN(change) {
			change = widest[c.quantity.unit]
		}
		if after.verdict == k.verdict && (after.verdict != differs && after.verdict != agrees || !(math.Abs(change) > c.tolerance/2)) {
			continue // less than the claim can tell
		}
		u := c.quantity.unit
		out = append(out, outcome{i, u, parts[siteOf].of(&k.claim) + k.day + u, k.result, after, change, c.tolerance})
	}
	return out
}

// A cause is an explanation and the claims that it explains.
type cause struct {
	explanation
	part            int      // of parts
	where           []string // the groups; empty for all
	groups          int      // that there are in the whole sample
	left            bool     // it is of what earlier causes left
	touched, mended int      // claims that do not agree, and those of them that do under it
	agreed, spoiled int      // those that agree and that it is about, and those of them that do not under it
	gain            float64  // claims mended less claims spoiled, in the whole file
	outcomes        []outcome
}

// parts are what claims may have in common.
var parts = []struct {
	name, names string
	of          func(c *claim) string
}{
	{"", "", func(*claim) string { return "" }},
	{"eclipse", "eclipses", func(c *claim) string { return c.day }},
	{"quantity", "quantities", func(c *claim) string { return c.quantity.name }},
	{"site", "sites", func(c *claim) string { return fmt.Sprintf("%.6g,%.6g", c.site.Lat, c.site.Lon) }},
}

// quantityOf and siteOf are places in parts; scattered stands for claims that have none of them in
// common.
const quantityOf, siteOf, scattered = 2, 3, 4

// try tries an explanation on all claims, then by what they may have in common; a finer
// part must gain more than a coarser one. trials is how many explanations are tried.
func (s *search) try(e explanation, left []kept, trials int) (best cause, ok bool) {
	odd := s.judge.outcomes(e, left)
	if !slices.ContainsFunc(odd, outcome.mends) {
		return cause{}, false
	}
	even := s.judge.outcomes(e, s.even)
	for part := range parts {
		if e.whole && part == quantityOf {
			continue
		}
		if c, found := s.split(e, part, odd, even, left, trials); found && (!ok || c.gain*asGood > best.gain) {
			best, ok = c, true
		}
	}
	if ok && len(best.where) == 0 {
		return best, ok
	}
	if c, found := s.loose(e, odd); found && (!ok || c.gain*0.8 > best.gain) { // luck adds a few to these
		best, ok = c, true
	}
	return best, ok
}

func (o outcome) mends() bool  { return o.after.verdict == agrees }
func (o outcome) spoils() bool { return o.after.verdict != agrees }

// split keeps the groups of a part that the explanation holds for.
func (s *search) split(e explanation, part int, odd, even []outcome, left []kept, trials int) (cause, bool) {
	type group struct{ odd, even []outcome }
	groups := map[string]*group{}
	of := func(k *kept) *group {
		key := parts[part].of(&k.claim)
		if groups[key] == nil {
			groups[key] = new(group)
		}
		return groups[key]
	}
	for i := range left {
		of(&left[i])
	}
	for _, o := range odd {
		g := of(&left[o.of])
		g.odd = append(g.odd, o)
	}
	for _, o := range even {
		g := of(&s.even[o.of])
		g.even = append(g.even, o)
	}
	c, asked := cause{explanation: e, part: part, groups: s.groups[part], left: s.later}, 0
	for _, g := range groups {
		asked += btoi(len(g.odd) > 0)
	}
	for _, key := range slices.Sorted(maps.Keys(groups)) {
		g := groups[key]
		mended, spoiled := count(g.odd, outcome.mends), count(g.even, outcome.spoils)
		gain := float64(mended)*s.odd - float64(spoiled)*s.agreed
		if mended == 0 || 3*mended < 2*len(g.odd) || !(gain > 0) || !beyondLuck(g.odd, e.free, trials*asked) {
			continue
		}
		if part > 0 {
			c.where = append(c.where, key)
		}
		c.touched, c.mended = c.touched+len(g.odd), c.mended+mended
		c.agreed, c.spoiled = c.agreed+len(g.even), c.spoiled+spoiled
		c.gain += gain
		c.outcomes = append(c.outcomes, g.odd...)
	}
	return c, c.mended > 0
}

func count(all []outcome, is func(outcome) bool) (n int) {
	for _, o := range all {
		n += btoi(is(o))
	}
	return n
}

// rest are the claims without those that are mended.
func (c *cause) rest(left []kept) (out []kept) {
	mended := map[int]bool{}
	for _, o := range c.outcomes {
		mended[o.of] = mended[o.of] || o.mends()
	}
	for i, k := range left {
		if !mended[i] {
			out = append(out, k)
		}
	}
	return out
}

// A change is what a cause does to the differences of one unit.
type change struct {
	unit          string
	n             int
	before, after [2]float64 // median and scatter
	none          int        // had nothing to differ from before
}

// changes are by unit, of the claims that the cause is about.
func (c *cause) changes() (out []change) {
	by := map[string][]outcome{}
	for _, o := range c.outcomes {
		by[o.unit] = append(by[o.unit], o)
	}
	for _, unit := range slices.SortedFunc(maps.Keys(by), func(a, b string) int {
		return cmp.Or(cmp.Compare(len(by[b]), len(by[a])), cmp.Compare(a, b))
	}) {
		ch := change{unit: unit, n: len(by[unit])}
		var before, after []float64
		for _, o := range by[unit] {
			ch.none += btoi(math.IsNaN(o.before.diff))
			before, after = append(before, o.before.diff), append(after, o.after.diff)
		}
		ch.before = [2]float64{middle(before), scatter(before)}
		ch.after = [2]float64{middle(after), scatter(after)}
		out = append(out, ch)
	}
	return out
}
