package fit

import (
	"math"
	"testing"
)

// The lowest points are known from the formulas.
func TestNarrow(t *testing.T) {
	for name, tt := range map[string]struct {
		of           func(float64) float64
		lo, from, hi float64
		want         float64
		most         int // calls
	}{
		"parabola":        {func(x float64) float64 { return (x - 0.3) * (x - 0.3) }, -1, 0, 1, 0.3, 8},
		"flat bottom":     {func(x float64) float64 { return math.Pow(x+0.2, 4) }, -1, 0, 1, -0.2, 40},
		"edge":            {func(x float64) float64 { return math.Abs(x - 0.4) }, -1, 0, 1, 0.4, 40},
		"steep one side":  {func(x float64) float64 { return math.Exp(4*x) - 4*x }, -2, 0.5, 2, 0, 20},
		"at the interval": {func(x float64) float64 { return -x }, -1, 0, 1, 1, 40},
	} {
		const tol = 1e-3
		calls := 0
		of := func(x float64) float64 { calls++; return tt.of(x) }
		at, least := narrow(of, tt.lo, tt.from, tt.hi, tt.of(tt.from), tol)
		near := 3 * tol
		if name == "flat bottom" {
			near = 0.05 // (1e-3)^4 is no difference
		}
		if !(math.Abs(at-tt.want) <= near) || least != tt.of(at) || calls > tt.most {
			t.Errorf("%s: %g (%g) after %d calls, want %g within %d", name, at, least, calls, tt.want, tt.most)
		}
	}
}
