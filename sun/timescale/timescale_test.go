package timescale

import (
	"compress/gzip"
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../../testdata/references/" + name)
	require.NoError(t, err)
	defer f.Close()
	return records(t, csv.NewReader(f))
}

func records(t *testing.T, r *csv.Reader) []map[string]string {
	t.Helper()
	all, err := r.ReadAll()
	require.NoError(t, err)
	var out []map[string]string
	for _, row := range all[1:] {
		m := map[string]string{}
		for i, h := range all[0] {
			m[h] = row[i]
		}
		out = append(out, m)
	}
	require.NotEmpty(t, out)
	return out
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err, s)
	return v
}

func TestLeapSecondsAreThoseOfTheIERS(t *testing.T) {
	rows := table(t, "leapseconds.csv") // IERS Bulletin C list
	if len(rows) != len(leaps) {
		t.Fatalf("%d rows, the list has %d", len(leaps), len(rows))
	}
	for i, r := range rows {
		from, err := time.Parse(time.DateOnly, r["effective_utc_date"])
		require.NoError(t, err)
		if !leaps[i].from.Equal(from) || float64(leaps[i].tai) != number(t, r["tai_minus_utc_s"]) {
			t.Errorf("row %d is %v %d, the list has %s %s", i, leaps[i].from, leaps[i].tai, r["effective_utc_date"], r["tai_minus_utc_s"])
		}
	}
}

func TestEdgesOfEveryLeapSecond(t *testing.T) {
	var s Scale
	for i, l := range leaps[1:] {
		before := s.TT(l.from.Add(-time.Second))
		after := s.TT(l.from)
		if got := float64(after - before); !(math.Abs(got-2) < 1e-6) {
			t.Errorf("%s: 23:59:59 to 00:00:00 took %.6f s, want 2 (one leap second)", l.from.Format(time.DateOnly), got)
		}
		// 23:59:60 cannot be held by a time.Time and reads as the next second.
		if got := s.UTC(before + 1.25); !got.Equal(l.from.Add(250 * time.Millisecond)) {
			t.Errorf("%s: 23:59:60.25 reads %v", l.from.Format(time.DateOnly), got)
		}
		if got, want := float64(s.TT(l.from.Add(-time.Nanosecond))-after), -1.0; !(math.Abs(got-want) < 1e-6) {
			t.Errorf("row %d: last nanosecond is %.9f s before, want %.0f", i, got, want)
		}
	}
	if s.UTCHeld(s.TT(leapsKnownTo.Add(-time.Hour))) || !s.UTCHeld(s.TT(leapsKnownTo.Add(time.Hour))) {
		t.Error("UTCHeld does not turn at the end of the announced span")
	}
}

func TestObservedDeltaT(t *testing.T) {
	var s Scale
	n := 0
	for _, r := range table(t, "deltat.csv") {
		if r["kind"] != "observed" {
			continue
		}
		n++
		day, err := time.Parse(time.DateOnly, r["date"])
		require.NoError(t, err)
		d := s.DeltaT(s.TT(day))
		if want := number(t, r["delta_t_s"]); !(math.Abs(d.Seconds-want) <= 0.002) {
			t.Errorf("%s: %.4f s, want %.4f (%s)", r["date"], d.Seconds, want, r["series"])
		}
		if !(d.SecondsU > 0 && d.SecondsU <= 0.35) {
			t.Errorf("%s: uncertainty %.3f s", r["date"], d.SecondsU)
		}
	}
	if n < 150 {
		t.Fatalf("only %d observed rows", n)
	}
	// Days between the rows, from the daily IERS series: this is what the stated
	// uncertainty must cover.
	var sum float64
	rows := table(t, "ut1utc.csv")
	for _, r := range rows {
		day, err := time.Parse(time.DateOnly, r["utc_date"])
		require.NoError(t, err)
		d := s.DeltaT(s.TT(day))
		off := d.Seconds - number(t, r["delta_t_s"])
		if !(math.Abs(off) <= 3*d.SecondsU) {
			t.Errorf("%s: off by %.4f s, stated %.4f (IERS finals2000A)", r["utc_date"], off, d.SecondsU)
		}
		sum += off * off
	}
	t.Logf("rms between rows %.4f s over %d days", math.Sqrt(sum/float64(len(rows))), len(rows))
}

