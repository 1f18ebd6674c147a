package shadow

import (
	"math"

	"example.org/noonfall/sun"
)

// The WGS84 ellipsoid (NIMA TR8350.2, 2000). In the fundamental frame, with
//
//	out  = zeta cos d - eta sin d     away from the Earth's axis, in the meridian of the shadow's
//	pole = eta cos d + zeta sin d     along the Earth's axis
//
// its points have xi^2 + out^2 + q pole^2 = 1.
const (
	radiusKm   = 6378.137
	flattening = 1 / 298.257223563
	q          = 1 / ((1 - flattening) * (1 - flattening))
)

// A point is a place in the fundamental frame, Earth equatorial radii.
type point struct{ ξ, η, ζ float64 }

// outline prepares the quadric: a zeta^2 + 2 a κ eta zeta + ... The points at
// which the axis' direction touches the ellipsoid, with the Sun's centre in the
// horizon, lie in the plane zeta = -κ eta, and their outline on the fundamental
// plane is the ellipse xi^2 + (eta/pole)^2 = 1.
func (m *moment) outline() {
	m.a = m.cosd*m.cosd + q*m.sind*m.sind
	m.κ = (q - 1) * m.sind * m.cosd / m.a
	m.pole = math.Sqrt(m.a / q)
}

// inside is positive where a line along the axis through (xi, eta) meets the
// Earth: 1 - xi^2 - (eta/pole)^2.
func (m *moment) inside(ξ, η float64) float64 { return 1 - ξ*ξ - η*η/(m.pole*m.pole) }

// lift returns the sunlit ground over (xi, eta), or the horizon's plane where
// there is none.
func (m *moment) lift(ξ, η float64) point {
	return point{ξ, η, math.Sqrt(math.Max(0, m.inside(ξ, η)/m.a)) - m.κ*η}
}

// slant is half the product of two vectors under the quadric's form.
func (m *moment) slant(a, b point) float64 {
	ao, ap := a.ζ*m.cosd-a.η*m.sind, a.η*m.cosd+a.ζ*m.sind
	bo, bp := b.ζ*m.cosd-b.η*m.sind, b.η*m.cosd+b.ζ*m.sind
	return a.ξ*b.ξ + ao*bo + q*ap*bp
}

// normal is the ground's upward direction at a point.
func (m *moment) normal(p point) point {
	out, pole := p.ζ*m.cosd-p.η*m.sind, q*(p.η*m.cosd+p.ζ*m.sind)
	n := point{p.ξ, pole*m.cosd - out*m.sind, out*m.cosd + pole*m.sind}
	r := math.Sqrt(n.ξ*n.ξ + n.η*n.η + n.ζ*n.ζ)
	return point{n.ξ / r, n.η / r, n.ζ / r}
}

// place is the site at a point of the ellipsoid.
func (m *moment) place(p point) sun.Site {
	out, pole := p.ζ*m.cosd-p.η*m.sind, p.η*m.cosd+p.ζ*m.sind
	lon := math.Remainder((math.Atan2(p.ξ, out)-m.μ)/deg, 360)
	if lon >= 180 {
		lon -= 360
	}
	return sun.Site{Lat: math.Atan2(q*pole, math.Hypot(p.ξ, out)) / deg, Lon: lon}
}

// ground is how fast the ground moves at a point of the turning Earth, per hour.
func (m *moment) ground(p point) point {
	return point{
		ξ: m.dμ * (p.ζ*m.cosd - p.η*m.sind),
		η: m.dμ*p.ξ*m.sind - m.dd*p.ζ,
		ζ: m.dd*p.η - m.dμ*p.ξ*m.cosd,
	}
}
