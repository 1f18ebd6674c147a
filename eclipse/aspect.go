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
	// stand apart. Inside the Moon's inner shadow it is the ratio m/s.
	Magnitude   float64
	Obscuration float64 // covered part of the Sun's area, [0, 1]
	Ratio       float64 // diameter of the Moon over that of the Sun
}

// Aspect looks at an instant. The Moon's radius is k2 while the eclipse is
// central at the site and k1 otherwise; Circumstances uses k2 throughout where
// the eclipse becomes central, and so does the Curve.
func (o *Observer) Aspect(t timescale.TT) Aspect {
	w := o.see(o.hours(t))
	k := o.k1
	if w.u*w.u+w.v*w.v < w.l2*w.l2 {
		k = o.k2
	}
	return o.aspect(&w, k)
}

// hours from T0.
func (o *Observer) hours(t timescale.TT) float64 { return float64(t-o.elements.T0) / 3600 }

// aspect is Aspect for a view and a lunar radius.
func (o *Observer) aspect(w *view, k float64) Aspect {
	p := o.discs(w, k)
	up, south, west, _ := o.sky(w, p.sunAway)
	a := Aspect{
		Separation: p.separation / deg, SunRadius: p.sun / deg, MoonRadius: p.moon / deg,
		Alt:       math.Atan2(up, math.Sqrt(south*south+west*west)) / deg,
		Magnitude: p.magnitude(),
		Ratio:     p.moon / p.sun,
	}
	if p.separation <= math.Abs(p.moon-p.sun) {
		a.Magnitude = a.Ratio
	}
	a.Obscuration = disc.Overlap(a.Ratio, p.separation/p.sun)
	return a
}
