package disc

import "math"

// Overlap returns the part of the source's area that an occulter covers, in
// [0, 1]: p is the occulter's radius and z the distance between the centres, both
// in radii of the source. Negative or NaN arguments give NaN.
//
// The result is good to 1e-12 at any radius and separation. Two infinite arguments
// give NaN.
func Overlap(p, z float64) float64 {
	if !(p >= 0 && z >= 0) {
		return math.NaN()
	}
	e := place(p, z)
	switch {
	case e.exterior <= 0:
		return 0
	case e.totality <= 0:
		return 1
	case e.exterior != e.exterior: // both infinite
		return math.NaN()
	}
	return e.overlap()
}

// overlap is the covered part of the source where neither all nor nothing is:
// one segment of each disc on either side of the chord that joins the crossings.
func (e *pair) overlap() float64 {
	if e.annular <= 0 {
		return e.p * e.p
	}
	arc, limb, _ := e.angles()
	return (segment(limb) + e.p*e.p*segment(arc)) / math.Pi
}

// segment is the area between chord and arc of half-angle a on the unit circle.
// For small ones the difference is written as its series, whose first term left
// out is below 1e-16 of it.
func segment(a float64) float64 {
	if a > 0.25 {
		s, c := math.Sincos(a)
		return a - s*c
	}
	x := 4 * a * a // a - sin(2a)/2 = (2a)^3/12 (1 - x/20 (1 - x/42 (1 - x/72 ...)))
	return 2. / 3 * a * a * a * (1 - x/20*(1-x/42*(1-x/72*(1-x/110*(1-x/156*(1-x/210))))))
}
