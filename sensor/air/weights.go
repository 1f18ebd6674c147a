package air

import "math"

// weights returns E = exp(-x), F = (1-E)/x and dF/dx for x > 0. Below 1e-4 dF/dx
// is its series, for there the difference of E and F has lost its digits.
func weights(x float64) (e, f, df float64) {
	e = math.Exp(-x)
	f = -math.Expm1(-x) / x
	if x < 1e-4 {
		return e, f, -0.5 + x/3 - x*x/8
	}
	return e, f, (e - f) / x
}

// sqrt0 is the root of a variance that rounding may have left a hair under zero.
func sqrt0(v float64) float64 { return math.Sqrt(math.Max(0, v)) }
