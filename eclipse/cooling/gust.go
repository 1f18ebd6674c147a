package cooling

import "math"

// A seenGust is the covariance of gusts as a log has them: they are forgotten
// exponentially, the thermometer follows them with its lag, and the log is in means.
// Without these two a short gust would be taken for a smaller one of longer memory, and
// of that more would be left over an eclipse's hours.
type seenGust struct {
	size [2]float64 // of two exponentials, square degrees
	memo [2]float64 // s
	box  float64    // over which is averaged, s
}

// seen is g's gusts behind a thermometer of that time constant, in means over a box of
// time, both in seconds. An exponential covariance of memory m behind a first-order lag
// tau is m (m exp(-d/m) - tau exp(-d/tau)) / (m^2 - tau^2), by partial fractions of the
// spectrum 2m/(1+(wm)^2) / (1+(w tau)^2).
func (g rough) seen(tau, box float64) seenGust {
	out := seenGust{memo: [2]float64{g.memory, g.memory}, box: box}
	if !(tau > 0.01*g.memory) {
		out.size[0] = g.gust * g.gust
		return out
	}
	if out.memo[1] = tau; math.Abs(tau/g.memory-1) < 0.01 {
		out.memo[1] = 0.99 * g.memory // the two parts are great and opposite where they meet
	}
	m, l := g.memory, out.memo[1]
	part := g.gust * g.gust * m / (m*m - l*l)
	out.size = [2]float64{part * m, -part * l}
	return out
}

// at is the covariance of two means whose middles are dt apart, none or at least a box.
func (q *seenGust) at(dt float64) (v float64) {
	for i, size := range q.size {
		if size == 0 {
			continue
		}
		m := q.memo[i]
		switch w := q.box / m; {
		case w < 1e-3:
			v += size * math.Exp(-dt/m)
		case dt == 0:
			v += size * 2 * (w - 1 + math.Exp(-w)) / (w * w)
		default:
			dt := math.Max(dt, q.box) // bins of fewer readings lie a little closer
			v += size * (math.Exp((q.box-dt)/m) - 2*math.Exp(-dt/m) + math.Exp(-(q.box+dt)/m)) / (w * w)
		}
	}
	return v
}

// far is a part's covariance of two means that do not overlap, but for what it fades in between.
func (q *seenGust) far(part int) float64 {
	w := q.box / q.memo[part]
	if q.size[part] == 0 || w < 1e-3 {
		return q.size[part]
	}
	x := math.Sinh(w/2) / (w / 2)
	return q.size[part] * x * x
}
