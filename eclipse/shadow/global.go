package shadow

import (
	"fmt"

	"example.org/noonfall/eclipse"
)

// Global are the circumstances of an eclipse for the Earth as a whole. Contacts
// with the Earth are those with its outline as seen along the axis: the Sun's
// centre stands in the horizon there, without refraction.
type Global struct {
	Type  eclipse.Type // partial, annular, total or hybrid
	Gamma float64      // least distance of the axis from the Earth's centre, equatorial radii, positive to the north
	// Central says that the axis meets the Earth. An umbra that does without its
	// axis is total or annular, but not central.
	Central bool
	// First and Last are what the two ends of the central line see: they tell the
	// forms of a hybrid eclipse, and are None without a line.
	First, Last eclipse.Kind
	Greatest    Greatest // when and where the axis passes closest to the Earth's centre
	// P1 and P4 are first and last contact of the penumbra. Between P2 and P3 it
	// falls on the Earth whole, where it ever does.
	P1, P2, P3, P4 Event
	// U1..U4 are the same for the umbra, or the antumbra of an annular eclipse.
	U1, U2, U3, U4 Event
	// Line, North and South are the ends of the central line and of the umbra's
	// limits; PenumbraNorth and PenumbraSouth those of the penumbra's.
	Line, North, South           Ends
	PenumbraNorth, PenumbraSouth Ends
}

// Ends are where a line begins and ends, both at once or neither.
type Ends struct {
	Begin, End Event // in order of time
}

// Exists says whether there is such a line.
func (e Ends) Exists() bool { return e.Begin.Exists }

// Global returns the circumstances for the Earth as a whole.
func (s *Shadow) Global() Global { return s.global }

func (s *Shadow) circumstances() (g Global) {
	g.Type, g.Gamma, g.Central = s.greatest.Type, s.greatest.Gamma, s.greatest.Central
	g.Greatest = s.greatestPlace()
	both := func(c cone, outer, inner *[2]*Event) {
		o, i := s.contacts(c)
		if o.exists {
			*outer[0], *outer[1] = s.touch(c, o.from, false), s.touch(c, o.to, false)
		}
		if i.exists {
			*inner[0], *inner[1] = s.touch(c, i.from, true), s.touch(c, i.to, true)
		}
	}
	both(penumbra, &[2]*Event{&g.P1, &g.P4}, &[2]*Event{&g.P2, &g.P3})
	g.PenumbraNorth, g.PenumbraSouth = s.limitEnds(penumbra, north), s.limitEnds(penumbra, south)
	if g.Type == eclipse.TypePartial {
		return g
	}
	both(umbra, &[2]*Event{&g.U1, &g.U4}, &[2]*Event{&g.U2, &g.U3})
	g.North, g.South = s.limitEnds(umbra, north), s.limitEnds(umbra, south)
	if l := s.line(); l.exists {
		g.Line.Begin, g.First = s.axisEnd(l.from)
		g.Line.End, g.Last = s.axisEnd(l.to)
	}
	return g
}

func (s *Shadow) limitEnds(c cone, sd side) Ends {
	l := s.limit(c, sd)
	if !l.exists {
		return Ends{}
	}
	end := func(t float64) Event {
		m := s.at(t)
		return s.event(t, m.place(m.border(c, sd, (*moment).rim).point))
	}
	return Ends{end(l.from), end(l.to)}
}

func (s *Shadow) axisEnd(t float64) (Event, eclipse.Kind) {
	m := s.at(t)
	p := m.lift(m.x, m.y)
	return s.event(t, m.place(p)), m.kindAt(p)
}

// Form names the type with what is special about it: "total", "annular, not
// central", "annular, no northern limit", "hybrid, begins annular and ends total".
func (g Global) Form() string {
	text := g.Type.String()
	if g.Type == eclipse.TypePartial {
		return text
	}
	if !g.Central {
		text += ", not central"
	}
	if !g.North.Exists() {
		text += ", no northern limit"
	}
	if !g.South.Exists() {
		text += ", no southern limit"
	}
	if g.Type == eclipse.TypeHybrid {
		text += fmt.Sprintf(", begins %v and ends %v", g.First, g.Last)
	}
	return text
}
