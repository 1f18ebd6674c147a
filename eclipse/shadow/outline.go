package shadow

import (
	"math"
	"slices"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
)

// A patch is a part of the path that sees one kind of central phase: its outline,
// without repeating the first point.
type patch struct {
	kind    eclipse.Kind
	outline []sun.Site
}

// steps is how many pieces a limit of a whole path is drawn with; they are densest
// near the horizon, where the shadow runs fastest.
const steps = 400

// patches outlines the ground from which the central phase is seen with the Sun's
// centre above the horizon. A hybrid path pinches to a point where the umbra's tip
// touches the ground, and each part between is a patch of its own.
func (s *Shadow) patches() []patch {
	g := &s.global
	if !g.North.Exists() && !g.South.Exists() {
		return nil
	}
	tips := s.tips()
	var out []patch
	for i := 0; i <= len(tips); i++ {
		from, to := math.Inf(-1), math.Inf(1)
		if i > 0 {
			from = tips[i-1]
		}
		if i < len(tips) {
			to = tips[i]
		}
		out = append(out, s.patch(from, to))
	}
	return out
}

// tips are the instants at which the umbra's tip is on the ground, hours from T0.
func (s *Shadow) tips() (out []float64) {
	line := s.line()
	if !line.exists {
		return nil
	}
	radius := func(t float64) float64 {
		m := s.at(t)
		return m.l2 - m.lift(m.x, m.y).ζ*m.f2
	}
	// Between them the radius has one extreme and rises or falls to either side, for
	// the height over the plane has.
	const pieces = 200
	last, before := line.from, radius(line.from)
	for i := 1; i <= pieces; i++ {
		t := line.from + (line.to-line.from)*float64(i)/pieces
		here := radius(t)
		if (here < 0) != (before < 0) {
			out = append(out, zero(radius, last, t))
		}
		last, before = t, here
	}
	return out
}

// patch outlines the path between two instants; infinite ones stand for its ends.
func (s *Shadow) patch(from, to float64) patch {
	g := &s.global
	left, right := s.draw(north, from, to), s.draw(south, from, to)
	outline := left
	var p patch
	if g.North.Exists() && g.South.Exists() {
		if math.IsInf(to, 1) {
			outline = append(outline, s.rim(false, g.North.End, g.South.End)...)
		}
		for i := len(right) - 1; i >= 0; i-- {
			outline = append(outline, right[i])
		}
		if math.IsInf(from, -1) {
			outline = append(outline, s.rim(true, g.South.Begin, g.North.Begin)...)
		}
	} else {
		limit := g.North
		if !limit.Exists() {
			limit, outline = g.South, right
		}
		outline = append(outline, s.rim(true, limit.End, limit.Begin)...)
	}
	// Start amid a limit, so that no corner is at the seam.
	k := len(outline) / 8
	p.outline = append(slices.Clip(outline[k:]), outline[:k]...)
	mid := s.hours(s.greatest.TT)
	if line := s.line(); line.exists {
		mid = (max(from, line.from) + min(to, line.to)) / 2
	}
	m := s.at(mid)
	p.kind = m.kindAt(m.nearest())
	return p
}

// draw follows a limit between two instants. Both limits share their instants
// wherever both exist, so that they cannot cross however narrow the path.
func (s *Shadow) draw(sd side, from, to float64) (out []sun.Site) {
	own, other := s.span(sd), s.span(-sd)
	if !own.exists {
		return nil
	}
	both := own
	if other.exists {
		both = stay{true, max(own.from, other.from), min(own.to, other.to)}
	}
	for _, t := range s.instants(own, both, from, to) {
		m := s.at(t)
		switch {
		case t == from || t == to: // the tip
			out = append(out, m.place(m.lift(m.x, m.y)))
		case t <= own.from || t >= own.to:
			out = append(out, m.place(m.border(umbra, sd, (*moment).rim).point))
		default:
			if e := m.border(umbra, sd, (*moment).edge); e.inside > 0 {
				out = append(out, m.place(e.point))
			}
		}
	}
	return out
}

// span is when a limit exists, hours from T0.
func (s *Shadow) span(sd side) stay {
	e := s.global.North
	if sd == south {
		e = s.global.South
	}
	return stay{e.Exists(), s.hours(e.Begin.TT), s.hours(e.End.TT)}
}

// instants are those at which a limit is drawn: of the stretch that both limits
// have, and of what the one has before and after it.
func (s *Shadow) instants(own, both stay, from, to float64) (out []float64) {
	add := func(a, b float64, n int) {
		for i := range n + 1 {
			t := a + (b-a)*(1-math.Cos(math.Pi*float64(i)/float64(n)))/2
			if t >= from && t <= to && (len(out) == 0 || t > out[len(out)-1]) {
				out = append(out, t)
			}
		}
	}
	if from > own.from {
		out = append(out, from)
	} else if own.from < both.from {
		add(own.from, both.from, steps/10)
	}
	add(both.from, both.to, steps)
	if to < own.to {
		out = append(out, to)
	} else if own.to > both.to {
		add(both.to, own.to, steps/10)
	}
	return out
}