func TestPublishedPolynomials(t *testing.T) {
	for _, r := range table(t, "deltat.csv") {
		if r["kind"] != "polynomial_value" {
			continue
		}
		y, want := number(t, r["decimal_year"]), number(t, r["delta_t_s"])
		if got := polynomial(y); !(math.Abs(got-want) <= 1e-5*math.Max(1, math.Abs(want)/100)) {
			t.Errorf("year %.4f: %.6f s, want %.6f (Espenak & Meeus 2006)", y, got, want)
		}
	}
}

func TestForecastIsContinuousAndGrowsVaguer(t *testing.T) {
	at := func(y float64) DeltaT { return builtinDeltaT(TT(((y-2000)*daysPerYear - 0.5) * secondsPerDay)) }
	for _, join := range []float64{1890, 1900, observed[len(observed)-1].year(), 2150} {
		a, b := at(join-1e-6), at(join+1e-6)
		if !(math.Abs(a.Seconds-b.Seconds) <= 0.02) {
			t.Errorf("step of %.3f s at %.3f", b.Seconds-a.Seconds, join)
		}
	}
	last := 0.0
	for y := 2027.0; y < 2150; y += 5 {
		if u := at(y).SecondsU; !(u > last) {
			t.Errorf("uncertainty falls to %.2f s in %.0f", u, y)
		} else {
			last = u
		}
	}
	if u := at(2027.6).SecondsU; !(u > 0.02 && u < 1) {
		t.Errorf("uncertainty in August 2027 is %.3f s", u)
	}
}

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

// The positions file gives Greenwich apparent sidereal time by the IAU routines,
// evaluated as if UT1 were TT.
func TestSiderealTimeAgainstIAURoutines(t *testing.T) {
	f, err := os.Open("../../eclipse/canon/internal/gencanon/testdata/positions.csv.gz")
	require.NoError(t, err)
	defer f.Close()
	z, err := gzip.NewReader(f)
	require.NoError(t, err)
	worst := 0.0
	for _, r := range records(t, csv.NewReader(z)) {
		tt := FromJulianDate(number(t, r["jd0_tt"]), number(t, r["frac_day_tt"]))
		got := ApparentSidereal(UT1(tt), tt)
		off := math.Remainder(got-number(t, r["gast_ut1eqtt_deg"]), 360)
		worst = math.Max(worst, math.Abs(off))
		if !(math.Abs(off) <= 2e-5) {
			t.Fatalf("%s %s: off by %.6f deg", r["eclipse"], r["dt_h"], off)
		}
	}
	t.Logf("worst %.2e deg", worst)
}

func TestRoundTrips(t *testing.T) {
	scales := []Scale{{}, FixedDeltaT(70)}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(scales).Draw(t, "scale")
		utc := time.Unix(rapid.Int64Range(-6e9, 6e9).Draw(t, "unix"), rapid.Int64Range(0, 999999).Draw(t, "us")*1000).UTC()
		back := s.UTC(s.TT(utc))
		if d := back.Sub(utc); d < -2*time.Microsecond || d > 2*time.Microsecond {
			// The last 0.043 s of 1971 name instants of 1972.
			if utc.Year() != 1971 || utc.YearDay() != 365 {
				t.Fatalf("%v came back as %v", utc, back)
			}
		}
		tt := s.TT(utc)
		if d := float64(s.FromUT1(s.UT1(tt)) - tt); !(math.Abs(d) < 2e-6) {
			t.Fatalf("UT1 round trip of %v is off by %g s", utc, d)
		}
	})
}

func TestOverride(t *testing.T) {
	s := FixedDeltaT(64.6)
	tt := FromJulianDate(2451401.5, 0.5)
	if d := s.DeltaT(tt); d.Seconds != 64.6 || d.SecondsU != 0 {
		t.Errorf("override gives %+v", d)
	}
	if got := float64(tt) - float64(s.UT1(tt)); !(math.Abs(got-64.6) < 1e-6) {
		t.Errorf("TT - UT1 = %.7f", got)
	}
	if a, b := s.UTC(tt), (Scale{}).UTC(tt); !a.Equal(b) {
		t.Errorf("the override moved UTC from %v to %v", b, a)
	}
}
