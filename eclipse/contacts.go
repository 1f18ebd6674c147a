package eclipse

import (
	"math"
	"time"

	"example.org/noonfall/sun/timescale"
)

// A Kind is what a site gets to see.
type Kind uint8

// The kinds, from nothing upwards.
const (
	None Kind = iota
	Partial
	Annular
	Total
)

var kindNames = [...]string{None: "none", Partial: "partial", Annular: "annular", Total: "total"}

func (k Kind) String() string {
	if int(k) < len(kindNames) {
		return kindNames[k]
	}
	return "no such kind"
}

// A Contact is an instant of a local eclipse. The zero value is one that does
// not take place.
type Contact struct {
	Exists  bool
	TT      timescale.TT
	UTC, UT time.Time // UT is TT - Delta T, as almanacs print it
	Alt, Az float64   // of the Sun's centre without refraction, degrees
	// P and V are position angles on the Sun from north and from the zenith,
	// through east, degrees [0, 360): to the touching point, at maximum to the
	// Moon's centre.
	P, V  float64
	Above bool // the Sun is up by the observer's Horizon
}

// Circumstances are all that an eclipse does at a site.
type Circumstances struct {
	Geometry Kind // the horizon ignored
	Seen     Kind // what the Sun above the horizon shows
	// C1 and C4 are first and last contact of the penumbra, C2 and C3 begin and
	// end of the total or annular phase.
	C1, C2, Max, C3, C4 Contact
	Magnitude           float64 // at maximum; the ratio of diameters where central
	Obscuration         float64 // at maximum
	Ratio               float64 // Moon's diameter over the Sun's at maximum
	Duration            float64 // of the central phase, s; 0 where there is none

	// Rise and Set are the instants between C1 and C4 at which the Sun crosses
	// the horizon, where it does.
	Rise, Set Contact
	// MaxSeen is the deepest instant with the Sun up, with its magnitude and
	// obscuration; it does not exist where nothing is seen.
	MaxSeen                        Contact
	SeenMagnitude, SeenObscuration float64

	// DeltaT is the value used, with its uncertainty.
	DeltaT timescale.DeltaT
	// TimeU is the standard uncertainty of each UTC, s: the elements' own and
	// the shadow's shift by an uncertain Delta T, which moves a site under it by
	// the Earth's turn. It leaves out the Moon's limb.
	TimeU float64
}

// Circumstances computes the eclipse at the site: contacts to a microsecond of
// the elements, whatever the depth of a graze.
func (o *Observer) Circumstances() Circumstances {
	c := Circumstances{DeltaT: o.deltaT, TimeU: math.Hypot(o.elements.TimeU, o.deltaT.SecondsU)}
	mid, ok := o.deepest(penumbra)
	if !ok {
		return c
	}
	k := o.k1
	first, last := o.crossing(penumbra, mid, -1), o.crossing(penumbra, mid, +1)
	inner, central := o.deepest(umbra)
	c.Geometry = Partial
	var second, third float64
	if central {
		k = o.k2
		second, third = o.crossing(umbra, inner, -1), o.crossing(umbra, inner, +1)
		w := o.see(inner)
		c.Geometry = Annular
		if w.l2 < 0 {
			c.Geometry = Total
		}
		c.Duration = (third - second) * 3600
	}
	top := o.maximum(mid, k)
	w := o.see(top)
	a := o.aspect(&w, k)
	c.Ratio, c.Obscuration = a.Ratio, a.Obscuration
	p := o.discs(&w, k)
	c.Magnitude = p.magnitude()
	if central {
		c.Magnitude = a.Ratio
	}
	c.C1, c.Max, c.C4 = o.contact(first, towards), o.contact(top, towards), o.contact(last, towards)
	if central {
		side := towards
		if c.Geometry == Total {
			side = away
		}
		c.C2, c.C3 = o.contact(second, side), o.contact(third, side)
	}
	o.look(&c, k)
	return c
}

// A cone is one of the two shadows.
type cone uint8

const (
	penumbra cone = iota
	umbra
)

// gap is how far the observer is outside a cone: squared distance from the axis
// less the squared radius, Earth radii squared, with its rate per hour and half
// its second derivative. The square is smooth where distance and radius are not:
// on the axis, and where the umbra shrinks to a point.
func (o *Observer) gap(c cone, t float64) (g, slope, curve float64) {
	w := o.see(t)
	r := o.move(t, &w)
	l, dl := w.l1, r.l1
	if c == umbra {
		l, dl = w.l2, r.l2
	}
	g = w.u*w.u + w.v*w.v - l*l
	slope = 2 * (w.u*r.u + w.v*r.v - l*dl)
	curve = r.u*r.u + r.v*r.v - dl*dl
	return g, slope, curve
}

const mostSteps = 30 // of any iteration here; four or five are usual

// enough is where iterations stop, hours: a third of a microsecond.
const enough = 1e-10

// deepest finds when the observer is deepest in a cone, and whether inside at all.
func (o *Observer) deepest(c cone) (t float64, inside bool) {
	for range mostSteps {
		_, slope, curve := o.gap(c, t)
		step := slope / (2 * curve)
		// Away from the pole the site moves slower than the shadow, so that curve
		// is positive; a step is bounded all the same.
		step = math.Max(-2, math.Min(2, step))
		t -= step
		if math.Abs(step) < enough {
			break
		}
	}
	g, slope, curve := o.gap(c, t)
	return t, g-slope*slope/(4*curve) < 0 && math.Abs(t) <= o.elements.Span
}

