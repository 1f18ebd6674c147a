package shadow

import "math"

// zero finds where a function that has opposite signs at a and b is zero between:
// false position that halves the weight of an end that stays (the Illinois rule,
// M. Dowell & P. Jarratt, BIT 11 (1971) 168), with bisection where that is slow.
func zero(f func(float64) float64, a, b float64) float64 {
	fa, fb := f(a), f(b)
	for i := range 100 {
		m := b - fb*(b-a)/(fb-fa)
		if i%4 == 3 || !(m > min(a, b) && m < max(a, b)) {
			m = (a + b) / 2
		}
		fm := f(m)
		if fm == 0 || math.Abs(b-a) < fine {
			return m
		}
		if (fm > 0) != (fb > 0) {
			a, fa = b, fb
		} else {
			fa /= 2
		}
		step := math.Abs(m - b)
		if b, fb = m, fm; step < fine/10 {
			return m
		}
	}
	return b
}

// fine is where hours and radians are exact enough: 0.04 microseconds, and less
// than a millimetre on any edge.
const fine = 1e-11

// peak finds where a function with one maximum between a and b is greatest, by
// golden section, to about 1e-8 of the interval.
func peak(f func(float64) float64, a, b float64) float64 {
	golden := (math.Sqrt(5) - 1) / 2
	c, d := b-golden*(b-a), a+golden*(b-a)
	fc, fd := f(c), f(d)
	for range 40 {
		if fc > fd {
			b, d, fd = d, c, fc
			c = b - golden*(b-a)
			fc = f(c)
		} else {
			a, c, fc = c, d, fd
			d = a + golden*(b-a)
			fd = f(d)
		}
	}
	return (a + b) / 2
}
