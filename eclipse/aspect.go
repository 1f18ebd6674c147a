package eclipse

import (
	"math"

	"example.org/noonfall/eclipse/disc"
	"example.org/noonfall/sun/timescale"
)

// An Aspect is how the two discs stand at one instant, seen from the site.
type Aspect struct {
	Separation float64 // of the centres, degrees
	SunRadius  float64 // topocentric, degrees
	MoonRadius float64 // topocentric, degrees, for the radius used
	Alt        float64 // altitude of the Sun's centre without refraction, degrees
	// Magnitude is (s + m - separation)/2s, unclamped: negative where the discs
	// stand apart. During the total or annular phase it is the ratio m/s.
	Magnitude   float64
	Obscuration float64 // covered part of the Sun's area, [0, 1]
	Ratio       float64 // diameter of the Moon over that of the Sun
}

// Aspect looks at an instant. The Moon's radius is k2 throughout where the
// eclipse becomes central at the site, and k1 elsewhere, as in Circumstances and
// the Curve. Outside the elements' Span the polynomials run on and mean less and
// less.
func (o *Observer) Aspect(t timescale.TT) (a Aspect) {
	var w view
	o.see(o.hours(t), &w)
	p := w.discs(o.prep.k1, o.k)
	a.Alt = o.sun(&w, p.sunZ).altitude()
	o.fill(&a, p)
	return a
}

// fill states everything of an aspect but the altitude.
func (o *Observer) fill(a *Aspect, p pair) {
	inverse := 1 / p.sun
	a.Separation, a.SunRadius, a.MoonRadius = p.separation*(1/deg), p.sun*(1/deg), p.moon*(1/deg)
	a.Ratio = p.moon * inverse
	z := p.separation * inverse
	a.Magnitude = (1 + a.Ratio - z) / 2
	if o.pass.central && z <= math.Abs(a.Ratio-1) {
		a.Magnitude = a.Ratio
	}
	a.Obscuration = disc.Overlap(a.Ratio, z)
}
