package sun

import (
	"compress/gzip"
	"encoding/csv"
	"errors"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.org/noonfall/sun/timescale"
)

func table(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(name)
	require.NoError(t, err)
	defer f.Close()
	var in io.Reader = f
	if name[len(name)-3:] == ".gz" {
		in, err = gzip.NewReader(f)
		require.NoError(t, err)
	}
	all, err := csv.NewReader(in).ReadAll()
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

func number(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err, s)
	return v
}

// The worked example of NREL/TP-560-34302, appendix A.5: 2003-10-17 19:30:30 UT
// with Delta T 67 s, at 39.742476 N 105.1786 W, 1830.14 m, 820 hPa, 11 C.
func TestWorkedExampleOfTheReport(t *testing.T) {
	scale := timescale.FixedDeltaT(67)
	tt := timescale.FromJulianDate(2452929.5, (19*3600+30*60+30+67)/86400.0)
	p := Apparent(tt)
	o, err := NewObserver(Site{Lat: 39.742476, Lon: -105.1786, Height: 1830.14}, scale)
	require.NoError(t, err)
	h := o.Position(tt)
	air := Air{Pressure: 820, Temperature: 11}
	Δψ, Δε := nutation(tt.Centuries())
	m := tt.Centuries() / 10
	for _, c := range []struct {
		what      string
		got, want float64
		tol       float64
	}{
		// The report prints its day to 1e-6, half of which is 5e-7 degrees of the
		// Sun's motion; the exact instant gives 24.0182615895.
		{"L", wrap(series(earthL, m) / deg), 24.0182616917, 5e-7},
		{"B", series(earthB, m) / deg, -0.0001011219, 1e-10},
		{"R", p.Distance, 0.9965422974, 1e-10},
		{"nutation in longitude", Δψ, -0.00399840, 1e-8},
		{"nutation in obliquity", Δε, 0.00166657, 1e-8},
		{"apparent longitude", p.Lon, 204.0085519281, 5e-7},
		{"right ascension", p.RA, 202.22741, 1e-5},
		{"declination", p.Dec, -9.31434, 1e-5},
		// The report's ellipsoid and sidereal time differ from ours by less than
		// the digit below.
		{"altitude, airless", h.Alt, 39.872046, 2e-5},
		{"refraction", air.Refraction(h.Alt), 0.016332, 1e-6},
		{"altitude", h.Alt + air.Refraction(h.Alt), 39.888378, 2e-5},
		{"azimuth", h.Az, 194.340241, 3e-5},
	} {
		if !(math.Abs(c.got-c.want) <= c.tol) {
			t.Errorf("%s: %.10f, want %.10f +- %g (report, table A5.1)", c.what, c.got, c.want, c.tol)
		}
	}
}

func TestApparentPlaceAgainstDE431(t *testing.T) {
	var worst, worstDistance float64
	rows := table(t, "../eclipse/canon/internal/gencanon/testdata/positions.csv.gz")
	if len(rows) != 7684 {
		t.Fatalf("%d rows, want 7684", len(rows))
	}
	for _, r := range rows {
		p := Apparent(timescale.FromJulianDate(number(t, r["jd0_tt"]), number(t, r["frac_day_tt"])))
		ra, dec := number(t, r["sun_ra_deg"]), number(t, r["sun_dec_deg"])
		off := 3600 * math.Hypot(math.Remainder(p.RA-ra, 360)*math.Cos(dec*deg), p.Dec-dec)
		worst = math.Max(worst, off)
		if !(off <= 1) {
			t.Errorf("%s %s h: %.3f arcsec off", r["eclipse"], r["dt_h"], off)
		}
		d := number(t, r["sun_dist_km"]) / 149597870.7
		worstDistance = math.Max(worstDistance, math.Abs(p.Distance-d))
	}
	t.Logf("worst %.3f arcsec, %.1e au", worst, worstDistance)
	if !(worstDistance <= 1e-5) {
		t.Errorf("distance off by %.1e au", worstDistance)
	}
}

