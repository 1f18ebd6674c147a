package disc

import "math"

// The occulter's edge on the source is followed from the limb to its middle, t
// from 0 to pi/2. Along it M = mu^2 and V^2 are linear in sin^2 t,
//
//	crossing  M = T sin^2 t, T = 1 - (p-z)^2      V^2 = (z+p)^2 - 1 + M
//	inside    M = 1 - (z+p)^2 + 4 p z sin^2 t     V^2 = M
//
// mu dt/V is half the step in the angle at the occulter's centre, and V = pole
// where M = 1, on the way through the source's centre. The arguments that recur:
//
//	V^2 = base + rise sin^2 t,  M = first + rise sin^2 t

// along is the mean over t of what remains in Law.odd. With r for the flash's
// strength over pole that is
//
//	(f1 + f1 M + f2 M^2 + f3 M^3 + f4 M^4 + r/(pole + V))/V,  f1 = -r pole
//
// whose constant terms are taken together, r times
//
//	1/(pole + V) - pole = -(base - first + pole V)/(pole + V)
//
// since f1 and r/pole would else cancel to the last digit where V is small all
// along, as it is between discs of nearly the same size and place. The rule is
// symmetric and given by the first half of its nodes as sin^2 t; the two of a pair
// share one division.
func along(half []float64, base, rise, first, pole, f1, f2, f3, f4, r float64) float64 {
	rest := r * (base - first)
	r *= pole
	var sum float64
	for _, sin2 := range half {
		x, y := rise*sin2, rise*(1-sin2)
		v, w := math.Sqrt(base+x), math.Sqrt(base+y)
		x += first
		y += first
		dv, dw := pole+v, pole+w
		nv := x*(f1+x*(f2+x*(f3+x*f4)))*dv - (rest + r*v)
		nw := y*(f1+y*(f2+y*(f3+y*f4)))*dw - (rest + r*w)
		dv *= v
		dw *= w
		sum += (nv*dw + nw*dv) / (dv * dw)
	}
	return sum / float64(2*len(half))
}

// alongLadder is along where V comes near zero.
func alongLadder(base, rise, first, pole, f1, f2, f3, f4, r float64) float64 {
	rest := r * (base - first)
	r *= pole
	base = max(base, tangent*rise)
	lad := climb(base, rise)
	rule := lad.rule()
	var sum float64
	for _, sin2 := range rule {
		sin2, weight := lad.at(sin2)
		m := first + rise*sin2
		v := math.Sqrt(base + rise*sin2)
		sum += weight * (m*(f1+m*(f2+m*(f3+m*f4))) - (rest+r*v)/(pole+v))
	}
	return sum / float64(len(rule))
}
