package eclipse

import (
	"fmt"
	"math"

	"example.org/noonfall/eclipse/internal/bracket"
)

// A Horizon decides when the Sun counts as up. The zero value is what people
// see: the upper limb, lifted by refraction. The horizon is that of the sea at
// eye level: no hills, and no dip for a site's height.
type Horizon uint8

// The horizons. Refraction on it is 34 arcmin, as the almanacs take it.
const (
	RefractedUpperLimb Horizon = iota // any of the Sun shows; centre above about -0.83 degrees
	RefractedCentre                   // centre above -0.57 degrees
	UpperLimb                         // without air; centre above about -0.27 degrees
	Centre                            // the geometric altitude of the centre above zero
)

// horizons is the one table of what they mean.
var horizons = [...]struct {
	name       string
	refraction float64 // degrees
	limb       float64 // solar radii that reach above the centre
}{
	RefractedUpperLimb: {"refracted upper limb", 34.0 / 60, 1},
	RefractedCentre:    {"refracted centre", 34.0 / 60, 0},
	UpperLimb:          {"upper limb", 0, 1},
	Centre:             {"centre", 0, 0},
}

// String is one of "refracted upper limb", "refracted centre", "upper limb" and "centre".
func (h Horizon) String() string {
	if int(h) < len(horizons) {
		return horizons[h].name
	}
	return fmt.Sprintf("horizon %d", uint8(h))
}

// rising is the altitude of the centre at which the Sun rises, degrees, for its
// radius in radians.
func (o *Observer) rising(radius float64) float64 {
	h := &horizons[o.prep.opt.Horizon]
	return -h.refraction - h.limb*radius/deg
}

// height is the Sun's altitude over that at which it rises, degrees.
func (o *Observer) height(t float64) float64 {
	var w view
	o.see(t, &w)
	p := w.discs(o.prep.k1, o.k)
	return o.sun(&w, p.sunZ).altitude() - o.rising(p.sun)
}

// horizon fills in what the horizon leaves of an eclipse: rise and set, what kind
// is seen, and the deepest instant with the Sun up. h1 and h4 are the hour angles
// at C1 and C4, radians.
func (o *Observer) horizon(c *Circumstances, h1, h4 float64) {
	// Between two lower culminations, at half a turn, the altitude is lowest at an
	// end, but for what the declination's own change of 0.02 degrees an hour does.
	const clear = 0.1 // degrees above the highest of the horizons
	if min(c.C1.Alt, c.C4.Alt) > clear && math.Floor(h1/(2*math.Pi)+0.5) == math.Floor(h4/(2*math.Pi)+0.5) {
		c.Seen = c.Geometry
		c.MaxSeen, c.SeenMagnitude, c.SeenObscuration = c.Max, c.Magnitude, c.Obscuration
		return
	}
	t, last := o.hours(c.C1.TT), o.hours(c.C4.TT)
	up := span{from: t}
	a := o.height(t)
	for knot, n := t-turnReach, 0; t < last && n < mostPieces; n++ {
		knot = o.pieceEnd(knot)
		next, b := o.turn(knot, last)
		if !(next > t) {
			continue
		}
		switch {
		case a <= 0 && b > 0:
			up = span{from: bracket.Zero(o.height, t, next, a, b, enough), rises: true}
		case a > 0 && b <= 0:
			up.to, up.sets = bracket.Zero(o.height, t, next, a, b, enough), true
			o.watch(c, up)
		}
		t, a = next, b
	}
	if a > 0 {
		up.to, up.sets = last, false
		o.watch(c, up)
	}
}

// mostPieces bounds the walk from C1 to C4: two days of quarter hours, the most
// that elements can span.
const mostPieces = 200

const (
	// turnReach is more than the time between a culmination and the altitude's turn,
	// hours. The Sun's declination changes by 0.0165 degrees an hour, and its parallax
	// against the axis by a tenth of that; where the day's arc has a half-height of
	// polar radians, 1.43 degrees, the rate of the altitude changes by 1.43 * 0.2618^2
	// degrees an hour in every hour: 0.19 h.
	turnReach = 0.25
	// polar is the cosine of the latitude below which that is farther.
	polar = 0.025
	// skims is more than the altitude of the turn differs from that at culmination,
	// degrees: 0.0017 at polar.
	skims = 0.01
)

// pieceEnd is an instant after t up to which the altitude only rises or only
// falls: the next culmination, upper or lower, or close to it. Close to a pole
// culminations say nothing, and pieces are short instead.
func (o *Observer) pieceEnd(t float64) float64 {
	if math.Abs(o.cosφ) < polar {
		return t + turnReach
	}
	t += 1e-6 // past the one before
	e := o.prep.elements
	h, turn := (e.Mu.At(t)*deg+o.lon)/math.Pi, e.Mu.rate(t)*deg/math.Pi // half-turns
	if !(turn > 0) {
		return t + turnReach
	}
	return t + (math.Floor(h)+1-h)/turn
}

// turn is where the altitude turns next to a piece's end, but no later than last,
// and the Sun's height then. Where it is clear of the horizon the end serves as well.
func (o *Observer) turn(end, last float64) (t, height float64) {
	if end > last+turnReach {
		return last, o.height(last)
	}
	t, height = end, o.height(end)
	if math.Abs(height) < skims {
		const d = turnReach / 2
		before, after := o.height(end-d), o.height(end+d)
		if off := d / 2 * (before - after) / (before - 2*height + after); math.Abs(off) < turnReach { // not so for NaN
			t = end + off
		}
	}
	if t = min(t, last); t != end {
		height = o.height(t)
	}
	return t, height
}

// A span of hours with the Sun up, and whether it begins and ends at the horizon.
type span struct {
	from, to    float64
	rises, sets bool
}

// watch adds what a span with the Sun up shows.
func (o *Observer) watch(c *Circumstances, up span) {
	c.Seen = max(c.Seen, Partial)
	if c.Geometry > Partial && up.from < o.hours(c.C3.TT) && up.to > o.hours(c.C2.TT) {
		c.Seen = c.Geometry
	}
	if up.rises {
		o.dress(&c.Rise, up.from, towards)
	}
	if up.sets {
		o.dress(&c.Set, up.to, towards)
	}
	top := o.hours(c.Max.TT)
	if up.from <= top && top <= up.to {
		c.MaxSeen, c.SeenMagnitude, c.SeenObscuration = c.Max, c.Magnitude, c.Obscuration
		return
	}
	if c.MaxSeen.Exists && c.MaxSeen.TT == c.Max.TT {
		return
	}
	// Inside the penumbra the eclipse deepens towards maximum and fades after it.
	t := max(up.from, min(up.to, top))
	var seen Contact
	p := o.dress(&seen, t, towards).pair
	if m := p.magnitude(); !c.MaxSeen.Exists || m > c.SeenMagnitude {
		var a Aspect
		o.fill(&a, p)
		c.MaxSeen, c.SeenMagnitude, c.SeenObscuration = seen, a.Magnitude, a.Obscuration
	}
}
