package main

import (
	"cmp"
	"slices"
)

// sampled bounds the claims of either kind, those that agree and those that do not, on
// which explanations are tried: what a whole table has in common shows in these.
const sampled = 400

// A kept claim has been answered.
type kept struct {
	claim
	result
}

// A sample keeps claims to try explanations on.
type sample struct{ odd, even thinned[kept] }

func newSample() *sample { return &sample{thinned[kept]{most: sampled}, thinned[kept]{most: sampled}} }

func (s *sample) add(f *finding) {
	k := kept{f.claim, result{f.diff, f.verdict}.honest(f.computed)}
	switch f.verdict {
	case badClaim:
	case agrees:
		s.even.add(k)
	default:
		s.odd.add(k)
	}
}

// An account is what was found by trying.
type account struct {
	causes []cause
	tried  int // claims that do not agree, on which explanations were tried
	of     int // that there are
	left   int // of the tried that nothing explains
}

// mostCauses bounds the answer: who makes more mistakes than that needs no list of them.
const mostCauses = 8

// pairsOn bounds the claims on which two mistakes at once are looked for.
const pairsOn = 60

// explain looks for explanations, the best first, then again among what that left. Where
// no single one is left, two at once are tried.
func (s *sample) explain(j *judge) account {
	left := slices.Clone(s.odd.kept)
	a := account{tried: len(left), of: s.odd.seen}
	search := search{judge: j, even: s.even.kept, odd: s.odd.each(), agreed: s.even.each()}
	for _, p := range parts {
		names := map[string]bool{}
		for _, k := range slices.Concat(s.odd.kept, s.even.kept) {
			names[p.of(&k.claim)] = true
		}
		search.groups = append(search.groups, len(names))
	}
	for len(left) > 0 && len(a.causes) < mostCauses {
		all := append(fitted(left, s.even.kept, j), explanations...)
		best, ok := search.best(left, all, len(all))
		if !ok {
			all, tried := search.pairs(left)
			best, ok = search.best(left, all, tried)
		}
		if !ok {
			break
		}
		a.causes = append(a.causes, best)
		left, search.later = best.rest(left), true
	}
	a.left = len(left)
	return a
}

// A search tries explanations on claims.
type search struct {
	judge       *judge
	even        []kept
	odd, agreed float64 // claims that each of those that do not agree, and do, stands for
	groups      []int   // of each of parts
	later       bool    // something was found before
}

// asGood is the part of the best one's gain with which a simpler explanation wins: by
// chance a fitted number mends a claim in twenty more than it should (our own choice, no
// source).
const asGood = 0.95

// best is the explanation that gains most; a simpler one where it gains as much. tried is
// how many there were, those that were left out because they mend nothing among them.
func (s *search) best(left []kept, all []explanation, tried int) (best cause, ok bool) {
	var found []cause
	for _, e := range all {
		if c, ok := s.try(e, left, tried); ok {
			found = append(found, c)
		}
	}
	if len(found) == 0 {
		return cause{}, false
	}
	most := slices.MaxFunc(found, func(a, b cause) int { return cmp.Compare(a.gain, b.gain) }).gain
	found = slices.DeleteFunc(found, func(c cause) bool { return c.gain < asGood*most })
	return slices.MinFunc(found, func(a, b cause) int { // the first of equals
		return cmp.Or(cmp.Compare(a.fitted, b.fitted), cmp.Compare(a.part, b.part), cmp.Compare(b.gain, a.gain))
	}), true
}

// pairs are two explanations at once of the same claims: each of the known ones, with
// another of them or with a size that is fitted after it. Of all that were tried it returns
// those that mend something.
func (s *search) pairs(left []kept) (out []explanation, tried int) {
	few := thinned[kept]{most: pairsOn}
	for _, k := range left {
		few.add(k)
	}
	for i, a := range explanations {
		var moved []kept
		for _, k := range few.kept {
			if c := k.claim; a.put(&c, s.judge) {
				moved = append(moved, kept{c, s.judge.result(&c)})
			}
		}
		if len(moved) == 0 {
			continue
		}
		for _, b := range append(fitted(moved, nil, s.judge), explanations[i+1:]...) {
			pair := both(a, b)
			tried++
			if slices.ContainsFunc(few.kept, func(k kept) bool {
				c := k.claim
				return pair.put(&c, s.judge) && s.judge.result(&c).verdict == agrees
			}) {
				out = append(out, pair)
			}
		}
	}
	return out, tried
}
