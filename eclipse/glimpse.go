package eclipse

import "math"

// A glimpse is what a Parallel needs of view and rate, in one sweep over the
// polynomials and, between neighbours, without a sine.
type glimpse struct {
	h, sinH, cosH    float64 // local hour angle of the axis
	u, v, ζ          float64 // as in view
	du, dv, dζ       float64 // as in rate
	uu, vv           float64
	f1, df1          float64
	plane1, dPlane1  float64
	l1               float64
	inverse1         float64 // of f1 at T0
	distance2, along float64 // from the axis, squared, and half its rate
	speed2           float64 // about the axis
}

// look evaluates the glimpse for an observer at t hours from T0.
func (g *glimpse) look(o *Observer, t float64) {
	rows := o.prep.terms
	r := &rows[0]
	x, y, δ, μ, l1, f1 := r.x, r.y, r.δ, r.μ, r.l1, r.f1
	var dx, dy, dδ, dμ, dl1, df1 float64
	for i := 1; i < len(rows); i++ {
		r := &rows[i]
		dx, dy, dδ, dμ, dl1, df1 = dx*t+x, dy*t+y, dδ*t+δ, dμ*t+μ, dl1*t+l1, df1*t+f1
		x, y, δ, μ, l1, f1 = x*t+r.x, y*t+r.y, δ*t+r.δ, μ*t+r.μ, l1*t+r.l1, f1*t+r.f1
	}
	sind, cosd := o.prep.declination(δ)
	g.turn(μ + o.lon)
	ξ, out := o.rhoCos*g.sinH, o.rhoCos*g.cosH
	ζ, η := o.rhoSin*sind+out*cosd, o.rhoSin*cosd-out*sind
	u, v := x-ξ, y-η
	ωsin := dμ * sind
	du, dv := dx-dμ*out, dy-ωsin*ξ+ζ*dδ
	g.u, g.v, g.ζ = u, v, ζ
	g.du, g.dv, g.dζ = du, dv, η*dδ-dμ*ξ*cosd
	g.uu, g.vv = dμ*dμ*ξ, -dμ*ωsin*out
	g.f1, g.df1, g.plane1, g.dPlane1, g.l1 = f1, df1, l1, dl1, l1-ζ*f1
	g.distance2, g.along, g.speed2 = u*u+v*v, u*du+v*dv, du*du+dv*dv
}

// curve is half the second derivative of the squared distance from the axis, kept
// positive far from it.
func (g *glimpse) curve() float64 {
	if c := g.speed2 + g.u*g.uu + g.v*g.vv; c > g.speed2/2 {
		return c
	}
	return g.speed2 / 2
}

// turn brings sine and cosine to another hour angle. A small turn is made by the
// theorem of addition; a thousand of them cost 1e-13.
func (g *glimpse) turn(h float64) {
	by := h - g.h
	g.h = h
	if !(math.Abs(by) < 0.05) { // the series leave 1e-17
		g.sinH, g.cosH = math.Sincos(h)
		return
	}
	b2 := by * by
	s := by * (1 - b2*(1./6-b2*(1./120-b2*(1./5040))))
	fall := b2 * (1./2 - b2*(1./24-b2*(1./720-b2*(1./40320))))
	g.sinH, g.cosH = g.sinH+(g.cosH*s-g.sinH*fall), g.cosH-(g.sinH*s+g.cosH*fall)
}

// A deepest is what a glimpse says about maximum close by; per hour, and the
// separation in solar radii.
type deepest struct {
	off          float64 // hours until maximum
	ratio, apart float64 // of the radii, and the separation, at maximum
}

// maximum finds it as Observer.maximum does, by the hyperbola of separation against
// the line of the ratio, for a Moon of radius k1. Angles are so small that the first
// two terms of their series leave 1e-9, and every division that can be shared is.
func (g *glimpse) maximum(p *Prepared) deepest {
	// Heights over the observer and how they change.
	inverse := g.inverse1 * (2 - g.f1*g.inverse1) // Newton's rule: f1 hardly changes
	if math.Abs(g.f1*g.inverse1-1) > 1e-5 {
		inverse = 1 / g.f1
	}
	sec := 1 + g.f1*g.f1*(1./2-g.f1*g.f1*(1./8))
	height, gulf := (g.plane1-p.k1*sec)*inverse, (sunRadius+p.k1)*sec*inverse
	moonZ := height - g.ζ
	sunZ := moonZ + gulf
	fall := g.df1 * inverse
	dMoon := (g.dPlane1-p.k1*g.f1*g.df1)*inverse - height*fall - g.dζ
	dSun := dMoon - gulf*fall

	// Squares of the tangent of the separation and of the sines of the radii.
	d2 := g.distance2
	D, sun2, moon2 := d2+moonZ*sunZ, d2+sunZ*sunZ, d2+moonZ*moonZ
	over := 1 / (D * sun2 * moon2)
	overD, overSun, overMoon := over*sun2*moon2, over*D*moon2, over*D*sun2
	scale := gulf * overD * gulf * overD
	q2, s2, m2 := d2*scale, sunRadius*sunRadius*overSun, p.k1*p.k1*overMoon
	perSun := sun2 / (sunRadius * sunRadius) * (1 - s2*(1./3)*(1+s2*(1./5)))
	w := q2 * perSun * (1 - q2*(2./3-q2*(23./45)))
	ratio := p.k1 / sunRadius * math.Sqrt(sun2*overMoon) * (1 + (m2-s2)*(1./6))

	shrink, moonShrink := (g.along+sunZ*dSun)*overSun, (g.along+moonZ*dMoon)*overMoon
	drift := ratio * (shrink - moonShrink)
	perSun *= 1 - q2*(4./3)
	slope := 2 * (perSun*(g.along*scale-q2*(fall+(2*g.along+dMoon*sunZ+moonZ*dSun)*overD)) + w*shrink)
	curve := g.curve() * scale * perSun

	over = 1 / curve
	lean := drift * over
	least := w - slope*slope*over/4
	if least < 0 {
		least = 0 // rounding
	}
	root, more := math.Sqrt(least), 1+lean*drift/2
	off := lean*root*more - slope*over/2
	return deepest{off: off, ratio: ratio + drift*off, apart: root * more}
}
