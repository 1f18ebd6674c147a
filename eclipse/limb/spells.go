package limb

import "math"

// A spell is the time in which a point of the Moon's limb stands before the Sun's
// disc, in the track's units; none where begin > end.
type spell struct{ begin, end float64 }

// far is beyond the ends of a track: what is farther off is only known to be so.
const far = 1.1

// spells are those of all points of a limb.
type spells struct {
	pane
	at [points]spell
}

// find solves for every point: with p = r u its place and s the Sun's,
//
//	|p - s|^2 - sun^2 = clear - 2 r u.s + r^2
//
// is a quartic in time, nearly a parabola, and negative while p is before the Sun. The
// limb itself changes a little with the libration.
func (s *spells) find() {
	p := &s.pane
	for i := range s.at {
		q := p.offset(p.radius[i], p.drift[i], p.grid.sin[i], p.grid.cos[i])
		s.at[i] = q.below()
	}
}

// offset is the quartic of a point in the direction of a sine and cosine, whose radius
// drifts.
func (t *track) offset(r, drift, sin, cos float64) (q quartic) {
	along := 0.0 // u.s of the power before
	for k := range q {
		next := t.x[k]*sin + t.y[k]*cos
		q[k] = t.clear[k] - 2*(r*next+drift*along)
		along = next
	}
	q[0] += r * r
	q[1] += 2 * r * drift
	q[2] += drift * drift
	return q
}

// below is where a quartic that is nearly a parabola, open upwards, is negative.
func (q *quartic) below() spell {
	vertex := -q[1] / (2 * q[2])
	if math.Abs(vertex) > far {
		vertex = 0
	}
	// The parabola that osculates there.
	v, d := q.with(vertex)
	c := q[2] + vertex*(3*q[3]+vertex*6*q[4])
	root := d*d - 4*c*v
	if !(root > 0 && c > 0) {
		return spell{math.Inf(1), math.Inf(-1)}
	}
	root = math.Sqrt(root)
	return spell{
		q.polish(vertex - (d+root)/(2*c)),
		q.polish(vertex + (root-d)/(2*c)),
	}
}

// polish brings a root home by Newton's rule, if it is within reach.
func (q *quartic) polish(x float64) float64 {
	for range 4 {
		if !(math.Abs(x) < far) {
			break
		}
		v, d := q.with(x)
		if d == 0 { // a graze of no length; the parabola's root will do
			break
		}
		by := v / d
		if x -= by; math.Abs(by) < 1e-6 { // some 0.3 ms; the next step would be its square
			break
		}
	}
	return x
}

// ring is the time in which all of the limb stands before the Sun, and the points that
// come in last and leave first.
func (s *spells) ring() (ring spell, first, last int) {
	ring = spell{math.Inf(-1), math.Inf(1)}
	for i, p := range s.at {
		if p.begin > ring.begin {
			ring.begin, first = p.begin, i
		}
		if p.end < ring.end {
			ring.end, last = p.end, i
		}
	}
	return ring, first, last
}

// An edge is one end of a dark spell, and the point of the limb that makes it.
type edge struct {
	at    float64
	point int
}

// A dark spell has no point of the limb before the Sun: totality.
type dark struct{ begin, end edge }

// MaxPhases is how many phases of totality a site is given at most, near a limit.
const MaxPhases = 6

// darks are the spells of totality in order. Points that are before the Sun when the
// track begins close it, those that are when it ends open it again; near a limit
// valleys beside the track let light through in between, for a while.
func (s *spells) darks() (out [MaxPhases]dark, n int) {
	closed, open := edge{math.Inf(-1), 0}, edge{math.Inf(1), 0}
	for i, p := range s.at {
		if p.begin <= -1 && p.end > closed.at {
			closed = edge{p.end, i}
		}
		if p.end >= 1 && p.begin < open.at {
			open = edge{p.begin, i}
		}
	}
	for closed = s.shut(closed); n < MaxPhases && closed.at < open.at; n++ {
		next, more := s.valley(closed, open)
		out[n] = dark{closed, next}
		if !more {
			return out, n + 1
		}
		closed = s.shut(edge{s.at[next.point].end, next.point})
	}
	return out, n
}

// valley is the one beside the track that opens next, if any does before the end.
func (s *spells) valley(after, end edge) (next edge, found bool) {
	next = end
	for i, p := range s.at {
		if p.begin > after.at && p.begin < next.at && p.end < 1 {
			next, found = edge{p.begin, i}, true
		}
	}
	return next, found
}

// shut is when light is gone that some valley stops to let in at an edge, others
// having taken over meanwhile.
func (s *spells) shut(to edge) edge {
	for grown := true; grown; {
		grown = false
		for i, p := range s.at {
			if p.begin <= to.at && p.end > to.at && p.end < 1 {
				to, grown = edge{p.end, i}, true
			}
		}
	}
	return to
}