// JPL Horizons (DE441): topocentric, with refraction by the formula used here.
func TestHorizonsRows(t *testing.T) {
	o, err := NewObserver(Site{Lat: 48.4284, Lon: 236.6344}, timescale.Scale{})
	require.NoError(t, err)
	n := 0
	var worstAlt, worstAz float64
	for _, r := range table(t, "../testdata/references/solar_position.csv") {
		if r["case"] != "horizons_48N" {
			continue
		}
		when, err := time.Parse(time.RFC3339, r["when"])
		require.NoError(t, err)
		h := o.Position(timescale.Scale{}.TT(when))
		want := number(t, r["value"])
		n++
		switch r["quantity"] {
		case "azimuth":
			off := math.Remainder(h.Az-want, 360) * math.Cos(h.Alt*deg)
			worstAz = math.Max(worstAz, math.Abs(off))
			if !(math.Abs(off) <= 0.0003) {
				t.Errorf("%s: azimuth %.6f, want %.6f", r["when"], h.Az, want)
			}
		case "elevation_refracted":
			alt := h.Alt + StandardAir().Refraction(h.Alt)
			worstAlt = math.Max(worstAlt, math.Abs(alt-want))
			if !(math.Abs(alt-want) <= 0.0003) {
				t.Errorf("%s: altitude %.6f, want %.6f", r["when"], alt, want)
			}
		case "topocentric_distance":
			if !(math.Abs(h.Distance-want) <= 1e-5) {
				t.Errorf("%s: distance %.8f, want %.8f", r["when"], h.Distance, want)
			}
		}
	}
	if n < 90 {
		t.Fatalf("%d rows", n)
	}
	t.Logf("worst altitude %.6f, azimuth %.6f deg", worstAlt, worstAz)
}

// Example 25.b of J. Meeus, Astronomical Algorithms, 2nd ed., p. 169, complete
// theory: apparent longitude 199 54' 21.818", latitude 0.721", R 0.99760853.
func TestMeeusExample(t *testing.T) {
	p := Apparent(timescale.FromJulianDate(2448908.5, 0))
	for _, c := range []struct {
		what           string
		got, want, tol float64
	}{
		{"longitude", p.Lon, 199 + 54/60.0 + 21.818/3600, 0.3 / 3600},
		{"latitude", p.Lat * 3600, 0.721, 0.3},
		{"right ascension", p.RA, 15 * (13 + 13/60.0 + 30.749/3600), 0.4 / 3600},
		{"declination", p.Dec, -(7 + 47/60.0 + 1.74/3600), 0.4 / 3600},
		{"distance", p.Distance, 0.99760853, 5e-6},
	} {
		if !(math.Abs(c.got-c.want) <= c.tol) {
			t.Errorf("%s: %.8f, want %.8f (Meeus, example 25.b)", c.what, c.got, c.want)
		}
	}
}

func TestLongitudesThatAreTheSamePlace(t *testing.T) {
	tt := timescale.TT(8.7e8)
	at := func(lat, lon float64) Horizontal {
		o, err := NewObserver(Site{Lat: lat, Lon: lon}, timescale.Scale{})
		require.NoError(t, err)
		return o.Position(tt)
	}
	for _, pair := range [][2]float64{{-180, 180}, {-1, 359}, {-90, 270}} {
		a, b := at(51, pair[0]), at(51, pair[1])
		if !(math.Abs(a.Alt-b.Alt) < 1e-9 && math.Abs(math.Remainder(a.Az-b.Az, 360)) < 1e-9) {
			t.Errorf("%v: %+v and %+v", pair, a, b)
		}
	}
	// At a pole the altitude is the declination and longitude means nothing.
	dec := Apparent(tt).Dec
	for _, lon := range []float64{0, 77, -123} {
		if h := at(90, lon); !(math.Abs(h.Alt-dec) < 0.003) {
			t.Errorf("north pole: altitude %.4f, declination %.4f", h.Alt, dec)
		}
		if h := at(-90, lon); !(math.Abs(h.Alt+dec) < 0.003) {
			t.Errorf("south pole: altitude %.4f, declination %.4f", h.Alt, dec)
		}
	}
}

func TestSiteRefusals(t *testing.T) {
	for _, s := range []Site{{Lat: 91}, {Lat: -90.001}, {Lat: math.NaN()}, {Lon: 361}, {Lon: -181}, {Lon: math.Inf(1)}, {Height: 9001}, {Height: -501}} {
		var e *RangeError
		if _, err := NewObserver(s, timescale.Scale{}); !errors.As(err, &e) {
			t.Errorf("%+v was taken: %v", s, err)
		}
	}
}

