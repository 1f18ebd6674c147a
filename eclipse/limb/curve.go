package limb

import (
	"iter"
	"math"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun/timescale"
)

// A Curve is the light of one eclipse at one site over time, with the real limb. It is
// made once and then read at any instant, like an eclipse.Curve, whose methods it has.
// It is safe for concurrent use.
type Curve struct {
	round    *eclipse.Curve
	moon     Moon
	contacts Contacts
	origin   timescale.TT
	stretch  []stretch
	dark     []spell // totality, s from origin
}

// NewCurve prepares the light before an observer's Moon, in some six milliseconds.
// The error is eclipse.ErrNoEclipse where there is none, or says what cannot be used.
func NewCurve(m Moon, opt eclipse.CurveOptions) (*Curve, error) {
	round, err := eclipse.NewCurve(m.observer, opt)
	if err != nil {
		return nil, err
	}
	c := &Curve{round: round, moon: m, contacts: m.Contacts()}
	circ := round.Circumstances()
	c.origin = circ.Max.TT
	c.fill(&circ)
	return c, nil
}

const (
	// early is how much before the smooth first contact the table begins, s: the real
	// one may come as much earlier, and does so by ten at most.
	early = 30.
	// beads is how long from an inner contact the table is closest, s, and its nodes
	// there and in all the rest of half a phase.
	beads      = 64.
	beadNodes  = 90
	broadNodes = 110
)

// fill tabulates between the knots: the ends, what the limb makes second and third
// contact of, or maximum.
func (c *Curve) fill(circ *eclipse.Circumstances) {
	since := func(t timescale.TT) float64 { return float64(t - c.origin) }
	knots := []float64{since(circ.C1.TT) - early}
	switch {
	case c.contacts.Count > 0:
		knots = append(knots, since(c.contacts.LimbC2.TT), since(c.contacts.LimbC3.TT))
	case circ.Geometry > eclipse.Partial:
		knots = append(knots, since(circ.C2.TT), since(circ.C3.TT))
	default:
		knots = append(knots, 0)
	}
	knots = append(knots, since(circ.C4.TT)+early)
	if c.contacts.LimbKind == eclipse.Total {
		for _, p := range c.contacts.Phases[:c.contacts.Count] {
			c.dark = append(c.dark, spell{since(p.Begin.TT), since(p.End.TT)})
		}
	}
	w := window{moon: &c.moon, origin: c.origin, law: newRim(c.round.Options().Law)}
	for i := 1; i < len(knots); i++ {
		a, b := knots[i-1], knots[i]
		if len(c.dark) == 1 && c.dark[0] == (spell{a, b}) {
			continue
		}
		middle := (a + b) / 2
		c.add(a, middle, i > 1, w.light)
		c.add(b, middle, i < len(knots)-1, w.light)
	}
}

// add tabulates from a knot to an end, closest where there are beads.
func (c *Curve) add(knot, end float64, inner bool, light func(float64) float64) {
	start := knot
	if inner && math.Abs(end-knot) > 2*beads {
		start = knot + math.Copysign(beads, end-knot)
		c.stretch = append(c.stretch, tabulate(knot, knot, start, beadNodes, light))
	}
	if end != start {
		c.stretch = append(c.stretch, tabulate(knot, start, end, broadNodes, light))
	}
}

// A window computes the light at any instant, pane by pane.
type window struct {
	moon   *Moon
	origin timescale.TT
	law    *rim
	pane   pane
	made   bool
}

// paneHalf is half the time that a pane is used for, s: the libration changes by 0.1
// degrees in it, the fifth of a step of the grid.
const paneHalf = 300.

func (w *window) light(t float64) float64 {
	at := w.origin + timescale.TT(t)
	x := float64(at-w.pane.middle) / paneHalf
	if !w.made || !(math.Abs(x) <= 1) {
		middle := w.origin + timescale.TT(2*paneHalf*math.Round(t/(2*paneHalf)))
		w.moon.pane(w.moon.follow(middle, paneHalf), &w.pane)
		w.made = true
		x = float64(at-middle) / paneHalf
	}
	return w.pane.light(w.law, x)
}

// Flux is the visible fraction of the Sun's light: 1 outside the eclipse and 0 in
// totality. The table is within 1e-5 of the full light, and within 2e-3 of what light is
// left wherever that is above 1e-6, 1e-2 in the last five seconds and near limits. NaN
// gives NaN.
func (c *Curve) Flux(t timescale.TT) float64 {
	s := float64(t - c.origin)
	for _, d := range c.dark {
		if s >= d.begin && s <= d.end {
			return 0
		}
	}
	for i := range c.stretch {
		if k := &c.stretch[i]; s >= k.from && s <= k.to {
			return k.read(s)
		}
	}
	if math.IsNaN(s) {
		return s
	}
	return 1
}

// ClearLux is the illuminance of the horizontal under a clear sky without the
// eclipse, lx.
func (c *Curve) ClearLux(t timescale.TT) float64 { return c.round.ClearLux(t) }

// Lux is the illuminance of the horizontal to be expected under a clear sky, lx, with
// the floor of totality as in eclipse.Curve.
func (c *Curve) Lux(t timescale.TT) float64 { return c.dim(c.round.ClearLux(t), c.Flux(t)) }

func (c *Curve) dim(clear, flux float64) float64 {
	return clear*flux + c.round.Options().Floor*(1-flux)
}

// At reads the curve at an instant. The obscuration is the smooth Moon's, as tables
// print it.
func (c *Curve) At(t timescale.TT) eclipse.Point {
	p := c.round.At(t)
	p.Flux = c.Flux(t)
	p.Lux = c.dim(c.round.ClearLux(t), p.Flux)
	return p
}

// All walks the curve as eclipse.Curve.All does, at the same instants.
func (c *Curve) All(step time.Duration) iter.Seq[eclipse.Point] {
	return func(yield func(eclipse.Point) bool) {
		for p := range c.round.All(step) {
			if !yield(c.At(p.TT)) {
				return
			}
		}
	}
}

// Contacts returns second and third contact as the limb makes them.
func (c *Curve) Contacts() Contacts { return c.contacts }

// Circumstances returns the site's circumstances with the smooth Moon.
func (c *Curve) Circumstances() eclipse.Circumstances { return c.round.Circumstances() }

// Observer returns the observer whose light this is.
func (c *Curve) Observer() *eclipse.Observer { return c.round.Observer() }

// Options returns the options in force, defaults filled in.
func (c *Curve) Options() eclipse.CurveOptions { return c.round.Options() }

// Moon returns the Moon that the light passes.
func (c *Curve) Moon() Moon { return c.moon }

// Round returns the curve of the smooth Moon with the same options.
func (c *Curve) Round() *eclipse.Curve { return c.round }
