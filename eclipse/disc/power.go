package disc

import "math"

// The power law's H = mu^(alpha+2)/(alpha+2) starts like a broken power, so its
// nodes crowd towards the limb.

// powerFar is acrossFar for the power law.
func (l *Law) powerFar(e *pair) float64 {
	b, t := e.far*e.annular, e.exterior*e.totality
	top := math.Sqrt(t)
	var sum float64
	for i := range graded {
		n := &graded[i]
		mu, m := top*n.sin, t*n.sin2
		r2 := 1 - m
		sum += n.weight * l.ring(mu) * mu * (r2 + e.power) / (r2 * math.Sqrt(b+m))
	}
	return sum / math.Pi
}

// powerNear is acrossNear for the power law, for an edge that lies inside as
// well, and with the ladder where V comes near zero.
func (l *Law) powerNear(e *pair) float64 {
	arc, limb := math.Pi, 0.0
	if e.annular > 0 {
		arc, limb, _ = e.angles()
	}
	tr := e.track()
	lad := climb(&tr)
	var sum float64
	rule := graded
	if lad.start < 0.1 {
		rule = gradedLong
	}
	for i := range rule {
		s2, weight := lad.at(rule[i].sin2)
		mu := math.Sqrt(tr.base - tr.shift + tr.rise*s2)
		sum += rule[i].weight * weight * mu * (l.ring(mu) - e.power*l.powerSlope(mu))
	}
	return l.scale + (sum-l.scale*(limb+arc/2))/math.Pi
}

// powerSlope is slope for the power law.
func (l *Law) powerSlope(mu float64) float64 {
	alpha := l.a[0]
	r2 := (1 - mu) * (1 + mu)
	if r2 < 1e-12 {
		return 0.5 // the limit, wrong by less than r2
	}
	return -math.Expm1((alpha/2+1)*math.Log1p(-r2)) / r2 / (alpha + 2)
}
