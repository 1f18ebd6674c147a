package main

import "math"

// A residual is a difference and what it was allowed, in the quantity's unit.
type residual struct{ diff, tolerance float64 }

// A spread gathers the differences of one quantity.
type spread struct {
	q         *quantity
	n, agree  int
	residuals thinned[residual]
	worst     float64 // the largest difference, with its sign
	worstID   string  // whose it is
}

// measured bounds the differences of a quantity whose median is taken.
const measured = 2000

func (s *spread) add(f *finding) {
	if s.q == nil {
		s.q, s.residuals.most = f.claim.quantity, measured
	}
	s.n++
	s.agree += btoi(f.verdict == agrees)
	s.residuals.add(residual{f.diff, f.claim.tolerance})
	if s.n == 1 || math.Abs(f.diff) > math.Abs(s.worst) {
		s.worst, s.worstID = f.diff, f.label()
	}
}

// sizes are the median and the scatter of the differences, and the median of what they
// were allowed.
func (s *spread) sizes() (median, spread, allowed float64) {
	var diffs, tolerances []float64
	for _, r := range s.residuals.kept {
		diffs, tolerances = append(diffs, r.diff), append(tolerances, r.tolerance)
	}
	return middle(diffs), scatter(diffs), middle(tolerances)
}

// mostly is the part of the claims that agree above which the others are strays, and partly
// that above which they are a group (our own choice, no source).
const mostly, partly = 0.8, 0.5

// pattern says in a few words what differences of such a size and pattern usually come
// from. It is what to look at first, and no finding: the explanations are tried for that.
func (s *spread) pattern() string {
	m, sc, allowed := s.sizes()
	switch {
	case s.agree == s.n:
		return "agree"
	case float64(s.agree) >= mostly*float64(s.n):
		return "strays: slips in single rows"
	case float64(s.agree) >= partly*float64(s.n) && math.Abs(s.worst) > 10*allowed:
		return "a part far off: a mistake at some sites, or slips"
	case math.Abs(m) > 2*sc && math.Abs(m) > allowed:
		return "off alike: " + s.alike(math.Abs(m), allowed)
	case sc <= 3*allowed:
		return "scattered a little: rounding, or coarse coordinates"
	}
	return "scattered: signs or order of coordinates, or several mistakes"
}

// alike are the usual reasons for a common difference of this size.
func (s *spread) alike(size, allowed float64) string {
	for _, r := range reasons {
		if r.unit == s.q.unit && r.kind == s.q.kind && r.fits(size, allowed) {
			return r.word
		}
	}
	return "another place or day"
}

func below(limit float64) func(size, allowed float64) bool {
	return func(size, _ float64) bool { return size < limit }
}

// reasons are tried in this order.
var reasons = []struct {
	unit string
	kind figureKind
	fits func(size, allowed float64) bool
	word string
}{
	{"s", anInstant, func(size, allowed float64) bool {
		return size > quarter/2 && math.Abs(math.Remainder(size, quarter)) <= math.Max(allowed, 1)
	}, "local time"},
	// UTC is kept within 0.9 s of UT1 (Recommendation ITU-R TF.460-6).
	{"s", anInstant, below(0.9), "UT for UTC, or another lunar radius"},
	{"s", anInstant, below(10), "another Delta T, lunar radius or kind of maximum"},
	{"s", anInstant, below(300), "another Delta T, or a minute misread"}, // as far as one is looked for
	{"s", aNumber, below(10), "another lunar radius, or the Moon's mountains"},
	{"deg", aNumber, func(size, _ float64) bool { return math.Abs(size-180) < 2 }, "reckoned from the opposite side"},
	{"deg", aNumber, below(1), "refraction, or another Delta T"}, // refraction is 0.6 deg at most
	// A limb of one thousandth of the Sun's diameter is what the radii in use differ by.
	{"1", aNumber, below(0.002), "another lunar radius"},
	{"1", aNumber, below(1), "magnitude, obscuration or ratio for each other"},
}
