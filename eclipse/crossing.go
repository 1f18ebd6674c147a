package eclipse

import "math"

// A passage says when the observer is deepest in the two cones, hours from T0.
type passage struct {
	mid, inner    float64
	seen, central bool // whether the observer enters penumbra and umbra at all
}

const (
	// mostSteps bounds every iteration here; two to four are usual.
	mostSteps = 30
	// enough is where instants are exact enough, hours: a third of a microsecond.
	enough = 1e-10
	// jerk bounds how fast the curvature of a gap changes, Earth radii squared per
	// hour cubed: six times the shadow's speed over the ground, 0.6, by the
	// acceleration of the ground, 0.07, rounded up.
	jerk = 0.3
)

// A gap is how far an observer is outside a cone: squared distance from the axis
// less the squared radius, Earth radii squared, with its first derivative and
// half the second, per hour. The square is smooth where distance and radius are
// not: on the axis, and where the umbra shrinks to a point.
type gap struct{ g, slope, curve float64 }

// outside gives the gap for a cone of radius l that changes by dl.
func outside(w *view, r *rate, l, dl float64) gap {
	return gap{
		g:     w.u*w.u + w.v*w.v - l*l,
		slope: 2 * (w.u*r.u + w.v*r.v - l*dl),
		curve: r.u*r.u + r.v*r.v + w.u*r.uu + w.v*r.vv - dl*dl,
	}
}

// least is the least value of the parabola through a gap, and how far off it is.
func (p *gap) least() (g, step float64) {
	step = -p.slope / (2 * p.curve)
	return p.g + step*p.slope/2, step
}

// A cone is one of the two shadows.
type cone uint8

const (
	penumbra cone = iota
	umbra
)

func (o *Observer) gap(c cone, t float64) gap {
	var w view
	var r rate
	o.see(t, &w)
	o.move(t, &w, &r)
	if c == umbra {
		return outside(&w, &r, w.l2, r.l2)
	}
	return outside(&w, &r, w.l1, r.l1)
}

// passage finds when the observer is deepest in each cone.
//
// Over seven hours the distance from the axis can have several minima where the
// ground is carried round near a pole, and only one of them can lie inside the
// penumbra. The distance along the shadow's track has no such trap: the ground
// turns with 0.26 Earth radii an hour at most and the shadow does more than 0.45,
// so that it only grows. Its zero is the seed; from there the gap is convex as
// far as 0.8 Earth radii from the axis, by the same speeds.
func (o *Observer) passage() (p passage) {
	var w view
	var r rate
	var t float64
	for range mostSteps {
		o.see(t, &w)
		o.move(t, &w, &r)
		step := o.alongTrack(&w, &r)
		t += step
		if math.Abs(step) < 0.5 {
			break
		}
	}
	var outer gap
	for i := range mostSteps {
		o.see(t, &w)
		o.move(t, &w, &r)
		outer = outside(&w, &r, w.l1, r.l1)
		if v := r.u*r.u + r.v*r.v; outer.curve < v/2 {
			outer.curve = v / 2
		}
		g, step := outer.least()
		if i > 0 && g > 0.7 {
			return p // the axis passes an Earth radius away
		}
		if math.Abs(step) < 2e-4 { // 0.7 s: the parabola is good to 1e-12 by then
			p.mid, p.seen = t+step, g < 0
			break
		}
		t += max(-1, min(1, step))
	}
	if p.seen = p.seen && math.Abs(p.mid) <= o.prep.elements.Span; p.seen {
		p.inner, p.central = o.deepInside(t, &w, &r)
	}
	return p
}

// alongTrack is the step to where axis and observer are abreast, by the parabola.
func (o *Observer) alongTrack(w *view, r *rate) float64 {
	s := o.prep.alongX*w.u + o.prep.alongY*w.v
	v := o.prep.alongX*r.u + o.prep.alongY*r.v
	a := o.prep.alongX*r.uu + o.prep.alongY*r.vv
	if !(v > 0) {
		return 0 // no eclipse moves like this
	}
	step := -2 * s / (v + math.Sqrt(math.Max(v*v-2*a*s, v*v/4)))
	return max(-3, min(3, step))
}

// deepInside finds the least gap to the umbra, from a view close to it.
func (o *Observer) deepInside(t float64, w *view, r *rate) (at float64, inside bool) {
	for range mostSteps {
		inner := outside(w, r, w.l2, r.l2)
		g, step := inner.least()
		if g > 0.01 {
			return 0, false // a tenth of an Earth radius outside
		}
		t += step
		if jerk*math.Abs(step*step*step) < 1e-16 { // what the parabola can be off
			return t, g < 0
		}
		o.see(t, w)
		o.move(t, w, r)
	}
	return t, false
}

// crossing finds when the observer crosses the cone's edge before (-1) or after
// (+1) the deepest instant, by the roots of the parabola through value, slope
// and curvature: exact for straight motion, and as quick for a graze.
func (o *Observer) crossing(c cone, mid, side float64, at gap) float64 {
	t := mid
	for range mostSteps {
		root := math.Sqrt(math.Max(0, at.slope*at.slope/4-at.curve*at.g))
		step := (side*root - at.slope/2) / at.curve
		t += step
		// What the parabola leaves, over the slope at its root.
		if jerk/6*math.Abs(step*step*step) <= enough*2*root || math.Abs(step) < enough {
			break
		}
		at = o.gap(c, t)
	}
	return t
}
