package limb

import (
	"errors"
	"fmt"
	"math"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun/timescale"
)

// DefaultSunRadius is the Sun's at one astronomical unit, arcsec (A. Auwers 1891): the
// one that the almanacs' elements are made with.
const DefaultSunRadius = 959.63

// Options belong to a Moon. The zero value is the recommended setting.
type Options struct {
	// SunRadius is the Sun's at one astronomical unit, arcsec; zero means
	// DefaultSunRadius. Measurements at eclipses ask for up to 0.3 more (from memory),
	// which makes totality 1 to 2.6 s shorter.
	SunRadius float64
}

// A Moon is the real one, before the Sun, for one observer. It is safe for concurrent
// use, and to copy. The zero value shows nothing: make one with NewMoon.
type Moon struct {
	observer *eclipse.Observer
	opt      Options
	grid     *grid
}

// NewMoon makes the Moon of an observer. The error says what cannot be used.
func NewMoon(o *eclipse.Observer, opt Options) (Moon, error) {
	if o == nil || *o == (eclipse.Observer{}) {
		return Moon{}, errors.New("limb: NewMoon needs an Observer made by eclipse.NewObserver")
	}
	if opt.SunRadius == 0 {
		opt.SunRadius = DefaultSunRadius
	}
	if !(opt.SunRadius > 950 && opt.SunRadius < 970) {
		return Moon{}, fmt.Errorf("limb: Options.SunRadius is %g arcsec, want about %g", opt.SunRadius, DefaultSunRadius)
	}
	g, err := load()
	if err != nil {
		return Moon{}, err
	}
	return Moon{observer: o, opt: opt, grid: g}, nil
}

// Observer returns the observer before whom the Moon stands.
func (m Moon) Observer() *eclipse.Observer { return m.observer }

// astronomicalUnit in km (IAU 2012 Resolution B2).
const astronomicalUnit = 149597870.7

// A scene is Sun and Moon at an instant in the plane of the Moon: kilometres at the
// Moon's distance from its centre of mass, x towards the sky's east and y towards the
// north of the Moon's axis.
type scene struct {
	x, y float64 // of the Sun's centre
	sun  float64 // radius of the Sun's disc
	away float64 // km that a radian measures
	Libration
}

// scene looks at an instant, with the rotation of that instant. A distance in the plane is the angle from the Moon's
// centre, times what makes the limb of the map's mean sphere come out as its radius.
func (m *Moon) scene(t timescale.TT, r rotation) scene {
	sun, moon := m.observer.Places(t)
	s := scene{Libration: r.seen(moon)}
	sinα, cosα := math.Sincos((sun.RA - moon.RA) * deg)
	sinδ, cosδ := math.Sincos(sun.Dec * deg)
	sin0, cos0 := math.Sincos(moon.Dec * deg)
	east, north := cosδ*sinα, sinδ*cos0-cosδ*sin0*cosα
	sin := math.Hypot(east, north)
	s.away = m.grid.Radius / math.Asin(m.grid.Radius/moon.Distance)
	scale := s.away
	if sin > 0 {
		scale *= math.Atan2(sin, sinδ*sin0+cosδ*cos0*cosα) / sin
	}
	sinC, cosC := math.Sincos(s.Axis * deg)
	s.x, s.y = scale*(east*cosC-north*sinC), scale*(east*sinC+north*cosC)
	s.sun = s.away * math.Asin(math.Sin(m.opt.SunRadius/3600*deg)*astronomicalUnit/sun.Distance)
	return s
}
