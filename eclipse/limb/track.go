package limb

import (
	"math"

	"example.org/noonfall/sun/timescale"
)

// A quartic is a polynomial in [-1, 1] that runs through five nodes.
type quartic [5]float64

// nodes of a quartic; the ends are among them (Chebyshev's, of the second kind).
var nodes = [5]float64{-1, -math.Sqrt2 / 2, 0, math.Sqrt2 / 2, 1}

// through is the quartic with those values at the nodes. By even and odd parts: with
// a = f(1) +- f(-1) and b the same at the root of one half, x^2 and x^4 follow from two
// equations, x and x^3 likewise.
func through(f [5]float64) quartic {
	even1, even2 := (f[4]+f[0])/2-f[2], (f[3]+f[1])/2-f[2]
	odd1, odd2 := (f[4]-f[0])/2, (f[3]-f[1])/2*math.Sqrt2
	return quartic{f[2], 2*odd2 - odd1, 4*even2 - even1, 2*odd1 - 2*odd2, 2*even1 - 4*even2}
}

// at is the value.
func (q *quartic) at(x float64) float64 {
	return q[0] + x*(q[1]+x*(q[2]+x*(q[3]+x*q[4])))
}

// with is the value and the derivative.
func (q *quartic) with(x float64) (v, d float64) {
	v = q[0] + x*(q[1]+x*(q[2]+x*(q[3]+x*q[4])))
	d = q[1] + x*(2*q[2]+x*(3*q[3]+x*4*q[4]))
	return v, d
}

// A track is the Sun's way behind the Moon for some minutes around an instant; its
// argument is time in units of half, from -1 to 1.
type track struct {
	middle     timescale.TT
	half       float64 // s
	x, y, sun  quartic // as in scene
	clear      quartic // x^2 + y^2 - sun^2
	axis       quartic // Libration.Axis
	start, end Libration
	away       float64 // in the middle, as in scene
}

// follow makes the track.
func (m *Moon) follow(middle timescale.TT, half float64) track {
	t := track{middle: middle, half: half}
	var x, y, sun, clear, axis [5]float64
	r := newRotation(middle)
	for i, node := range nodes {
		at := middle + timescale.TT(half*node)
		s := m.scene(at, r.at(at))
		x[i], y[i], sun[i], axis[i] = s.x, s.y, s.sun, s.Axis
		clear[i] = s.x*s.x + s.y*s.y - s.sun*s.sun
		switch i {
		case 0:
			t.start = s.Libration
		case len(nodes) / 2:
			t.away = s.away
		case len(nodes) - 1:
			t.end = s.Libration
		}
	}
	t.x, t.y, t.sun, t.clear, t.axis = through(x), through(y), through(sun), through(clear), through(axis)
	return t
}

// instant of an argument.
func (t *track) instant(x float64) timescale.TT { return t.middle + timescale.TT(t.half*x) }
