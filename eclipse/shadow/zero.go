package shadow

import (
	"math"

	"example.org/noonfall/eclipse/internal/bracket"
)

// zero finds where a function that has opposite signs at a and b is zero between.
func zero(f func(float64) float64, a, b float64) float64 {
	return bracket.Zero(f, a, b, f(a), f(b), fine)
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
