package disc

import "math"

// Flux returns the part of the source's light that an occulter of radius p at
// centre distance z leaves free, in [0, 1]; 1 where the discs do not touch, 0
// where all is covered. Both are in radii of the source. Negative or NaN
// arguments, and two infinite ones, give NaN.
func (l Law) Flux(p, z float64) float64 {
	if !(p >= 0 && z >= 0) {
		return math.NaN()
	}
	e := place(p, z)
	switch {
	case e.exterior <= 0 || p == 0:
		return 1
	case e.totality <= 0:
		return 0
	case e.exterior != e.exterior: // both infinite
		return math.NaN()
	}
	var free float64 // light over 2 pi times the centre's brightness
	switch {
	case e.reach > crescent && e.p >= 1:
		free = l.acrossFar(&e)
	case l.kind == power:
		free = l.powerNear(&e)
	case e.p > 2:
		free = l.acrossNear(&e)
	case l.kind == uniform:
		return 1 - e.overlap()
	default:
		free = l.even(&e) + l.odd(&e)
	}
	return math.Max(0, math.Min(1, free/l.whole()))
}

// crescent is how far beyond the source's centre the edge must lie for the
// light to be summed without a subtraction, so that a thin crescent keeps the
// relative precision of its light.
const crescent = 0.8

// acrossFar integrates H (1 + (p^2-z^2)/r^2) along the edge as it stands.
func (l *Law) acrossFar(e *pair) float64 {
	b, t := e.far*e.annular, e.exterior*e.totality
	top := math.Sqrt(t)
	rule := &legendre
	if l.kind == power {
		return l.powerFar(e)
	}
	var sum float64
	for i := range rule {
		n := &rule[i]
		mu, m := top*n.sin, t*n.sin2
		r2 := 1 - m
		sum += n.weight * l.ring(mu) * mu * (r2 + e.power) / (r2 * math.Sqrt(b+m))
	}
	return sum / math.Pi
}

// acrossNear is for a large occulter whose edge passes near the source's
// centre, where 1/r^2 flashes up. With H = H(1) - r^2 K the flash is an angle
// in closed form and the rest is smooth.
func (l *Law) acrossNear(e *pair) float64 {
	arc, limb, _ := e.angles()
	b, t := e.far*e.annular, e.exterior*e.totality
	top := math.Sqrt(t)
	var sum float64
	for i := range legendre {
		n := &legendre[i]
		mu, m := top*n.sin, t*n.sin2
		sum += n.weight * mu * (l.ring(mu) - e.power*l.slope(mu)) / math.Sqrt(b+m)
	}
	return (sum-l.whole()*(limb+arc/2))/math.Pi + l.whole()
}

// even is the free light of the even powers of mu, in closed form: along the
// edge M = mu^2 is g + h cos psi, so that polynomials in M integrate to
// polynomials in g, h and the angle. As 1/r^2 above, the part that flashes near
// the centre is an angle.
func (l *Law) even(e *pair) float64 {
	d0, d1, d2 := l.a[0]/2, l.a[2]/4, l.a[4]/6 // H = M (d0 + d1 M + d2 M^2) + odd powers
	all, p2, z2 := d0+d1+d2, e.p*e.p, e.z*e.z
	g, h2 := 1-p2-z2, 4*p2*z2
	arc, limb, kite := math.Pi, 0.0, 0.0
	if e.annular > 0 {
		arc, limb, kite = e.angles()
	}
	g2 := g * g
	m1 := g*arc + kite
	m2 := (g2+h2/2)*arc + 1.5*g*kite
	m3 := g*(g2+1.5*h2)*arc + kite*(11./6*g2+2./3*h2)
	d := e.power
	sum := (d0-d*(d1+d2))*m1 + (d1-d*d2)*m2 + d2*m3 - all*((1+d)*arc+2*limb)
	return all + sum/(2*math.Pi)
}

// odd is the free light of the odd powers, which would want elliptic integrals.
// The flash near the centre comes out in closed form here too, and is just half
// of the light; what remains has its only singularity at V = 0.
func (l *Law) odd(e *pair) float64 {
	tr := e.track()
	c0, c1, c2 := l.a[1]/3, l.a[3]/5, l.a[5]/7 // H = mu M (c0 + c1 M + c2 M^2) + even powers
	all, d := c0+c1+c2, e.power
	// numerator f(M) = M^2 C(M) - d (C(1) - M^2 C(M))/(1 - M), highest power first
	f4, f3 := c2, c1-d*c2
	f2, f1 := c0-d*(c1+c2), -d*all
	f0 := f1
	r := d * all / tr.pole
	var sum float64
	if tr.base >= tr.rise {
		for i := range chebyshev {
			v2 := tr.base + tr.rise*chebyshev[i]
			m := v2 - tr.shift
			v := math.Sqrt(v2)
			w := tr.pole + v
			sum += ((f0+m*(f1+m*(f2+m*(f3+m*f4))))*w + r) / (v * w)
		}
	} else {
		lad := climb(&tr)
		rule := lad.rule()
		for _, s2 := range rule {
			s2, weight := lad.at(s2)
			v2 := tr.base + tr.rise*s2
			m := v2 - tr.shift
			sum += weight * (f0 + m*(f1+m*(f2+m*(f3+m*f4))) + r/(tr.pole+math.Sqrt(v2)))
		}
		sum *= chebyshevNodes / float64(len(rule))
	}
	return (all + sum/chebyshevNodes) / 2
}

// slope is K(mu) = (H(1) - H(mu))/(1 - mu^2), free of the cancellation at mu = 1.
func (l *Law) slope(mu float64) float64 {
	a, m2 := &l.a, mu*mu
	if l.kind == uniform {
		return 0.5
	}
	odd := a[1]/3 + a[3]/5*(1+mu+m2) + a[5]/7*(1+mu+m2*(1+mu+m2))
	return l.scale + m2*(a[2]/4+a[4]/6*(1+m2)+odd/(1+mu))
}
