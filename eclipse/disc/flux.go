package disc

import "math"

// Flux returns the part of the source's light that an occulter of radius p at
// centre distance z leaves free, in [0, 1]; 1 where the discs do not touch, 0
// where all is covered. Both are in radii of the source. Negative or NaN
// arguments, and two infinite ones, give NaN.
func (l Law) Flux(p, z float64) float64 {
	annular, exterior, totality := sides(p, z)
	switch lie(p, z, annular, exterior, totality) {
	case apart:
		return 1
	case covered:
		return 0
	case undefined:
		return math.NaN()
	}
	if p > hugeRadius {
		p, z, annular = hugeRadius, hugeRadius, 2*hugeRadius
	}
	reach := (exterior - totality) / 2 // p - z: how far the edge lies beyond the source's centre
	d := reach * (p + z)               // p^2 - z^2
	base, rise, third := (1+p+z)*annular, exterior*totality, annular*exterior
	var free float64 // light over 2 pi times the centre's brightness
	switch {
	case reach > crescent && p >= 1:
		free = l.thin(base, rise, d)
	case p < speck:
		return 1
	case l.kind == uniform:
		return 1 - Overlap(p, z)
	case l.kind == power:
		free = l.broken(p, z, base, rise, third, d)
	case p > 2:
		free = l.wide(base, rise, third, d)
	case annular > 0:
		arc, limb, kite := angles(base, rise, third)
		free = l.even(p, z, d, arc, limb, kite) + l.odd(base, rise, 0, p+z, d)
	default:
		free = l.even(p, z, d, math.Pi, 0, 0) + l.odd(-base, 4*p*z, -base, 1, d)
	}
	return max(0, min(1, free/l.whole()))
}

// crescent is how far beyond the source's centre the edge must lie for the
// light to be summed without a subtraction, so that a thin crescent keeps the
// relative precision of its light.
const crescent = 0.95

// speck is the radius below which an occulter takes less light than floating
// point can tell from 1.
const speck = 1e-9

// even is the free light of the even powers of mu, in closed form: along the
// edge M = mu^2 is g + h cos psi, psi the angle at the occulter's centre, so
// that polynomials in M integrate to polynomials in g, h and the arc. The part
// that flashes near the source's centre is an angle there, limb.
func (l *Law) even(p, z, d, arc, limb, kite float64) float64 {
	d0, d1, d2 := l.a[0]*(1./2), l.a[2]*(1./4), l.a[4]*(1./6) // H = M (d0 + d1 M + d2 M^2) + odd powers
	all, p2, z2 := d0+d1+d2, p*p, z*z
	g, h2 := 1-p2-z2, 4*p2*z2
	g2 := g * g
	m1 := g*arc + kite
	m2 := (g2+h2/2)*arc + 1.5*g*kite
	m3 := g*(g2+1.5*h2)*arc + kite*(11./6*g2+2./3*h2)
	sum := (d0-d*(d1+d2))*m1 + (d1-d*d2)*m2 + d2*m3 - all*((1+d)*arc+2*limb)
	return all + sum*(1/(2*math.Pi))
}

// odd is the free light of the odd powers, which would want elliptic integrals.
// The flash near the centre comes out in closed form here too, and is just half
// of the light. What remains is smooth but for V = 0, at sin^2 t = -base/rise,
// and the distance of that from [0, 1] says how many nodes it takes; the error
// is greatest, 1e-12 of the light, just above a bound.
func (l *Law) odd(base, rise, first, pole, d float64) float64 {
	c0, c1, c2 := l.a[1]*(1./3), l.a[3]*(1./5), l.a[5]*(1./7) // H = mu M (c0 + c1 M + c2 M^2) + even powers
	all := c0 + c1 + c2
	f1, f2, f3, r := -d*all, c0-d*(c1+c2), c1-d*c2, d*all/pole
	var mean float64
	switch {
	case base >= 2.2*rise:
		mean = along(midpoints6, base, rise, first, pole, f1, f2, f3, c2, r)
	case base >= 0.5*rise:
		mean = along(midpoints10, base, rise, first, pole, f1, f2, f3, c2, r)
	case base >= 0.12*rise:
		mean = along(midpoints16, base, rise, first, pole, f1, f2, f3, c2, r)
	default:
		mean = alongLadder(base, rise, first, pole, f1, f2, f3, c2, r)
	}
	return (all + mean) / 2
}

// wide is the free light for a large occulter, p > 2, where the closed form
// would subtract numbers that grow as p^5. With H = H(1) - r^2 K along the edge
// the flash near the centre is an angle.
func (l *Law) wide(base, rise, third, d float64) float64 {
	arc, limb, _ := angles(base, rise, third)
	top := math.Sqrt(rise)
	var sum float64
	for _, n := range legendre {
		mu := top * n.sin
		h, k := l.ringAndDrop(mu)
		sum += n.weight * mu * (h - d*k) / math.Sqrt(base+rise*n.sin2)
	}
	return l.scale + (sum-l.scale*(limb+arc/2))/math.Pi
}

// thin is the free light of a thin crescent, H (1 + d/r^2) summed along the
// edge as it stands.
func (l *Law) thin(base, rise, d float64) float64 {
	top := math.Sqrt(rise)
	rule := legendre
	if l.kind == power {
		rule = graded
	}
	var sum float64
	for _, n := range rule {
		mu, m := top*n.sin, rise*n.sin2
		r2 := 1 - m
		sum += n.weight * mu * l.ring(mu) * (r2 + d) / (r2 * math.Sqrt(base+m))
	}
	return sum / math.Pi
}

// broken is wide for the power law and any occulter, an edge that lies inside
// included, with the ladder where V comes near zero.
func (l *Law) broken(p, z, base, rise, third, d float64) float64 {
	arc, limb, first := math.Pi, 0.0, 0.0
	if base > 0 {
		arc, limb, _ = angles(base, rise, third)
		base = max(base, tangent*rise)
	} else {
		rise = 4 * p * z
		base = max(-base, tangent*rise)
		first = base // mu and V are one, at the tangency too
	}
	lad := climb(base, rise)
	rule := graded
	if lad.start < 0.1 {
		rule = gradedLong
	}
	var sum float64
	for _, n := range rule {
		sin2, weight := lad.at(n.sin2)
		mu := math.Sqrt(first + rise*sin2)
		h, k := l.ringAndDrop(mu)
		sum += n.weight * weight * mu * (h - d*k)
	}
	return l.scale + (sum-l.scale*(limb+arc/2))/math.Pi
}
