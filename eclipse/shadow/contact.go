package shadow

import (
	"math"
	"time"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// An Event is an instant at which the shadow does something, with the place on
// the ellipsoid where it does. The zero value is one that does not take place.
type Event struct {
	Exists  bool // it takes place
	TT      timescale.TT
	UTC, UT time.Time // UT is TT - Delta T, as almanacs print it
	Site    sun.Site  // longitude in [-180, 180), height zero
}

// event dresses an instant, hours from T0, and a place.
func (s *Shadow) event(t float64, place sun.Site) Event {
	tt := s.instant(t)
	scale := s.prep.Options().Scale
	return Event{Exists: true, TT: tt, UTC: scale.UTC(tt), UT: scale.UT1(tt).Time(), Site: place}
}

// touching is how a cone's outline lies to the Earth's at a moment: how far inside
// the innermost and the outermost of its points are, with their position angles.
type touching struct{ inner, outer, innerQ, outerQ float64 }

func (m *moment) touching(c cone) (v touching) {
	l, _, _, _ := m.radius(c)
	if l < 0 {
		l = -1
	}
	v.innerQ = m.extreme(c, math.Atan2(-m.x*l, -m.y*l))
	v.outerQ = m.extreme(c, math.Atan2(m.x*l, m.y*l))
	v.inner, v.outer = m.rim(c, v.innerQ).inside, m.rim(c, v.outerQ).inside
	return v
}

// extreme follows the edge from Q to where it is deepest inside the Earth's outline
// or farthest outside. The outline is so nearly round that Newton's rule needs two
// or three steps.
func (m *moment) extreme(c cone, Q float64) float64 {
	const h = 1e-3 // rad; leaves 1e-7 of the slope
	for range 8 {
		before, here, after := m.rim(c, Q-h).inside, m.rim(c, Q).inside, m.rim(c, Q+h).inside
		curve := before - 2*here + after
		if math.Abs(curve) < 1e-12 { // the cone's tip
			return Q
		}
		step := h / 2 * (before - after) / curve
		Q += max(-0.2, min(0.2, step))
		if math.Abs(step) < 1e-7 {
			break
		}
	}
	return Q
}

// stay is when something is on the Earth, hours from T0.
type stay struct {
	exists   bool
	from, to float64
}

// during finds when a measure that rises to one maximum and falls again is
// positive. Where it is positive as far as the elements hold, it has no end and
// is said not to exist. The polynomials are followed three minutes past their
// span: the longest eclipse of 1901 to 2100, 28 June 1908, ends 35 s past it.
func (s *Shadow) during(f func(t float64) float64) (v stay) {
	const step = 0.1 // hours; the measures' maxima are an hour wide
	span := s.elements.Span + 0.05
	best, most := 0.0, math.Inf(-1)
	for t := -span; t <= span; t += step {
		if y := f(t); y > most {
			best, most = t, y
		}
	}
	top := peak(f, max(-span, best-step), min(span, best+step))
	if !(f(top) > 0) || f(-span) > 0 || f(span) > 0 {
		return v
	}
	return stay{true, zero(f, top, -span), zero(f, top, span)}
}

// contacts finds the external and internal contacts of a cone with the Earth.
func (s *Shadow) contacts(c cone) (outer, inner stay) {
	outer = s.during(func(t float64) float64 { m := s.at(t); return m.touching(c).inner })
	inner = s.during(func(t float64) float64 { m := s.at(t); return m.touching(c).outer })
	return outer, inner
}

// touch is where the cone touches: at its innermost point at first and last
// contact, at its outermost at the internal contacts.
func (s *Shadow) touch(c cone, t float64, internal bool) Event {
	m := s.at(t)
	v := m.touching(c)
	Q := v.innerQ
	if internal {
		Q = v.outerQ
	}
	return s.event(t, m.place(m.rim(c, Q).point))
}

// line is when the axis meets the Earth.
func (s *Shadow) line() stay {
	return s.during(func(t float64) float64 { m := s.at(t); return m.inside(m.x, m.y) })
}

// limit is when a cone's limit on a side runs over sunlit ground. Where the cone
// passes beside the Earth's middle one side may never do.
func (s *Shadow) limit(c cone, sd side) stay {
	inside := func(t float64) float64 {
		m := s.at(t)
		return m.border(c, sd, (*moment).rim).inside
	}
	return s.during(inside)
}
