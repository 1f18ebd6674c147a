package fit

import (
	"context"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun"
)

// Cloud that takes half of the light for a quarter of an hour makes those minutes rough, and
// no others; in the dark of totality the worse of both sides counts; a plain day stays as it is.
func TestVeilMakesRough(t *testing.T) {
	_, l := realLight(t, time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 36.3, Lon: -5.6})
	p, shift, err := l.near(context.Background(), hazy(l, 0.001, 60, 1), 0)
	require.NoError(t, err)
	p.deviance(shift)
	dark := func(k int) bool { return !p.bright(k) }
	if !slices.ContainsFunc(indices(len(p.t)), dark) {
		t.Fatal("no reading of totality")
	}
	for _, tt := range []struct {
		name     string
		from, to float64 // s from maximum
		dark     bool    // as well
	}{
		{"half an hour before", -2700, -1800, false},
		{"into totality", -900, 0, true},
		{"over totality", -450, 450, true},
	} {
		under := func(k int) bool { at := p.t[k] - shift; return at >= tt.from && at <= tt.to }
		p.deviance(shift)
		lost := math.Ln2 * p.exponent()
		residual := make([]float64, len(p.t))
		for k := range residual {
			if under(k) {
				residual[k] = -lost
			}
		}
		clear(p.rough)
		most := p.veil(residual)
		if want := math.Ln2 - cloudyEdge; !(math.Abs(most-want) <= 1e-9) {
			t.Errorf("%s: %g of the light lost, as a logarithm, beyond haze; want %g", tt.name, most, want)
		}
		speed := veilWander * most * most * p.exponent() * p.exponent()
		for k, r := range p.rough {
			want := 0.0
			if p.bright(k) && under(k) || dark(k) && tt.dark {
				want = speed
			}
			if !(math.Abs(r-want) <= 1e-9) {
				t.Errorf("%s: %+.0f s from maximum, bright %v: %g, want %g", tt.name, p.t[k]-shift, p.bright(k), r, want)
			}
		}
		p.eclipsed(false)
		clear(p.rough)
		if most := p.veil(residual); most != 0 || slices.Max(p.rough) != 0 {
			t.Errorf("%s, on a plain day: %g", tt.name, most)
		}
		p.eclipsed(true)
	}
}

func indices(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// The course of the surroundings does not go by the readings beside the contacts, however many
// they are.
func TestUpperCourseIsOfTheSurroundings(t *testing.T) {
	_, l := realLight(t, time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 36.3, Lon: -5.6})
	p, shift, err := l.near(context.Background(), hazy(l, 0.001, 60, 1), 0)
	require.NoError(t, err)
	p.deviance(shift)
	residual := make([]float64, len(p.t))
	beside := 0
	for k, at := range p.t {
		if math.Abs(at-shift) < l.c3+fine.sharp {
			residual[k] = 0.5
			beside++
		}
	}
	if beside < 20 {
		t.Fatalf("%d readings beside the contacts", beside)
	}
	for k, base := range p.upperCourse(residual) {
		if base > 0.1 {
			t.Errorf("%+.0f s from maximum: %.2f", p.t[k]-shift, base)
		}
	}
}

// A clock that is wrong by minutes asks for more evidence, and so does a sky that bends; one
// that does not, or an eclipse under as much cloud, asks for no more than before.
func TestDemanded(t *testing.T) {
	for _, tt := range []struct{ offset, cloud, bend, want float64 }{
		{0, 0, 0, 12}, {0, 0, 0.09, 12}, {300, 0, 0, 24}, {-600, 0, 0, 60}, {0, 0, 0.18, 12 * 16}, {3600, 0, 0.18, 60 * 16},
		{0, 0.5, 0, 12 * 5.75}, {0, 0.5, 0.09, 12 * 5.75}, {0, 0.5, 0.18, 12 * 16},
	} {
		if got := demanded(tt.offset, tt.cloud, 1, tt.bend); !(math.Abs(got-tt.want) <= 1e-9*tt.want) {
			t.Errorf("%+v: %g", tt, got)
		}
	}
}
