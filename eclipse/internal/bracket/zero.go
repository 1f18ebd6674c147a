package bracket

import "math"

// Zero finds where a function that has opposite signs at a and b, with values fa
// and fb, is zero between: false position that halves the weight of an end that stays
// (the Illinois rule, M. Dowell & P. Jarratt, BIT 11 (1971) 168), with bisection
// where that is slow. It stops where the argument, in its own unit, is known to
// enough.
func Zero(f func(float64) float64, a, b, fa, fb, enough float64) float64 {
	for i := range 100 {
		m := b - fb*(b-a)/(fb-fa)
		if i%4 == 3 || !(m > min(a, b) && m < max(a, b)) {
			m = (a + b) / 2
		}
		fm := f(m)
		if fm == 0 || math.Abs(b-a) < enough {
			return m
		}
		if (fm > 0) != (fb > 0) {
			a, fa = b, fb
		} else {
			fa /= 2
		}
		step := math.Abs(m - b)
		if b, fb = m, fm; step < enough/10 {
			return m
		}
	}
	return b
}
