package eclipse

import (
	"math"

	"example.org/noonfall/sun/timescale"
)

// A Place is where a body stands as seen from the site: apparent and topocentric,
// on the true equator and equinox of date, without refraction.
type Place struct {
	RA       float64 // right ascension, degrees [0, 360)
	Dec      float64 // declination, degrees, north positive
	Distance float64 // of the body's centre, km
}

// earthRadius is the equatorial radius of WGS84 in km, the unit of the elements.
const earthRadius = 6378.137

// Places gives Sun and Moon at an instant as the elements have them. The right
// ascensions rest on the sidereal time of the instant (package timescale), as
// elements made by package ephemeris do. Outside the elements' Span the polynomials
// run on and mean less and less.
func (o *Observer) Places(t timescale.TT) (sun, moon Place) {
	var w view
	o.see(o.hours(t), &w)
	moonZ, apart := w.bodies(o.prep.k1)
	// Mu is the Greenwich hour angle as if UT1 were TT, and so is the sidereal time.
	ra := timescale.ApparentSidereal(timescale.UT1(t), t) - (w.h-o.lon)/deg
	return w.place(moonZ+apart, ra), w.place(moonZ, ra)
}

// place turns what stands z over the observer, on the axis, from the fundamental
// frame to the equator's; ra is the axis' right ascension, degrees.
func (w *view) place(z, ra float64) Place {
	out, pole := z*w.cosd-w.v*w.sind, w.v*w.cosd+z*w.sind
	level := math.Hypot(out, w.u)
	ra = math.Mod(ra+math.Atan2(w.u, out)/deg, 360)
	return Place{
		RA:       circle(ra),
		Dec:      math.Atan2(pole, level) / deg,
		Distance: earthRadius * math.Hypot(level, pole),
	}
}
