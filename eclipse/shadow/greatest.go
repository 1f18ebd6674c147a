package shadow

import (
	"math"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// Greatest is the instant at which the axis passes closest to the Earth's centre,
// and what that instant brings to the place on the axis, or to the one nearest to
// it, which has the Sun in its horizon.
type Greatest struct {
	TT        timescale.TT
	UTC, UT   time.Time // UT is TT - Delta T
	Site      sun.Site  // the place, longitude in [-180, 180), height zero
	Magnitude float64   // greatest on the Earth, see eclipse.Greatest
	Alt, Az   float64   // of the Sun's centre without refraction, degrees
	Duration  float64   // of the central phase at the place, s; 0 where it has none
	Width     float64   // of the path, km; 0 where the axis misses the Earth
}

func (s *Shadow) greatestPlace() (g Greatest) {
	t := s.hours(s.greatest.TT)
	m := s.at(t)
	p := m.nearest()
	ev := s.event(t, m.place(p))
	g = Greatest{TT: ev.TT, UTC: ev.UTC, UT: ev.UT, Site: ev.Site, Magnitude: s.greatest.Magnitude}
	if s.greatest.Central {
		g.Width = m.width(p)
	}
	o, err := s.prep.Observer(g.Site)
	if err != nil {
		return g // no place on the ellipsoid is refused
	}
	here := o.Instant(g.TT)
	g.Alt, g.Az, g.Duration = here.Alt, here.Az, o.Circumstances().Duration
	return g
}

// nearest is where the axis meets the sunlit ground, or the point of the Earth's
// outline nearest to it.
func (m *moment) nearest() point {
	if m.inside(m.x, m.y) >= 0 {
		return m.lift(m.x, m.y)
	}
	on := func(θ float64) (ξ, η float64) {
		sin, cos := math.Sincos(θ)
		return sin, m.pole * cos
	}
	θ := math.Atan2(m.x, m.y/m.pole)
	θ = peak(func(θ float64) float64 {
		ξ, η := on(θ)
		return -math.Hypot(m.x-ξ, m.y-η)
	}, θ-0.1, θ+0.1)
	ξ, η := on(θ)
	return point{ξ, η, -m.κ * η}
}

// kindAt is what a place under the axis sees, from the sign of the umbra there.
func (m *moment) kindAt(p point) eclipse.Kind {
	if m.l2-p.ζ*m.f2 < 0 {
		return eclipse.Total
	}
	return eclipse.Annular
}
