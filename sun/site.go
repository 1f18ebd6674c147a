package sun

import (
	"fmt"
	"math"
)

// A Site is a place on or above the WGS84 ellipsoid. The zero value is sea level
// where the equator meets the prime meridian. Safe to copy and to share; two
// sites are the same place only if their longitudes are equal modulo 360.
type Site struct {
	Lat    float64 // geodetic latitude, degrees, north positive, [-90, 90]
	Lon    float64 // longitude, degrees, east positive, [-180, 360)
	Height float64 // metres above the ellipsoid, not the sea, [-500, 9000]
}

// A RangeError is a value outside the range in which it means anything.
type RangeError struct {
	Field           string
	Value, Min, Max float64
}

func (e *RangeError) Error() string {
	return fmt.Sprintf("%s is %g, want a number from %g to %g", e.Field, e.Value, e.Min, e.Max)
}

// Validate returns a *RangeError for the first field that is out of range, NaN included.
func (s Site) Validate() error {
	for _, f := range []RangeError{
		{"Site.Lat", s.Lat, -90, 90},
		{"Site.Lon", s.Lon, -180, 360},
		{"Site.Height", s.Height, -500, 9000},
	} {
		if !(f.Value >= f.Min && f.Value <= f.Max) {
			return &f
		}
	}
	return nil
}

// The WGS84 ellipsoid (NIMA TR8350.2, 2000).
const (
	equatorRadius = 6378137.0 // m
	flattening    = 1 / 298.257223563
)

// Geocentric returns the site's distances from the equator's plane and from the
// Earth's axis in equatorial radii: rho sin phi' and rho cos phi' of the almanacs.
func (s Site) Geocentric() (rhoSin, rhoCos float64) {
	sinφ, cosφ := math.Sincos(s.Lat * deg)
	const e2 = flattening * (2 - flattening)
	n := 1 / math.Sqrt(1-e2*sinφ*sinφ)
	h := s.Height / equatorRadius
	return (n*(1-e2) + h) * sinφ, (n + h) * cosφ
}

const deg = math.Pi / 180 // radians in a degree
