package sun

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.org/noonfall/sun/timescale"
	"example.org/noonfall/testdata/references"
)

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
	l, b, _ := earth(tt.Centuries() / 10)
	for _, c := range []struct {
		what      string
		got, want float64
		tol       float64
	}{
		{"L", wrap(l / deg), 24.0182616917, 1e-10},
		{"B", b / deg, -0.0001011219, 1e-10},
		{"R", p.Distance, 0.9965422974, 1e-10},
		{"nutation in longitude", Δψ, -0.00399840, 1e-8},
		{"nutation in obliquity", Δε, 0.00166657, 1e-8},
		{"apparent longitude", p.Lon, 204.0085519281, 1e-10},
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

// JPL Horizons (DE441): topocentric, with refraction by the formula used here.
func TestHorizonsRows(t *testing.T) {
	o, err := NewObserver(Site{Lat: 48.4284, Lon: 236.6344}, timescale.Scale{})
	require.NoError(t, err)
	n := 0
	var worstAlt, worstAz float64
	for _, r := range references.Table(t, "solar_position.csv") {
		if r["case"] != "horizons_48N" {
			continue
		}
		when, err := time.Parse(time.RFC3339, r["when"])
		require.NoError(t, err)
		h := o.Position(timescale.Scale{}.TT(when))
		want := r.Number(t, "value")
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

// drawn is a site anywhere, poles and antimeridian included.
func drawn(t *rapid.T) Site {
	return Site{
		Lat:    rapid.OneOf(rapid.SampledFrom([]float64{-90, 90, 0}), rapid.Float64Range(-90, 90)).Draw(t, "lat"),
		Lon:    rapid.OneOf(rapid.SampledFrom([]float64{-180, 180, 359}), rapid.Float64Range(-180, 359.999)).Draw(t, "lon"),
		Height: rapid.Float64Range(-500, 9000).Draw(t, "height"),
	}
}

// To move east by the angle that the Earth turns in some seconds is to wait
// those seconds, as far as the Earth goes.
func TestLongitudeAndEarthsTurnAreOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		site := drawn(t)
		tt := timescale.TT(rapid.Float64Range(-3e9, 3e9).Draw(t, "tt"))
		wait := rapid.Float64Range(-1000, 1000).Draw(t, "seconds")
		moved := site
		moved.Lon = math.Remainder(site.Lon+wait*1.00273781191135448/240, 360)
		a, err := NewObserver(site, timescale.FixedDeltaT(50))
		require.NoError(t, err)
		b, err := NewObserver(moved, timescale.FixedDeltaT(50+wait))
		require.NoError(t, err)
		p, q := a.Position(tt), b.Position(tt)
		az := math.Remainder(p.Az-q.Az, 360) * math.Cos(p.Alt*deg)
		// 1e-6 s of the clock's own resolution is 4e-9 degrees.
		if !(math.Abs(p.Alt-q.Alt) <= 2e-8 && math.Abs(az) <= 2e-8) {
			t.Fatalf("%+v and %+v", p, q)
		}
	})
}

// The horizontal direction, turned back to the equator without the observer's
// code, must meet the geocentric Sun less the observer.
func TestParallaxBySphericalTrigonometry(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		site := drawn(t)
		tt := timescale.TT(rapid.Float64Range(-3e9, 3e9).Draw(t, "tt"))
		var scale timescale.Scale
		o, err := NewObserver(site, scale)
		require.NoError(t, err)
		h, p := o.Position(tt), Apparent(tt)
		H := (timescale.ApparentSidereal(scale.UT1(tt), tt) + site.Lon - p.RA) * deg
		φ, δ := site.Lat*deg, p.Dec*deg
		// J. Meeus, Astronomical Algorithms, 2nd ed., eq. 13.6 for the geocentric
		// altitude; the parallax in altitude is 8.8 arcsec times its cosine.
		geocentric := math.Asin(math.Sin(φ)*math.Sin(δ)+math.Cos(φ)*math.Cos(δ)*math.Cos(H)) / deg
		want := geocentric - 8.794/3600*math.Cos(geocentric*deg)
		// The flattened Earth leans the vertical by up to 0.19 degrees from the
		// radius: 0.003 of 8.8 arcsec; height and distance change it by 2 %.
		if !(math.Abs(h.Alt-want)*3600 <= 0.25) {
			t.Fatalf("altitude %.6f, want %.6f", h.Alt, want)
		}
		if !(h.Az >= 0 && h.Az < 360 && math.Abs(h.Distance-p.Distance) < 4.3e-5) {
			t.Fatalf("%+v", h)
		}
	})
}
