package disc

import "math"

// Overlap returns the part of the source's area that an occulter covers, in
// [0, 1]: p is the occulter's radius and z the distance between the centres, both
// in radii of the source. Negative or NaN arguments give NaN.
//
// The area of the lens is written with the kite spanned by the two centres and
// the two points where the edges cross, in the order of operations that keeps
// its digits (Agol, Luger & Foreman-Mackey, AJ 159 (2020) 123, section 3).
func Overlap(p, z float64) float64 {
	switch {
	case !(p >= 0) || !(z >= 0):
		return math.NaN()
	case z >= 1+p:
		return 0
	case z <= p-1:
		return 1
	case z <= 1-p:
		return p * p
	}
	k := kite(1, p, z)
	p2, z2 := (p-1)*(p+1), z*z
	area := math.Atan2(k, z2-p2) + p*p*math.Atan2(k, z2+p2) - k/2
	return math.Max(0, math.Min(1, area/math.Pi))
}

// kite is four times the area of the triangle with these sides, by Heron's
// formula in Kahan's order.
func kite(a, b, c float64) float64 {
	if a < b {
		a, b = b, a
	}
	if b < c {
		b, c = c, b
	}
	if a < b {
		a, b = b, a
	}
	s := (a + (b + c)) * (c - (a - b)) * (c + (a - b)) * (a + (b - c))
	return math.Sqrt(math.Max(0, s))
}
