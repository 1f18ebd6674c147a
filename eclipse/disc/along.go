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

// along is the mean over t of what remains in Law.odd,
//
//	(f1 + f1 M + f2 M^2 + f3 M^3 + f4 M^4 + flash/(pole + V))/V
//
// by a symmetric rule, given the first half of its nodes as sin^2 t. The two of a
// pair share one division.
func along(half []float64, base, rise, first, pole, f1, f2, f3, f4, flash float64) float64 {
	var sum float64
	for _, sin2 := range half {
		x, y := rise*sin2, rise*(1-sin2)
		v, w := math.Sqrt(base+x), math.Sqrt(base+y)
		x += first
		y += first
		dv, dw := pole+v, pole+w
		nv := (f1+x*(f1+x*(f2+x*(f3+x*f4))))*dv + flash
		nw := (f1+y*(f1+y*(f2+y*(f3+y*f4))))*dw + flash
		dv *= v
		dw *= w
		sum += (nv*dw + nw*dv) / (dv * dw)
	}
	return sum / float64(2*len(half))
}

// alongLadder is along where V comes near zero.
func alongLadder(base, rise, first, pole, f1, f2, f3, f4, flash float64) float64 {
	base = max(base, tangent*rise)
	lad := climb(base, rise)
	rule := lad.rule()
	var sum float64
	for _, sin2 := range rule {
		sin2, weight := lad.at(sin2)
		m := first + rise*sin2
		v := math.Sqrt(base + rise*sin2)
		sum += weight * (f1 + m*(f1+m*(f2+m*(f3+m*f4))) + flash/(pole+v))
	}
	return sum / float64(len(rule))
}