// crossing finds when the observer crosses the cone's edge before (-1) or after
// (+1) the deepest instant, by the roots of the parabola through value, slope
// and curvature: exact for straight motion, and as quick for a graze.
func (o *Observer) crossing(c cone, mid, side float64) float64 {
	t := mid
	for range mostSteps {
		g, slope, curve := o.gap(c, t)
		root := math.Sqrt(math.Max(0, slope*slope/4-curve*g))
		step := (-slope/2 + side*root) / curve
		t += step
		if math.Abs(step) < enough {
			break
		}
	}
	return t
}

// maximum finds when (s + m - separation)/2s is greatest, for a lunar radius,
// near the least separation. Write r = m/s and w = (separation/s)^2: close to
// its least value w is a parabola, w0 + a (t - t0)^2, and r a line, so that the
// maximum of r - sqrt w is where a hyperbola has the slope of r.
func (o *Observer) maximum(t, k float64) float64 {
	const h = 20.0 / 3600
	at := func(t float64) (r, w float64) {
		v := o.see(t)
		p := o.discs(&v, k)
		z := p.separation / p.sun
		return p.moon / p.sun, z * z
	}
	for range mostSteps {
		r0, w0 := at(t - h)
		_, w1 := at(t)
		r2, w2 := at(t + h)
		drift := (r2 - r0) / (2 * h)
		a := (w0 - 2*w1 + w2) / (2 * h * h)
		t0 := t - (w2-w0)/(4*h*a)
		least := math.Max(0, w1-a*(t-t0)*(t-t0))
		next := t0 + drift*math.Sqrt(least)/math.Sqrt(a*(a-drift*drift))
		step := next - t
		t = next
		if math.Abs(step) < 1e-8 { // 0.04 ms; differences over 20 s hold no more
			break
		}
	}
	return t
}

// LeastAxisDistance is the instant at which the site is closest to the shadow's
// axis, which older bulletins print as maximum. It is not Circumstances.Max: the
// two are up to 14 s apart in shallow eclipses.
func (o *Observer) LeastAxisDistance() timescale.TT {
	var t float64
	for range mostSteps {
		w := o.see(t)
		r := o.move(t, &w)
		step := (w.u*r.u + w.v*r.v) / (r.u*r.u + r.v*r.v)
		t -= math.Max(-2, math.Min(2, step))
		if math.Abs(step) < enough {
			break
		}
	}
	return o.elements.T0 + timescale.TT(t*3600)
}

// LeastSeparation is the instant at which the centres of Sun and Moon are closest
// as seen from the site.
func (o *Observer) LeastSeparation() timescale.TT {
	t := o.hours(o.LeastAxisDistance())
	at := func(t float64) float64 {
		w := o.see(t)
		p := o.discs(&w, o.k1)
		return p.separation * p.separation
	}
	const h = 20.0 / 3600
	for range mostSteps {
		a, b, c := at(t-h), at(t), at(t+h)
		step := h / 2 * (a - c) / (a - 2*b + c)
		t += step
		if math.Abs(step) < 1e-8 {
			break
		}
	}
	return o.elements.T0 + timescale.TT(t*3600)
}

// side says on which side of the Sun the discs touch.
type side float64

const (
	towards side = 1  // in the Moon's direction: outer contacts, annular inner ones
	away    side = -1 // opposite: the last bead of a total eclipse
)

// contact dresses an instant, hours from T0, with clocks and angles.
func (o *Observer) contact(t float64, s side) Contact {
	tt := o.elements.T0 + timescale.TT(t*3600)
	c := Contact{
		Exists: true, TT: tt, UTC: o.opt.Scale.UTC(tt),
		UT: timescale.UT1(float64(tt) - o.deltaT.Seconds).Time(),
	}
	w := o.see(t)
	p := o.discs(&w, o.k1)
	up, south, west, length := o.sky(&w, p.sunAway)
	c.Alt = math.Atan2(up, math.Hypot(south, west)) / deg
	c.Az = turn(math.Atan2(-west, -south) / deg)
	east, toNorth := across(&w, p.sunAway)
	c.P = turn(math.Atan2(float64(s)*east, float64(s)*toNorth) / deg)
	// Parallactic angle: from the pole to the zenith at the Sun, positive west of
	// the meridian.
	north := up*o.sinφ - south*o.cosφ
	mx := up*o.cosφ + south*o.sinφ
	sinδ, cosδ := north/length, math.Hypot(mx, west)/length
	sinH, cosH := west/length/cosδ, mx/length/cosδ
	q := math.Atan2(sinH*o.cosφ, o.sinφ*cosδ-sinδ*o.cosφ*cosH)
	c.V = turn(c.P - q/deg)
	c.Above = o.above(c.Alt, p.sun)
	return c
}

// across gives the direction of the Moon's centre from the Sun's, along east and
// north on the sky.
func across(w *view, sunZ float64) (east, north float64) {
	away := math.Sqrt(w.u*w.u + w.v*w.v + sunZ*sunZ)
	sx, sy, sz := w.u/away, w.v/away, sunZ/away
	// East is pole x Sun with the pole (0, cos d, sin d), north is Sun x east;
	// their common length does not matter to an angle. Moon and Sun stand on one
	// line along z, the Moon below: its offset across the sight is that of -z.
	ex, ey, ez := w.cosd*sz-w.sind*sy, w.sind*sx, -w.cosd*sx
	nz := sx*ey - sy*ex
	return -ez, -nz
}

// above applies the observer's horizon to an altitude in degrees and the Sun's
// radius in radians.
func (o *Observer) above(alt, radius float64) bool {
	return alt > o.rising(radius)
}

// rising is the altitude of the centre at which the Sun rises, degrees.
func (o *Observer) rising(radius float64) float64 {
	h := &horizons[o.opt.Horizon]
	return -h.refraction - h.limb*radius/deg
}

// turn brings degrees into [0, 360).
func turn(d float64) float64 {
	d = math.Mod(d, 360)
	if d < 0 {
		d += 360
	}
	return d
}
