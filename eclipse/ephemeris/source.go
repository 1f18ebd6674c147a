package ephemeris

import (
	"math"

	"example.org/noonfall/sun/timescale"
)

const deg = math.Pi / 180 // radians in a degree

// Lengths that turn positions into elements.
const (
	// EarthRadius is the Earth's equatorial radius, km: the unit of the elements
	// (WGS 84, NIMA TR8350.2, 3rd ed., 2000, table 3.1).
	EarthRadius = 6378.137
	// AstronomicalUnit is in km, by definition (IAU 2012 Resolution B2).
	AstronomicalUnit = 149597870.7
	// sunSemidiameter is the Sun's angular radius at one astronomical unit,
	// arcseconds (A. Auwers 1891; used by the almanacs for eclipses ever since:
	// Explanatory Supplement to the Astronomical Almanac, 1992, section 8.11).
	sunSemidiameter = 959.63
)

// sunRadius is the Sun's radius in Earth radii: seen from one astronomical unit
// its edge stands sunSemidiameter from its centre.
var sunRadius = math.Sin(sunSemidiameter/3600*deg) * AstronomicalUnit / EarthRadius

// A Place is where a body is seen from the Earth's centre: apparent, so with
// light time and aberration, on the true equator and equinox of the date. The
// zero value has no distance and is refused by [Cast].
type Place struct {
	RA       float64 // apparent right ascension, degrees
	Dec      float64 // apparent declination, degrees, [-90, 90]
	Distance float64 // length of the light's path to the Earth's centre, km
}

// vector returns the place as a vector on the true equator and equinox, in
// Earth radii.
func (p Place) vector() vector {
	sinδ, cosδ := math.Sincos(p.Dec * deg)
	sinα, cosα := math.Sincos(p.RA * deg)
	r := p.Distance / EarthRadius
	return vector{r * cosδ * cosα, r * cosδ * sinα, r * sinδ}
}

// A Sky is all that elements need to know about one instant.
type Sky struct {
	Sun, Moon Place // of their centres, both at the same instant
	// Sidereal is Greenwich apparent sidereal time as it would be if UT1 were
	// TT at that instant, degrees. It stands beside the places because it must
	// count from the same equinox as their right ascensions: an error common to
	// both drops out.
	Sidereal float64
}

// An Origin says whence positions come and how far they can be trusted.
type Origin struct {
	Name string // for [eclipse.Elements.Source]: ephemeris, reductions, edition
	// TimeU is the standard uncertainty of the instants of an eclipse owing to the
	// positions alone, seconds; the Earth's rotation (Delta T) is not in it.
	TimeU float64
}

// A Source gives apparent geocentric Sun and Moon. Implement it to make elements
// from an ephemeris of your own; [Table] and [LowPrecision] are the ones here.
type Source interface {
	// Sky returns the places at an instant, or an error when it has none: a
	// [*RangeError] outside the source's span.
	Sky(t timescale.TT) (Sky, error)
	// Origin describes the source for an eclipse at the instant t.
	Origin(t timescale.TT) Origin
}
