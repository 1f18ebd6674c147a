package disc

import "math"

// Overlap returns the part of the source's area that an occulter covers, in
// [0, 1]: p is the occulter's radius and z the distance between the centres, both
// in radii of the source. Negative or NaN arguments, and two infinite ones,
// give NaN. The error is below 1e-14 at any radius and separation.
func Overlap(p, z float64) float64 {
	annular, exterior, totality := sides(p, z)
	switch lie(p, z, annular, exterior, totality) {
	case crossing:
		return overlap(p, z, annular, exterior, totality)
	case inside:
		return p * p
	case covered:
		return 1
	case apart:
		return 0
	}
	return math.NaN()
}

// overlap is the covered part where the edges cross: a sector of each disc less
// the kite between the centres and the crossings (K. Mandel & E. Agol, ApJ 580
// (2002) L171, equation 1). A large occulter's sector nearly equals its part of
// the kite, and there the two segments are added instead.
func overlap(p, z, annular, exterior, totality float64) float64 {
	if p > 8 {
		return overlapLarge(p, z, annular, exterior, totality)
	}
	arc, limb, kite := angles((1+p+z)*annular, exterior*totality, annular*exterior)
	area := limb + p*p*arc - kite/2
	return max(0, min(1, area*(1/math.Pi)))
}

func overlapLarge(p, z, annular, exterior, totality float64) float64 {
	if p > hugeRadius {
		p, z, annular = hugeRadius, hugeRadius, 2*hugeRadius
	}
	arc, limb, _ := angles((1+p+z)*annular, exterior*totality, annular*exterior)
	area := segment(limb) + p*p*segment(arc)
	return max(0, min(1, area*(1/math.Pi)))
}

// segment is the area between chord and arc of half-angle a on the unit circle,
// a - sin 2a / 2; for small ones by its series, whose first term left out is
// below 1e-16 of it.
func segment(a float64) float64 {
	if a > 0.25 {
		s, c := math.Sincos(a)
		return a - s*c
	}
	x := 4 * a * a
	return 2. / 3 * a * a * a * (1 - x/20*(1-x/42*(1-x/72*(1-x/110*(1-x/156*(1-x/210))))))
}
