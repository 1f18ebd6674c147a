package sun

import (
	"math"
	"testing"

	chapter22 "github.com/soniakeys/meeus/v3/nutation"
	"pgregory.net/rapid"

	"example.org/noonfall/sun/timescale"
)

// Examples 22.a and 12.a of J. Meeus, Astronomical Algorithms, 2nd ed., pp. 148
// and 88: 1987 April 10, 0h TD.
func TestNutationOfExample22(t *testing.T) {
	centuries := timescale.FromJulianDate(2446895.5, 0).Centuries()
	Δψ, Δε := nutation(centuries)
	ε0 := meanObliquity(centuries / 100)
	for _, c := range []struct {
		what      string
		got, want float64 // arcsec
	}{
		{"longitude", Δψ * 3600, -3.788},
		{"obliquity", Δε * 3600, 9.443},
		{"mean obliquity", ε0 * 3600, 23*3600 + 26*60 + 27.407},
		{"true obliquity", (ε0 + Δε) * 3600, 23*3600 + 26*60 + 36.850},
	} {
		if !(math.Abs(c.got-c.want) <= 0.0015) { // printed to 0.001
			t.Errorf("%s %.4f arcsec, want %.3f (Meeus, example 22.a)", c.what, c.got, c.want)
		}
	}
}

// The same series by another hand, term by term. (Its fifth decimal of one
// argument's cubic differs; that stays below 1e-6 arcsec within a century.)
func TestNutationAgainstMeeus(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tt := timescale.TT(rapid.Float64Range(-3.2e9, 3.2e9).Draw(t, "tt"))
		Δψ, Δε := nutation(tt.Centuries())
		wantψ, wantε := chapter22.Nutation(tt.JulianDate())
		if !(math.Abs(Δψ-wantψ.Deg())*3600 <= 1e-5 && math.Abs(Δε-wantε.Deg())*3600 <= 1e-5) {
			t.Fatalf("%.7f %.7f arcsec, want %.7f %.7f", Δψ*3600, Δε*3600, wantψ.Sec(), wantε.Sec())
		}
	})
}

// A position turns the Earth by the mean sidereal time and its own equation of
// the equinoxes; package timescale computes that apart.
func TestEquinoxAgreesWithTimescale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tt := timescale.TT(rapid.Float64Range(-3.2e9, 3.2e9).Draw(t, "tt"))
		u := timescale.Scale{}.UT1(tt)
		want := math.Remainder(timescale.ApparentSidereal(u, tt)-timescale.MeanSidereal(u, tt), 360)
		if got := Apparent(tt).equinox; !(math.Abs(got-want) <= 1e-7) {
			t.Fatalf("equation of the equinoxes %.9f, timescale has %.9f", got, want)
		}
	})
}
