package shadow

import (
	"math"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// A Place is a point of a line on the ground; the zero value is none.
type Place struct {
	Exists bool     // there is such a point
	Site   sun.Site // on the ellipsoid, longitude in [-180, 180)
}

// A Section is the path at one instant. Its places are where the middle of the
// eclipse falls on that instant; in the last minute before the path's ends some
// may be missing, and where it runs along the edge of the Earth one limit is
// missing throughout. The zero value has none of them.
type Section struct {
	TT      timescale.TT
	UTC, UT time.Time // UT is TT - Delta T, as almanacs print it
	// Center, North and South lie on the central line and on the limits of umbra
	// or antumbra; north is to the left of the shadow's way.
	Center, North, South         Place
	PenumbraNorth, PenumbraSouth Place // where the partial eclipse ends, north and south
	Ends                         bool  // the line or the limits begin or end here, not all of them at this very instant

	// What follows belongs to Center and is zero without it.

	Kind     eclipse.Kind // annular or total
	Ratio    float64      // the Moon's diameter over the Sun's, for k2; magnitude on the line
	Duration float64      // of the central phase, s
	Width    float64      // of the path at right angles to it, km, see Shadow.Section
	Alt, Az  float64      // of the Sun's centre without refraction, degrees
}

// Section looks at the path at an instant.
//
// Width is that of a path across a plane that touches the Earth at Center: the
// ends of the umbra's diameter at right angles to its motion, carried down to the
// ground along the axis. Within a few degrees of the horizon the ground curves away
// before the limits are reached and they are farther apart, or off the Earth.
func (s *Shadow) Section(t timescale.TT) Section {
	m := s.at(s.hours(t))
	sec := s.blank(t)
	sec.PenumbraNorth, sec.PenumbraSouth = m.limit(penumbra, north), m.limit(penumbra, south)
	if s.greatest.Type == eclipse.TypePartial {
		return sec
	}
	sec.North, sec.South = m.limit(umbra, north), m.limit(umbra, south)
	if m.inside(m.x, m.y) >= 0 {
		s.center(&sec, &m)
	}
	return sec
}

// blank is a section with its clocks.
func (s *Shadow) blank(t timescale.TT) Section {
	scale := s.prep.Options().Scale
	return Section{TT: t, UTC: scale.UTC(t), UT: scale.UT1(t).Time()}
}

// limit is a limit's point of the moment.
func (m *moment) limit(c cone, sd side) Place {
	e := m.border(c, sd, (*moment).edge)
	const settled = 1e-6 // of g, Earth radii an hour; a metre on the ground is more
	if !(e.inside >= 0 && math.Abs(e.g) < settled) {
		return Place{}
	}
	return Place{true, m.place(e.point)}
}

// center fills in what belongs to the central line.
func (s *Shadow) center(sec *Section, m *moment) {
	p := m.lift(m.x, m.y)
	sec.Center = Place{true, m.place(p)}
	sec.Width = m.width(p)
	o, err := s.prep.Observer(sec.Center.Site)
	if err != nil {
		return // no place on the ellipsoid is refused
	}
	a := o.Aspect(sec.TT)
	c := o.Circumstances()
	sec.Kind, sec.Duration = c.Geometry, c.Duration
	sec.Ratio = a.Ratio
	here := o.Instant(sec.TT)
	sec.Alt, sec.Az = here.Alt, here.Az
}

// width of the path at a point of the central line, km. With the ground's normal N
// and the shadow's motion (u, v) over it in the fundamental plane, of speed n, a step
// on the ground at right angles to the path moves across it in that plane by
// hypot(N_zeta, N.(u, v)/n) of itself.
func (m *moment) width(p point) float64 {
	w, up := m.ground(p), m.normal(p)
	u, v := m.dx-w.ξ, m.dy-w.η
	along := (up.ξ*u + up.η*v) / math.Hypot(u, v)
	return 2 * radiusKm * math.Abs(m.l2-p.ζ*m.f2) / math.Hypot(up.ζ, along)
}
