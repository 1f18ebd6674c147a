package disc

import "math"

// whole is the light of the whole disc over 2 pi, in units of the centre: H(1).
func (l *Law) whole() float64 {
	if l.kind == uniform {
		return 0.5
	}
	return l.scale
}

// Ring is the part of the disc's light that comes from the ring between mu and the
// limb, in [0, 1]: what the integral over any other edge than a circle's needs. Outside
// [0, 1] it is NaN.
func (l Law) Ring(mu float64) float64 {
	if !(mu >= 0 && mu <= 1) {
		return math.NaN()
	}
	return l.ring(mu) / l.whole()
}

// ring is H(mu), the integral of I(m) m dm from 0 to mu: the light, over 2 pi, of
// the ring between mu and the limb.
func (l *Law) ring(mu float64) float64 {
	switch l.kind {
	case polynomial:
		a := &l.a
		return mu * mu * (a[0]/2 + mu*(a[1]/3+mu*(a[2]/4+mu*(a[3]/5+mu*(a[4]/6+mu*(a[5]/7))))))
	case power:
		return math.Pow(mu, l.a[0]+2) / (l.a[0] + 2)
	}
	return mu * mu / 2
}

// ringAndDrop is H(mu) and K(mu) = (H(1) - H(mu))/(1 - mu^2). For the power law K
// loses digits towards mu = 1, as 1e-16/(1 - mu^2), but no node comes nearer than
// 1e-8 to that, and K counts with p^2 - z^2 and the node's weight, both small there.
func (l *Law) ringAndDrop(mu float64) (h, k float64) {
	h = l.ring(mu)
	m2 := mu * mu
	switch l.kind {
	case polynomial:
		a := &l.a
		odd := a[1]/3 + a[3]/5*(1+mu+m2) + a[5]/7*(1+mu+m2*(1+mu+m2))
		return h, l.scale + m2*(a[2]/4+a[4]/6*(1+m2)+odd/(1+mu))
	case power:
		if r2 := (1 - mu) * (1 + mu); r2 > 1e-15 {
			return h, (l.scale - h) / r2
		}
	}
	return h, 0.5 // the limit at mu = 1
}
