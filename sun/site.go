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
	Field           string  // type and field, as in "Site.Lat"
	Value, Min, Max float64 // in the field's own unit
}

// Error names the field, what it is and what is allowed.
func (e *RangeError) Error() string {
	top := fmt.Sprintf("%g", e.Max)
	if next := math.Nextafter(e.Max, math.Inf(1)); e.Max != math.Trunc(e.Max) && next == math.Trunc(next) { // an end that is left out
		top = fmt.Sprintf("less than %g", next)
	}
	return fmt.Sprintf("%s is %g, want a number from %g to %s", e.Field, e.Value, e.Min, top)
}

// Validate returns a *RangeError for the first field that is out of range, NaN
// included. A longitude of 360 is refused: it is 0.
func (s Site) Validate() error {
	if e := outside("Site.Lat", s.Lat, -90, 90); e != nil {
		return e
	}
	if e := outside("Site.Lon", s.Lon, -180, math.Nextafter(360, 0)); e != nil {
		return e
	}
	if e := outside("Site.Height", s.Height, -500, 9000); e != nil {
		return e
	}
	return nil
}

// outside returns nil where the value is in the closed range.
func outside(field string, v, low, high float64) *RangeError {
	if v >= low && v <= high { // false for NaN
		return nil
	}
	return &RangeError{Field: field, Value: v, Min: low, Max: high}
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
