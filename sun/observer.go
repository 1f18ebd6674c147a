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

// earthRadiusAU is the Earth's equatorial radius in astronomical units (IAU 2012
// Resolution B2).
const earthRadiusAU = equatorRadius / 149597870700.0

// Position returns the Sun's topocentric direction at an instant: parallax is
// applied, refraction is not.
func (o *Observer) Position(t timescale.TT) Horizontal {
	p := Apparent(t)
	θ := timescale.MeanSidereal(o.scale.UT1(t), t) + p.equinox
	sinH, cosH := math.Sincos((θ + o.site.Lon - p.RA) * deg)
	sinδ, cosδ := math.Sincos(p.Dec * deg)
	// The meridian's frame: x outwards on the equator, y east, z north. From the
	// geocentric Sun take the observer, then turn x to the zenith.
	x := p.Distance*cosδ*cosH - o.rhoCos*earthRadiusAU
	y := -p.Distance * cosδ * sinH
	z := p.Distance*sinδ - o.rhoSin*earthRadiusAU
	up := x*o.cosφ + z*o.sinφ
	north := -x*o.sinφ + z*o.cosφ
	level := math.Hypot(north, y)
	return Horizontal{
		Alt:      math.Atan2(up, level) / deg,
		Az:       wrap(math.Atan2(y, north) / deg),
		Distance: math.Hypot(up, level),
	}
}
