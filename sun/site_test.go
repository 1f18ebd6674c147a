package sun

import (
	"errors"
	"math"
	"testing"

	"example.org/noonfall/sun/timescale"
)

func TestSiteRefusals(t *testing.T) {
	for _, s := range []Site{{Lat: 91}, {Lat: -90.001}, {Lat: math.NaN()}, {Lon: 360}, {Lon: 361}, {Height: math.NaN()}, {Lon: math.NaN()}, {Lon: -181}, {Lon: math.Inf(1)}, {Height: 9001}, {Height: -501}} {
		var e *RangeError
		if _, err := NewObserver(s, timescale.Scale{}); !errors.As(err, &e) {
			t.Errorf("%+v was taken: %v", s, err)
		}
	}
}

func TestEdgesOfTheRangesAreTaken(t *testing.T) {
	for _, s := range []Site{{}, {Lat: 90, Lon: -180, Height: -500}, {Lat: -90, Lon: 359.9999999, Height: 9000}} {
		if err := s.Validate(); err != nil {
			t.Errorf("%+v: %v", s, err)
		}
	}
}

// J. Meeus, Astronomical Algorithms, 2nd ed., example 11.a, p. 82: Palomar, 33 21
// 22 N, 1706 m: rho sin phi' 0.546861, rho cos phi' 0.836339 (from memory; its
// ellipsoid is IAU 1976, 3 m larger).
func TestGeocentricOfPalomar(t *testing.T) {
	sin, cos := Site{Lat: 33 + 21/60.0 + 22/3600.0, Height: 1706}.Geocentric()
	if !(math.Abs(sin-0.546861) <= 1e-6 && math.Abs(cos-0.836339) <= 1e-6) {
		t.Errorf("%.6f %.6f, want 0.546861 0.836339", sin, cos)
	}
}

func TestGeocentricAtPoleAndEquator(t *testing.T) {
	// WGS84: equatorial radius 6378137 m, polar 6356752.3142 m.
	if sin, cos := (Site{Lat: 90}).Geocentric(); !(math.Abs(sin-6356752.3142/6378137) < 1e-10 && math.Abs(cos) < 1e-15) {
		t.Errorf("pole: %.12f %.12f", sin, cos)
	}
	if sin, cos := (Site{Height: 6378.137}).Geocentric(); sin != 0 || !(math.Abs(cos-1.001) < 1e-12) {
		t.Errorf("equator: %.12f %.12f", sin, cos)
	}
}
