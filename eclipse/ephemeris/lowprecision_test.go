package ephemeris

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun/timescale"
)

// The worked examples of J. Meeus, Astronomical Algorithms (2nd ed., 1998),
// digits from memory.
func TestLowPrecisionAgainstTheBook(t *testing.T) {
	sky, err := LowPrecision{}.Sky(timescale.FromJulianDate(2448724.5, 0))
	require.NoError(t, err)
	sun, err := LowPrecision{}.Sky(timescale.FromJulianDate(2448908.5, 0))
	require.NoError(t, err)
	for _, c := range []struct {
		name           string
		got, want, tol float64
		source         string
	}{
		{"moon ra", sky.Moon.RA, 134.688470, 2e-6, "example 47.a, p. 343, apparent; last digit and its nutation"},
		{"moon dec", sky.Moon.Dec, 13.768368, 2e-6, "example 47.a, p. 343, apparent"},
		{"moon km", sky.Moon.Distance, 368409.7, 0.05, "example 47.a, p. 343"},
		// the exact place that the book gives beside its own low-precision one;
		// ours has to lie within twice the scatter of
		// TestLowPrecisionAgainstDE431
		{"sun ra", sun.Sun.RA, 198.378121, 9.2 / 3600, "p. 165, 13h 13m 30.749s"},
		{"sun dec", sun.Sun.Dec, -7.783817, 2.8 / 3600, "p. 165, -7d 47' 01.74\""},
		{"sun au", sun.Sun.Distance / AstronomicalUnit, 0.99760775, 1.2e-5, "p. 165"},
	} {
		if !(math.Abs(c.got-c.want) <= c.tol) {
			t.Errorf("%s = %.7f, want %.7f ± %.2g (%s)", c.name, c.got, c.want, c.tol, c.source)
		}
	}
}

// What the formulae are worth: 452 eclipses of 1901-2100 against JPL DE431.
// Bounds are the measured figures, rounded up, which the package comment quotes.
func TestLowPrecisionAgainstDE431(t *testing.T) {
	var sunRA, sunDec, moonRA, moonDec, sunKM, moonKM, sidereal scatter
	for _, p := range passages(t) {
		for _, i := range []int{2, 8, 14} { // 3 h before, t0, 3 h after
			want := p.rows[i]
			got, err := LowPrecision{}.Sky(p.t0 + timescale.TT((i-8)*1800))
			require.NoError(t, err)
			cos := math.Cos(want.Sun.Dec * deg)
			sunRA.add(3600 * cos * math.Remainder(got.Sun.RA-want.Sun.RA, 360))
			sunDec.add(3600 * (got.Sun.Dec - want.Sun.Dec))
			moonRA.add(3600 * cos * math.Remainder(got.Moon.RA-want.Moon.RA, 360))
			moonDec.add(3600 * (got.Moon.Dec - want.Moon.Dec))
			sunKM.add(got.Sun.Distance - want.Sun.Distance)
			moonKM.add(got.Moon.Distance - want.Moon.Distance)
			sidereal.add(3600 * math.Remainder(got.Sidereal-want.Sidereal, 360))
		}
	}
	for _, c := range []struct {
		name string
		scatter
		max float64
	}{
		{"sun ra cos dec, arcsec", sunRA, 4.6},
		{"sun dec, arcsec", sunDec, 1.4},
		{"moon ra cos dec, arcsec", moonRA, 3.2},
		{"moon dec, arcsec", moonDec, 1.5},
		{"sun distance, km", sunKM, 900},
		{"moon distance, km", moonKM, 4},
		{"sidereal time, arcsec", sidereal, 0.01},
	} {
		t.Logf("%-24s rms %.3g, worst %.3g", c.name, c.rms(), c.worst())
		if !(c.rms() <= c.max) {
			t.Errorf("%s: rms %.4g, want at most %g", c.name, c.rms(), c.max)
		}
	}
}

// Eclipses outside the catalogue. Gamma, magnitude and TD of greatest eclipse from
// the Five Millennium Canon (NASA/TP-2006-214141), from memory.
func TestFindOutsideTheCatalogue(t *testing.T) {
	for _, c := range []struct {
		date             string
		day              float64 // Julian Date
		gamma, magnitude float64
		td               string
	}{
		{"1900-05-28", 2415167.5, 0.3943, 1.0249, "14:53:56"},
		{"2186-07-16", 2519679.5, -0.2396, 1.0805, "15:14:54"},
	} {
		r, err := Find(LowPrecision{}, timescale.FromJulianDate(c.day, 0), Options{})
		require.NoError(t, err)
		g := r.Elements.Greatest()
		clock := timescale.UT1(g.TT).Time()
		at, err := time.Parse(time.DateTime, c.date+" "+c.td)
		require.NoError(t, err)
		δ := clock.Sub(at).Seconds()
		u := r.Elements.TimeU
		if r.Elements.Date != c.date || !(math.Abs(δ) <= 3*u) {
			t.Errorf("greatest eclipse %s %v, want %s %s ± %.0f s", r.Elements.Date, clock, c.date, c.td, 3*u)
		}
		if !(math.Abs(g.Gamma-c.gamma) <= 0.0012) { // the worst of 1901-2100
			t.Errorf("%s: gamma %.4f, want %.4f ± 0.0012", c.date, g.Gamma, c.gamma)
		}
		if !(math.Abs(g.Magnitude-c.magnitude) <= 0.001) {
			t.Errorf("%s: magnitude %.4f, want %.4f ± 0.001", c.date, g.Magnitude, c.magnitude)
		}
	}
}

func TestLowPrecisionRefuses(t *testing.T) {
	for _, centuries := range []float64{-10.01, 10.01, math.NaN(), math.Inf(-1)} {
		if _, err := (LowPrecision{}).Sky(timescale.TT(centuries * 36525 * 86400)); !isRange(err) {
			t.Errorf("%v centuries from 2000: error %v, want a RangeError", centuries, err)
		}
	}
}
