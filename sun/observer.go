package sun

import (
	"math"

	"example.org/noonfall/sun/timescale"
)

// An Observer sees the Sun from one site. It is safe for concurrent use.
type Observer struct {
	site           Site
	scale          timescale.Scale
	sinφ, cosφ     float64
	rhoSin, rhoCos float64 // equatorial radii
}

// NewObserver validates the site; the error is a *RangeError.
func NewObserver(s Site, scale timescale.Scale) (*Observer, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	o := &Observer{site: s, scale: scale}
	o.sinφ, o.cosφ = math.Sincos(s.Lat * deg)
	o.rhoSin, o.rhoCos = s.Geocentric()
	return o, nil
}

// Site returns where the observer stands.
func (o *Observer) Site() Site { return o.site }

// A Horizontal is a direction at a site. Refraction is not in it: see [Air].
type Horizontal struct {
	Alt      float64 // altitude of the Sun's centre, degrees, [-90, 90]
	Az       float64 // azimuth from north through east, degrees, [0, 360)
	Distance float64 // from the site, astronomical units
}

// Semidiameter is the angular radius of the Sun's disc from there, degrees. The
// upper limb is on the horizon of an [Air] with the centre at
// air.TrueAltitude(0) - h.Semidiameter().
func (h Horizontal) Semidiameter() float64 { return semidiameter / h.Distance }

// earthRadiusAU is the Earth's equatorial radius in astronomical units (IAU 2012
// Resolution B2).
const earthRadiusAU = equatorRadius / 149597870700.0

// Position returns the Sun's topocentric direction at an instant: parallax is
// applied, refraction is not. Read many times in one day, a [Day] is faster.
func (o *Observer) Position(t timescale.TT) Horizontal {
	p := Apparent(t)
	sinδ, cosδ := math.Sincos(p.Dec * deg)
	return o.horizontal(o.hourAngle(t, p)*deg, p.Distance*cosδ, p.Distance*sinδ)
}

// hourAngle is the angle by which the Sun at a place is past the site's meridian,
// degrees, in any turn.
func (o *Observer) hourAngle(t timescale.TT, p Place) float64 {
	θ := timescale.MeanSidereal(o.scale.UT1(t), t) + p.equinox
	return θ + o.site.Lon - p.RA
}

// horizontal looks from the site at a geocentric Sun of hour angle H, radians, at
// distances from the Earth's axis and from the equator's plane, astronomical units.
func (o *Observer) horizontal(H, fromAxis, fromEquator float64) Horizontal {
	sinH, cosH := math.Sincos(H)
	// The meridian's frame: x outwards on the equator, y east, z north. From the
	// geocentric Sun take the observer, then turn x to the zenith.
	x := fromAxis*cosH - o.rhoCos*earthRadiusAU
	y := -fromAxis * sinH
	z := fromEquator - o.rhoSin*earthRadiusAU
	up := x*o.cosφ + z*o.sinφ
	north := -x*o.sinφ + z*o.cosφ
	level := math.Hypot(north, y)
	az := math.Atan2(y, north) / deg
	if az < 0 {
		az = wrap(az)
	}
	return Horizontal{
		Alt:      math.Atan2(up, level) / deg,
		Az:       az,
		Distance: math.Hypot(up, level),
	}
}
