package bracket

import (
	"math"
	"testing"
)

// Zeros that are known, steep and flat, from either side.
func TestZero(t *testing.T) {
	for _, tt := range []struct {
		name string
		f    func(float64) float64
		a, b float64
		want float64
	}{
		{"line", func(x float64) float64 { return x - 0.3 }, -1, 1, 0.3},
		{"cosine", math.Cos, 0, 3, math.Pi / 2},
		{"root, backwards", func(x float64) float64 { return x*x - 2 }, 2, 0, math.Sqrt2},
		{"flat", func(x float64) float64 { return math.Pow(x-0.1, 3) }, -1, 1, 0.1},
		{"steep", func(x float64) float64 { return math.Atan(1e6 * (x - 0.7)) }, 0, 1, 0.7},
	} {
		tol := 1e-9
		if tt.name == "flat" {
			tol = 1e-5 // a triple zero is not told better by doubles that small
		}
		if got := Zero(tt.f, tt.a, tt.b, tt.f(tt.a), tt.f(tt.b), 1e-11); !(math.Abs(got-tt.want) <= tol) {
			t.Errorf("%s: %.12g, want %.12g", tt.name, got, tt.want)
		}
	}
}
