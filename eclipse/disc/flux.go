package disc

import "math"

// nodes and weights of Gauss-Legendre quadrature on t in [0, pi/2], with sin t
// and sin^2 t beside them; filled once from the Legendre polynomials.
var rule = gauss()

const order = 16

type quadrature struct{ sin, sin2, weight [order]float64 }

// gauss finds the roots of the Legendre polynomial by Newton's method from
// Chebyshev's guess (W. H. Press et al., Numerical Recipes, section 4.5).
func gauss() quadrature {
	var q quadrature
	for i := range order {
		x := math.Cos(math.Pi * (float64(i) + 0.75) / (order + 0.5))
		var slope float64
		for range 8 {
			p0, p1 := 1.0, x
			for k := 2.0; k <= order; k++ {
				p0, p1 = p1, ((2*k-1)*x*p1-(k-1)*p0)/k
			}
			slope = order * (x*p1 - p0) / (x*x - 1)
			x -= p1 / slope
		}
		t := (1 + x) * math.Pi / 4
		q.sin[i] = math.Sin(t)
		q.sin2[i] = q.sin[i] * q.sin[i]
		q.weight[i] = math.Pi / 4 * 2 / ((1 - x*x) * slope * slope)
	}
	return q
}

// centreZone is how near the occulter's edge may pass to the source's centre,
// in source radii, before the angle that it sweeps there is taken out and
// integrated in closed form.
const centreZone = 0.5

// Flux returns the part of the source's light that an occulter of radius p at
// centre distance z leaves free, in [0, 1]; 1 where the discs do not touch.
// Negative or NaN arguments give NaN.
func (l Law) Flux(p, z float64) float64 {
	switch {
	case !(p >= 0) || !(z >= 0):
		return math.NaN()
	case z >= 1+p || p == 0:
		return 1
	case z <= p-1:
		return 0
	case l.kind == uniform:
		return 1 - Overlap(p, z)
	}
	var beyond float64 // light beyond the edge, over 2 pi times the centre's brightness
	switch near := math.Abs(z-p) < centreZone; {
	case near:
		beyond = l.edgeNear(p, z)
	case z+p <= 1:
		beyond = l.edgeInside(p, z)
	default:
		beyond = l.edgeAcross(p, z)
	}
	left := beyond / l.scale
	if z > p {
		left = 1 + left
	}
	return math.Max(0, math.Min(1, left))
}

// edgeAcross integrates H along an edge that crosses the source's. With
// mu = top sin t on the edge, psi the angle about the occulter's centre and
// u = sin(psi/2),
//
//	d phi = (1 + (p^2 - z^2)/r^2) d psi / 2,  d psi = 2 w sin t dt / u
//
// where u^2 = u0^2 + w^2 sin^2 t and u0 belongs to the crossing.
func (l *Law) edgeAcross(p, z float64) float64 {
	q := 1 / (4 * z * p)
	w2 := (1 - (z - p)) * (1 + (z - p)) * q
	u2 := (z + p - 1) * (z + p + 1) * q
	w := math.Sqrt(w2)
	top := 2 * math.Sqrt(z*p) * w
	d := (p - z) * (p + z)
	var sum float64
	for i := range order {
		s := rule.sin[i]
		mu := top * s
		u := math.Sqrt(u2 + w2*rule.sin2[i])
		sum += rule.weight[i] * l.ring(mu) * (1 + d/(1-mu*mu)) * s / u
	}
	return w * sum / math.Pi
}

// edgeInside is the same for an edge that lies on the source all round, where
// t is psi/2 itself.
func (l *Law) edgeInside(p, z float64) float64 {
	low, rise := (1-(z+p))*(1+(z+p)), 4*z*p
	d := (p - z) * (p + z)
	var sum float64
	for i := range order {
		mu2 := low + rise*rule.sin2[i]
		sum += rule.weight[i] * l.ring(math.Sqrt(mu2)) * (1 + d/(1-mu2))
	}
	return sum / math.Pi
}

// edgeNear is either for an edge that passes close by the source's centre,
// where the angle about it turns in a flash. With H = H(1) - r^2 K the flash is
// an angle in closed form and the rest is smooth; K(0) = H(1) is taken out as
// well, so that the rest starts with mu^2 like H itself.
func (l *Law) edgeNear(p, z float64) float64 {
	d := (p - z) * (p + z)
	var half, turn, sum float64 // half the sweep of psi, the sweep of phi, the smooth rest
	if z+p <= 1 {
		half, turn = math.Pi, 2*math.Pi
		low, rise := (1-(z+p))*(1+(z+p)), 4*z*p
		for i := range order {
			mu2 := low + rise*rule.sin2[i]
			sum += 2 * rule.weight[i] * (l.ring(math.Sqrt(mu2)) - d*l.rest(math.Sqrt(mu2)))
		}
	} else {
		q := 1 / (4 * z * p)
		w2 := (1 - (z - p)) * (1 + (z - p)) * q
		u2 := (z + p - 1) * (z + p + 1) * q
		w := math.Sqrt(w2)
		half = 2 * math.Atan2(w, math.Sqrt(u2))
		turn = 2 * math.Atan2(kite(1, p, z), (p-1)*(p+1)-z*z) // the free limb, seen from the centre
		top := 2 * math.Sqrt(z*p) * w
		for i := range order {
			mu := top * rule.sin[i]
			u := math.Sqrt(u2 + w2*rule.sin2[i])
			sum += 2 * rule.weight[i] * (l.ring(mu) - d*l.rest(mu)) * rule.sin[i] * w / u
		}
	}
	if z > p {
		turn -= 2 * math.Pi
	}
	return (sum + l.scale*(turn-half-d*half)) / (2 * math.Pi)
}

// rest is K(mu) - K(0), with K = (H(1) - H(mu))/(1 - mu^2), free of the
// cancellation at mu = 1.
func (l *Law) rest(mu float64) float64 {
	if l.kind == power {
		alpha := l.a[0]
		r2 := (1 - mu) * (1 + mu)
		if r2 < 1e-12 {
			return mu * mu * alpha / 2 / (alpha + 2) // the limit, wrong by less than r2
		}
		return -mu * mu * math.Expm1(alpha*math.Log1p(-r2)/2) / r2 / (alpha + 2)
	}
	a := &l.a
	m2 := mu * mu
	odd := a[1]/3 + a[3]/5*(1+mu+m2) + a[5]/7*(1+mu+m2*(1+mu+m2))
	return m2 * (a[2]/4 + a[4]/6*(1+m2) + odd/(1+mu))
}
