package shadow

import "math"

// A cone is one of the two shadows.
type cone uint8

const (
	penumbra cone = iota
	umbra
)

// radius gives a cone's radius in the fundamental plane, the tangent of its
// half-angle, and their rates per hour. The umbra's is negative where it is total.
func (m *moment) radius(c cone) (l, f, dl, df float64) {
	if c == umbra {
		return m.l2, m.f2, m.dl2, m.df2
	}
	return m.l1, m.f1, m.dl1, m.df1
}

// An edge is where the line of a cone at position angle Q (from north through
// east as seen from the Sun's side of the axis) meets the ground.
type edge struct {
	point
	l      float64 // the cone's radius at its height
	g      float64 // the gap's rate: d(distance^2 - l^2)/dt = -2 l g at the fixed site
	inside float64 // of the rim, see below: positive where the line meets sunlit ground
}

// rim is where the line passes the horizon's plane: on the ground where inside is
// zero, and a number continuous in Q and t everywhere.
func (m *moment) rim(c cone, Q float64) edge {
	l, f, _, _ := m.radius(c)
	sinQ, cosQ := math.Sincos(Q)
	// r = l - zeta f and zeta = -κ (y + r cos Q).
	r := (l + m.κ*f*m.y) / (1 - m.κ*f*cosQ)
	e := edge{l: r, point: point{ξ: m.x + r*sinQ, η: m.y + r*cosQ}}
	e.ζ = -m.κ * e.η
	e.inside = m.inside(e.ξ, e.η)
	e.g = m.gain(c, e.point, sinQ, cosQ)
	return e
}

// edge follows the line from the rim: from inside the Earth's outline it comes out
// of the ground exactly once on the sunlit side. A line that starts a few metres
// outside and leans in may pass through the last half degree of ground before
// the horizon; that ground is left out, and the rim stands in for it.
func (m *moment) edge(c cone, Q float64) edge {
	e := m.rim(c, Q)
	if !(e.inside > 0) {
		return e
	}
	_, f, _, _ := m.radius(c)
	sinQ, cosQ := math.Sincos(Q)
	v := point{-f * sinQ, -f * cosQ, 1}
	a, b, below := m.slant(v, v), m.slant(e.point, v), m.slant(e.point, e.point)-1
	h := (-b + math.Sqrt(b*b-a*below)) / a
	e.point = point{e.ξ + h*v.ξ, e.η + h*v.η, e.ζ + h}
	e.l -= h * f
	e.g = m.gain(c, e.point, sinQ, cosQ)
	return e
}

// gain is g at a point of the cone's edge.
func (m *moment) gain(c cone, p point, sinQ, cosQ float64) float64 {
	_, f, dl, df := m.radius(c)
	w := m.ground(p)
	return sinQ*(m.dx-w.ξ) + cosQ*(m.dy-w.η) + dl - w.ζ*f - p.ζ*df
}

// A side is one of the two edges of a track.
type side float64

const (
	north side = -1 // to the left of the shadow's way
	south side = 1
)

// border finds the point of the cone's edge that is on the limit at the moment:
// the site whose distance from the cone has a double root in time there, so that
// g = 0. The shadow overtakes the ground everywhere (0.26 Earth radii an hour at
// most against 0.45 at least), so that g is positive ahead of the axis and
// negative behind it, and there is a zero on either side. Whether the edge is
// looked for on the ground or on the rim is the last argument's choice.
func (m *moment) border(c cone, s side, look func(*moment, cone, float64) edge) edge {
	foot := m.lift(m.x, m.y)
	w := m.ground(foot)
	ahead := math.Atan2(m.dx-w.ξ, m.dy-w.η)
	if l, f, _, _ := m.radius(c); l-foot.ζ*f < 0 {
		s = -s // a negative radius points the other way
	}
	return look(m, c, zero(func(Q float64) float64 { return look(m, c, Q).g }, ahead, ahead+float64(s)*math.Pi))
}
