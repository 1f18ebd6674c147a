package main

import (
	"math"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/limb"
	"example.org/noonfall/examples/internal/cli"
)

// An edge is what the Moon's real edge does at the site.
type edge struct {
	limb.Contacts
	moon limb.Moon
	seen eclipse.Kind // what the Sun above the horizon shows of LimbKind
	// larger is LimbDuration with a larger Sun, s; 0 where nothing is left of it.
	larger float64
}

// largerSun, arcsec, is by how much the Sun's radius from measurements at eclipses
// exceeds the almanacs' at most (from memory; see limb.Options).
const largerSun = 0.3

// meet asks the library for the real edge.
func meet(o *eclipse.Observer, smooth *eclipse.Circumstances) (edge, error) {
	moon, err := limb.NewMoon(o, limb.Options{})
	if err != nil {
		return edge{}, err
	}
	wide, err := limb.NewMoon(o, limb.Options{SunRadius: limb.DefaultSunRadius + largerSun})
	if err != nil {
		return edge{}, err
	}
	e := edge{Contacts: moon.Contacts(), moon: moon}
	e.seen = min(smooth.Seen, eclipse.Partial)
	for _, p := range e.Phases[:e.Count] {
		if p.Begin.Above || p.End.Above {
			e.seen = e.LimbKind
		}
	}
	if c := wide.Contacts(); c.LimbKind == e.LimbKind {
		e.larger = c.LimbDuration
	}
	return e, nil
}

// ends are second and third contact; they exist where there is a central phase.
func (e *edge) ends() []*limb.Contact {
	if e.Count == 0 {
		return nil
	}
	return []*limb.Contact{&e.LimbC2, &e.LimbC3}
}

// durationU is a standard uncertainty of LimbDuration, s. What is wrong with the heights
// is for the most part wrong alike at both ends, so that the parts are added.
func (e *edge) durationU() float64 { return e.LimbC2.TimeU + e.LimbC3.TimeU }

// doubtful says that the site is so near a limit of the path that the phase may as well
// not take place: within two standard deviations, or with a larger Sun.
func (e *edge) doubtful() bool {
	return e.Count > 0 && (e.larger == 0 || !(e.LimbDuration > 2*e.durationU()))
}

// A view is the answer with one of the two Moons: the one that the advice goes by.
type view struct {
	geometry, seen eclipse.Kind
	second, third  eclipse.Contact
	duration       float64 // s
	pieces         int
	doubtful       bool
}

// advice is the view that -limb asks for.
func (p *plan) advice() view {
	if p.limb == cli.Real {
		e := &p.edge
		return view{e.LimbKind, e.seen, e.LimbC2.Contact, e.LimbC3.Contact, e.LimbDuration, e.Count, e.doubtful()}
	}
	c := &p.local
	return view{c.Geometry, c.Seen, c.C2, c.C3, c.Duration, 1, false}
}

// middle is the instant whose limb is drawn: between second and third contact, or else
// the maximum.
func (p *plan) middle() (t eclipse.Contact) {
	if !p.edge.LimbC2.Exists {
		return p.local.Max
	}
	return p.edge.moon.Observer().Instant((p.edge.LimbC2.TT + p.edge.LimbC3.TT) / 2)
}

// sunEdge returns how far the Sun's edge stands from the Moon's centre at a position
// angle there, arcsec; NaN where the Sun is not in that direction.
func (p *plan) sunEdge(at eclipse.Contact) func(angle float64) float64 {
	const deg = math.Pi / 180
	o := p.edge.moon.Observer()
	sun, moon := o.Places(at.TT)
	sinα, cosα := math.Sincos((sun.RA - moon.RA) * deg)
	sinδ, cosδ := math.Sincos(sun.Dec * deg)
	sin0, cos0 := math.Sincos(moon.Dec * deg)
	east, north := cosδ*sinα, sinδ*cos0-cosδ*sin0*cosα
	apart, towards := math.Hypot(east, north)/deg*3600, math.Atan2(east, north)
	radius := o.Aspect(at.TT).SunRadius * 3600
	return func(angle float64) float64 {
		sin, cos := math.Sincos(angle*deg - towards)
		return apart*cos + math.Sqrt(radius*radius-apart*apart*sin*sin)
	}
}
