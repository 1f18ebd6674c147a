package eclipse

import (
	"math"

	"example.org/noonfall/sun/timescale"
)

// maximum finds when (s + m - separation)/2s is greatest, for the observer's
// lunar radius, from an instant near it. Write r = m/s and w = (separation/s)^2:
// close to its least value w is a parabola, w0 + a (t - t0)^2, and r a line, so
// that the greatest r - sqrt w is where a hyperbola has the slope of r. Newton's
// rule would divide by the separation, which is nothing on the axis.
func (o *Observer) maximum(t float64) float64 {
	for range mostSteps {
		d := o.depth(t)
		off := d.slope / (2 * d.curve)
		least := math.Max(0, d.w-d.slope*off/2)
		step := d.drift*math.Sqrt(least/(d.curve*(d.curve-d.drift*d.drift))) - off
		t += max(-1, min(1, step))
		if math.Abs(step) < 1e-6 { // 4 ms; the curvature is good to a thousandth
			break
		}
	}
	return t
}

// A depth is what the maximum depends on, per hour: the square of the separation
// in solar radii, its derivative, half its second, the derivative of the ratio of
// radii, and how fast the Sun's radius shrinks as a fraction of it.
type depth struct{ w, slope, curve, drift, shrink float64 }

func (o *Observer) depth(t float64) depth {
	var w view
	var r rate
	o.see(t, &w)
	o.move(t, &w, &r)
	moonZ, apart := w.bodies(o.prep.k1)
	sunZ := moonZ + apart
	// The heights of both over the observer, differentiated as bodies has them.
	fall := r.f1 / w.f1
	dMoon := (r.plane1-o.prep.k1*w.f1*r.f1)/w.f1 - (moonZ+w.ζ)*fall - r.ζ
	dApart := -apart * fall
	dSun := dMoon + dApart

	Δ2, half := w.u*w.u+w.v*w.v, w.u*r.u+w.v*r.v // distance squared and half its rate
	D := Δ2 + moonZ*sunZ
	scale := apart * apart / (D * D)
	q2 := Δ2 * scale // tan^2 of the separation
	dq2 := 2*half*scale + 2*q2*(dApart/apart-(2*half+dMoon*sunZ+moonZ*dSun)/D)

	sunAway2, moonAway2 := Δ2+sunZ*sunZ, Δ2+moonZ*moonZ
	sun := arcsine(sunRadius / math.Sqrt(sunAway2))
	moon := arcsine(o.k / math.Sqrt(moonAway2))
	shrink, moonShrink := (half+sunZ*dSun)/sunAway2, (half+moonZ*dMoon)/moonAway2

	// separation^2 = atan^2 q, and its derivative by q^2.
	q := math.Sqrt(q2)
	separation, bend := arc(q), 1.0
	if q > 0 {
		bend = separation / (q * (1 + q2))
	}
	over := 1 / (sun * sun)
	d := depth{w: separation * separation * over, drift: moon / sun * (shrink - moonShrink), shrink: shrink}
	d.slope = dq2*bend*over + 2*d.w*shrink
	d.curve = (r.u*r.u + r.v*r.v + w.u*r.uu + w.v*r.vv) * scale * bend * over
	return d
}

// LeastAxisDistance is the instant at which the site is closest to the shadow's
// axis, which older bulletins print as maximum. It is not Circumstances.Max: the
// two are up to 14 s apart in shallow eclipses. Where the site sees no eclipse it
// is of no use, being sought near the elements' T0.
func (o *Observer) LeastAxisDistance() timescale.TT {
	var w view
	var r rate
	t := o.pass.mid
	for range mostSteps {
		o.see(t, &w)
		o.move(t, &w, &r)
		axis := outside(&w, &r, 0, 0)
		axis.curve = math.Max(axis.curve, (r.u*r.u+r.v*r.v)/2)
		_, step := axis.least()
		t += max(-2, min(2, step))
		if math.Abs(step) < enough {
			break
		}
	}
	return o.instant(t)
}

// LeastSeparation is the instant at which the centres of Sun and Moon are closest
// as seen from the site; with the same reserve.
func (o *Observer) LeastSeparation() timescale.TT {
	t := o.hours(o.LeastAxisDistance())
	for range mostSteps {
		d := o.depth(t)
		step := -(d.slope - 2*d.w*d.shrink) / (2 * d.curve)
		t += max(-1, min(1, step))
		if math.Abs(step) < 1e-8 { // 0.04 ms
			break
		}
	}
	return o.instant(t)
}
