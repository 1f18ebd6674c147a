package look

import (
	"image/color"
	"math"
	"testing"
)

// The inks for data, and the paper, are told apart without colour.
func TestGreysDiffer(t *testing.T) {
	const least = 2.2 // as the package comment states
	inks := []color.RGBA{Black, Blue, Orange, Paper}
	for i, a := range inks {
		for _, b := range inks[i+1:] {
			if c := Contrast(a, b); !(c >= least) {
				t.Errorf("%v and %v differ by %.2f, want %.1f", a, b, c, least)
			}
		}
	}
}

func TestContrast(t *testing.T) {
	for _, tt := range []struct {
		a, b      color.RGBA
		want, tol float64
		source    string
	}{
		{Black, Paper, 21, 1e-9, "WCAG 2.2, the range of the ratio"},
		{Paper, Paper, 1, 1e-12, "WCAG 2.2, the range of the ratio"},
		{Grey, Paper, 4.48, 0.005, "common knowledge of #777 on white, just short of 4.5; from memory"},
	} {
		if got := Contrast(tt.a, tt.b); !(math.Abs(got-tt.want) <= tt.tol) {
			t.Errorf("%v on %v: %.4f, want %g ± %g (%s)", tt.a, tt.b, got, tt.want, tt.tol, tt.source)
		}
	}
}
