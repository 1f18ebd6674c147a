package eclipse

import "math"

// look fills in what the horizon leaves of an eclipse: rise and set, what kind
// is seen, and the deepest instant with the Sun up.
func (o *Observer) look(c *Circumstances, k float64) {
	first, last := o.hours(c.C1.TT), o.hours(c.C4.TT)
	top := o.hours(c.Max.TT)
	var deepest float64
	for _, up := range o.upSpans(c, first, last) {
		c.Seen = max(c.Seen, Partial)
		if c.Geometry > Partial && up.from < o.hours(c.C3.TT) && up.to > o.hours(c.C2.TT) {
			c.Seen = c.Geometry
		}
		if up.rises {
			c.Rise = o.contact(up.from, towards)
		}
		if up.sets {
			c.Set = o.contact(up.to, towards)
		}
		t := math.Max(up.from, math.Min(up.to, top))
		w := o.see(t)
		a := o.aspect(&w, k)
		if m := o.discs(&w, k).magnitude(); !c.MaxSeen.Exists || m > deepest {
			deepest = m
			c.MaxSeen = o.contact(t, towards)
			c.SeenMagnitude, c.SeenObscuration = a.Magnitude, a.Obscuration
		}
	}
	if c.MaxSeen.Exists && c.MaxSeen.TT == c.Max.TT {
		c.SeenMagnitude, c.SeenObscuration = c.Magnitude, c.Obscuration
	}
}

// A span of hours with the Sun up, and whether it begins and ends at the horizon.
type span struct {
	from, to    float64
	rises, sets bool
}

// upSpans cuts the eclipse where the Sun crosses the horizon. Between the
// meridian passages, upper and lower, the altitude only rises or only falls (the
// declination's own change is a minute of arc an hour), so that a crossing in
// each piece is bracketed by its ends, midnight Sun included.
func (o *Observer) upSpans(c *Circumstances, first, last float64) []span {
	var buf [6]float64
	cuts := append(buf[:0], first)
	for t := o.passage(first); t < last; t = o.passage(t + 0.1) {
		if len(cuts) == cap(cuts)-1 {
			break
		}
		cuts = append(cuts, t)
	}
	cuts = append(cuts, last)
	var spans []span
	open := false
	for i := 1; i < len(cuts); i++ {
		a, b := cuts[i-1], cuts[i]
		ha, hb := o.height(a), o.height(b)
		if i == 1 && ha > 0 {
			spans, open = append(spans, span{from: a}), true
		}
		switch {
		case ha <= 0 && hb > 0:
			spans, open = append(spans, span{from: o.cross(a, b), rises: true}), true
		case ha > 0 && hb <= 0:
			spans[len(spans)-1].to, spans[len(spans)-1].sets, open = o.cross(a, b), true, false
		}
	}
	if open {
		spans[len(spans)-1].to = last
	}
	return spans
}

// height is the Sun's altitude over that at which it rises, degrees.
func (o *Observer) height(t float64) float64 {
	w := o.see(t)
	p := o.discs(&w, o.k1)
	up, south, west, _ := o.sky(&w, p.sunAway)
	return math.Atan2(up, math.Sqrt(south*south+west*west))/deg - o.rising(p.sun)
}

// cross bisects for the horizon to a hundredth of a millisecond.
func (o *Observer) cross(a, b float64) float64 {
	up := o.height(b) > 0
	for range 32 {
		m := (a + b) / 2
		if (o.height(m) > 0) == up {
			b = m
		} else {
			a = m
		}
	}
	return (a + b) / 2
}

// passage is the next passage of the Sun through the meridian, upper or lower,
// from t on, hours: where its hour angle is a multiple of 180 degrees.
func (o *Observer) passage(t float64) float64 {
	e := o.elements
	h := (e.Mu.At(t) + o.lon) / 180
	ahead := (math.Ceil(h) - h) * 180
	return t + ahead/e.Mu.rate(t)
}