func TestAirMass(t *testing.T) {
	for _, r := range table(t, "../testdata/references/air_mass.csv") {
		h := number(t, r["altitude_deg"])
		if want := number(t, r["m_formula_1989"]); !(math.Abs(AirMass(h)-want) <= 6e-7) {
			t.Errorf("%g deg: %.6f, want %.6f (Kasten & Young 1989)", h, AirMass(h), want)
		}
		if s := r["m_table_II_1989"]; s != "" { // the paper's own table, which its formula fits to 0.5 %
			if want := number(t, s); !(math.Abs(AirMass(h)/want-1) <= 0.005) {
				t.Errorf("%g deg: %.4f, table II %.4f", h, AirMass(h), want)
			}
		}
	}
}

func TestClearSky(t *testing.T) {
	for _, r := range table(t, "../testdata/references/daylight_clear.csv") {
		h := number(t, r["altitude_deg"])
		trueAlt := h // find the true altitude that shows at h
		for range 50 {
			trueAlt = h - StandardAir().Refraction(trueAlt)
		}
		l := Sky{}.Illuminance(trueAlt, 1)
		for _, c := range []struct {
			what, column string
			got          float64
		}{
			{"direct normal", "direct_normal_klx", l.Direct},
			{"direct horizontal", "direct_horizontal_klx", l.DirectHorizontal},
			{"sky", "sky_horizontal_klx", l.Sky},
			{"global", "global_horizontal_klx", l.Global},
		} {
			if want := 1000 * number(t, r[c.column]); !(math.Abs(c.got-want) <= 0.2) {
				t.Errorf("%g deg, %s: %.2f lx, want %.1f (IES 1984)", h, c.what, c.got, want)
			}
		}
	}
	for _, row := range twilight {
		if got := (Sky{}).Illuminance(row.alt, 1).Global; !(math.Abs(got/row.lux-1) < 1e-9) {
			t.Errorf("%g deg: %.4f lx, want %.4f (%s)", row.alt, got, row.lux, row.source)
		}
	}
}

func TestClearSkyIsContinuousAndRises(t *testing.T) {
	last := (Sky{}).Illuminance(-90, 1).Global
	for h := -89.99; h <= 90; h += 0.01 {
		l := (Sky{}).Illuminance(h, 1).Global
		if !(l >= last*(1-1e-9)) {
			t.Fatalf("light falls from %.4f to %.4f lx at %.2f deg", last, l, h)
		}
		// The root of sin h rises steeply off the horizon, and nowhere else.
		if h < -0.7 || h > -0.3 {
			if !(l <= last*1.03) {
				t.Fatalf("step from %.4f to %.4f lx at %.2f deg", last, l, h)
			}
		}
		last = l
	}
}

func TestRefraction(t *testing.T) {
	air := StandardAir()
	for _, c := range []struct {
		alt, want, tol float64 // degrees, arcmin
		source         string
	}{
		{0, 28.98, 0.05, "1.02 cot(0 + 10.3/5.11), Meeus eq. 16.4"},
		{-0.5667, 34.5, 0.6, "horizontal refraction of 34 arcmin"},
		{90, 0, 0.01, "nothing at the zenith"},
		{45, 1.0, 0.05, "one arcminute at 45 degrees"},
	} {
		if got := 60 * air.Refraction(c.alt); !(math.Abs(got-c.want) <= c.tol) {
			t.Errorf("%g deg: %.3f arcmin, want %.3f +- %g (%s)", c.alt, got, c.want, c.tol, c.source)
		}
	}
	if (Air{}).Refraction(0) != 0 {
		t.Error("no air refracts")
	}
	rapid.Check(t, func(t *rapid.T) {
		h := rapid.Float64Range(-90, 89.99).Draw(t, "altitude")
		a, b := air.Refraction(h), air.Refraction(h+0.001)
		if !(a >= 0 && a < 0.8 && math.Abs(a-b) < 0.001) {
			t.Fatalf("refraction %.5f, %.5f at %.4f", a, b, h)
		}
	})
}

func BenchmarkSunPosition(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 2))
	var os [64]*Observer
	var ts [4096]timescale.TT
	for i := range os {
		os[i], _ = NewObserver(Site{Lat: 180*rng.Float64() - 90, Lon: 360*rng.Float64() - 180}, timescale.Scale{})
	}
	for i := range ts {
		ts[i] = timescale.TT((rng.Float64() - 0.5) * 6e9)
	}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		os[i&63].Position(ts[i&4095])
		i++
	}
}
