package timescale

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/noonfall/testdata/references"
)

func TestSiderealTime(t *testing.T) {
	// J. Meeus, Astronomical Algorithms, 2nd ed., examples 12.a and 22.a: 1987
	// April 10, 0h UT; mean 13h10m46.3668s, apparent 13h10m46.1351s by the IAU
	// 1982 expressions, which differ from those of 2006 by under 0.02 s of time.
	u := UT1((2446895.5 - 2451545.0) * 86400)
	tt := TT(float64(u) + 55.2) // Delta T of the date
	for _, c := range []struct {
		name      string
		got, want float64 // degrees
		tol       float64
	}{
		{"mean", MeanSidereal(u, tt), 15 * (13 + 10/60.0 + 46.3668/3600), 1e-4},
		{"apparent", ApparentSidereal(u, tt), 15 * (13 + 10/60.0 + 46.1351/3600), 1e-4},
		{"equation of the equinoxes", ApparentSidereal(u, tt) - MeanSidereal(u, tt), 15 * -0.2317 / 3600, 1e-6},
	} {
		if !(math.Abs(c.got-c.want) <= c.tol) {
			t.Errorf("%s: %.7f deg, want %.7f +- %g (Meeus)", c.name, c.got, c.want, c.tol)
		}
	}
}

// Example 12.b of the same book: 1987 April 10, 19h21m00s UT, mean 8h34m57.0896s.
func TestMeanSiderealTimeOfExample12b(t *testing.T) {
	u := UT1((2446895.5-2451545.0)*86400 + 19*3600 + 21*60)
	got, want := MeanSidereal(u, TT(float64(u)+55.2)), 15*(8+34/60.0+57.0896/3600)
	if !(math.Abs(got-want) <= 1e-4) {
		t.Errorf("%.7f deg, want %.7f (Meeus, example 12.b)", got, want)
	}
}

// The positions file gives Greenwich apparent sidereal time by the IAU routines,
// evaluated as if UT1 were TT.
func TestSiderealTimeAgainstIAURoutines(t *testing.T) {
	worst := 0.0
	for _, r := range references.File(t, "../../eclipse/canon/internal/gencanon/testdata/positions.csv.gz") {
		tt := FromJulianDate(r.Number(t, "jd0_tt"), r.Number(t, "frac_day_tt"))
		got := ApparentSidereal(UT1(tt), tt)
		off := math.Remainder(got-r.Number(t, "gast_ut1eqtt_deg"), 360)
		worst = math.Max(worst, math.Abs(off))
		if !(math.Abs(off) <= 2e-5) {
			t.Fatalf("%s %s: off by %.6f deg", r["eclipse"], r["dt_h"], off)
		}
	}
	t.Logf("worst %.2e deg", worst)
}

// A day's wait turns the Earth by 360.9856 degrees, at any date, and the result
// stays inside one turn.
func TestRateOfTheEarth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.Float64Range(-6e9, 6e9).Draw(t, "u")
		a, b := MeanSidereal(UT1(u), TT(u)), MeanSidereal(UT1(u+86400), TT(u))
		// 1.00273781191135448 turns (IAU 2000 Resolution B1.8); a microsecond of the
		// reading's resolution is 4e-9 degrees.
		if off := math.Remainder(b-a-360*1.00273781191135448, 360); !(math.Abs(off) <= 1e-8) {
			t.Fatalf("a day turns %.9f degrees too far", off)
		}
		for _, θ := range []float64{a, b, ApparentSidereal(UT1(u), TT(u))} {
			if !(θ >= 0 && θ < 360) {
				t.Fatalf("%g degrees", θ)
			}
		}
	})
}
