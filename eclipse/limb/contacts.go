package limb

import (
	"math"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun/timescale"
)

// A Contact is an instant at which the real limb and the Sun's edge touch. The
// embedded Contact has the clocks, the Sun's height, and P and V of the touching
// point, from the Sun's centre.
type Contact struct {
	eclipse.Contact
	// OnMoon is the position angle of the touching point at the Moon's centre, from the
	// axis of the Moon through the sky's east, degrees [0, 360): the place in a Profile.
	OnMoon float64
	// Beads is how long before a begin, or after an end, the limb is broken there, s:
	// within BeadArc of the touching point some valleys shine and some peaks do not. What
	// is more than 100 s outside the smooth phase, or five minutes from the maximum of one
	// shorter than that leaves, is not counted; so long they last only near limits.
	Beads float64
	// TimeU is a standard uncertainty, s: that of the heights over the speed at which
	// Sun and limb part here, with the elements' own. Neither clock nor Delta T nor the
	// site is in it.
	TimeU float64
}

// BeadArc is how far from the touching point beads are looked for, degrees either way.
const BeadArc = 15

// A Phase is an unbroken time of totality, or of a closed ring.
type Phase struct {
	Begin, End Contact // when the phase is entered and left
	Duration   float64 // s
}

// Contacts are second and third contact as the real limb makes them. Names begin with
// Limb where eclipse.Circumstances has the smooth Moon's.
type Contacts struct {
	// LimbKind is what the site gets, the horizon ignored: Total or Annular where it
	// does for a moment at least, Partial where light or peaks break every moment, None
	// without an eclipse.
	LimbKind eclipse.Kind
	// LimbC2 is the first begin and LimbC3 the last end: the last valley closed and
	// the first opened, or the last peak inside the Sun's edge and the first out.
	LimbC2, LimbC3 Contact
	LimbDuration   float64 // of all phases together, s
	// Phases are what lies between, of which there are several near the limits of
	// totality, where valleys beside the track open and close: Phases[:Count].
	Phases [MaxPhases]Phase
	Count  int
}

const (
	// margin is what a track covers beyond the smooth contacts, s, and grazing what it
	// covers either side of maximum where there are none.
	margin  = 100.
	grazing = 300.
	// room is how far from inner contact the smooth Moon may pass for the real one to
	// make it, arcsec: the highest mountains make four.
	room = 10.
)

// Contacts finds them, within a fifth of a millisecond.
func (m Moon) Contacts() (c Contacts) {
	if m.observer == nil {
		return c
	}
	circ := m.observer.Circumstances()
	c.LimbKind = min(circ.Geometry, eclipse.Partial)
	middle, half, ok := m.span(&circ)
	if !ok {
		return c
	}
	var s spells
	m.pane(m.follow(middle, half), &s.pane)
	s.find()
	if ring, first, last := s.ring(); ring.begin < ring.end {
		c.LimbKind = eclipse.Annular
		c.add(m.phase(&s, dark{edge{ring.begin, first}, edge{ring.end, last}}, inwards))
		return c
	}
	darks, n := s.darks()
	for _, d := range darks[:n] {
		c.LimbKind = eclipse.Total
		c.add(m.phase(&s, d, outwards))
	}
	return c
}

// span is when to look, if ever.
func (m *Moon) span(c *eclipse.Circumstances) (middle timescale.TT, half float64, ok bool) {
	switch {
	case c.Geometry == eclipse.None:
		return 0, 0, false
	case c.Geometry > eclipse.Partial && c.Duration > 2*(grazing-margin):
		return (c.C2.TT + c.C3.TT) / 2, c.Duration/2 + margin, true
	}
	a := m.observer.Aspect(c.Max.TT)
	gap := a.Separation - math.Abs(a.MoonRadius-a.SunRadius)
	return c.Max.TT, grazing, gap*3600 < room
}

func (c *Contacts) add(p Phase) {
	if c.Count == 0 {
		c.LimbC2 = p.Begin
	}
	c.Phases[c.Count] = p
	c.Count++
	c.LimbC3 = p.End
	c.LimbDuration += p.Duration
}

// A way says which way the points of the limb go at the begin of a phase: into the
// Sun's disc for a ring, out of it for totality.
type way int8

const (
	inwards way = iota
	outwards
)

func (m *Moon) phase(s *spells, d dark, w way) (p Phase) {
	heightU := valleyU
	if w == inwards {
		heightU = peakU
	}
	p.Begin, p.End = m.contact(s, d.begin, heightU), m.contact(s, d.end, heightU)
	p.Duration = float64(p.End.TT - p.Begin.TT)
	p.Begin.Beads = math.Max(0, s.half*(d.begin.at-math.Max(-1, s.earliest(d.begin.point, w))))
	p.End.Beads = math.Max(0, s.half*(math.Min(1, s.latest(d.end.point, w))-d.end.at))
	return p
}

// earliest is when the first point around the touching one went the phase's way.
func (s *spells) earliest(point int, w way) float64 {
	t := math.Inf(1)
	s.around(point, func(p spell) {
		if w == inwards {
			t = math.Min(t, p.begin)
		} else {
			t = math.Min(t, p.end)
		}
	})
	return t
}

// latest is when the last went back.
func (s *spells) latest(point int, w way) float64 {
	t := math.Inf(-1)
	s.around(point, func(p spell) {
		if w == inwards {
			t = math.Max(t, p.end)
		} else {
			t = math.Max(t, p.begin)
		}
	})
	return t
}

func (s *spells) around(point int, visit func(spell)) {
	const reach = int(BeadArc / step)
	for i := point - reach; i <= point+reach; i++ {
		if p := s.at[(i+points)%points]; p.begin <= p.end {
			visit(p)
		}
	}
}

// What the heights are good to where they make a contact, km: by so much (rms) contacts
// moved on the way from a map of half the resolution to the one in use, and the next
// step may well do the same. It is more for peaks, which a coarse map cuts off, than for
// valleys, which ridges before and behind them bound; and for peaks it is one-sided, so
// that a ring closes later and breaks earlier than computed rather than the other way.
const (
	valleyU = 0.18
	peakU   = 0.7
)

// contact dresses an edge.
func (m *Moon) contact(s *spells, e edge, heightU float64) (c Contact) {
	t := &s.pane.track
	c.Contact = m.observer.Instant(t.instant(e.at))
	sin, cos, r := m.grid.sin[e.point], m.grid.cos[e.point], s.radius[e.point]
	px, py := r*sin-t.x.at(e.at), r*cos-t.y.at(e.at) // from the Sun's centre
	zenith := c.P - c.V
	c.P = circle(math.Atan2(px, py)/deg + t.axis.at(e.at))
	c.V = circle(c.P - zenith)
	c.OnMoon = float64(e.point) * step
	_, vx := t.x.with(e.at)
	_, vy := t.y.with(e.at)
	rate := math.Abs(px*vx+py*vy) / math.Hypot(px, py) / t.half // km/s
	c.TimeU = math.Hypot(m.observer.Elements().TimeU, heightU/rate)
	return c
}

// circle brings degrees into [0, 360).
func circle(d float64) float64 {
	if d = math.Mod(d, 360); d < 0 {
		d += 360
	}
	return math.Mod(d, 360) // a tiny negative has rounded to 360
}
