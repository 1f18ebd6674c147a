package fit

import "math"

// A posterior is the probability of the shift, given the log, on a grid.
type posterior struct {
	shift  []float64
	weight []float64 // sums to one
	mean   float64
	sd     float64
	lo, hi float64 // the middle 95 %
	least  float64 // deviance at the best grid point
}

// allowance widens the shift's uncertainty for what holding the walk's sizes and
// the weights at their best values leaves out. It was chosen by
// coverage on rehearsed logs (seeds 1000, 3000 and 5000, two hundred each), not
// derived; other seeds judge it.
const allowance = 1.0

// posterior walks out from the best shift until the probability has fallen by
// e^-12, or to the reach, and integrates what lies between.
func (p *problem) posterior(best, least, reach float64) posterior {
	width := p.width(best, least, reach)
	const half = 24
	out := posterior{shift: make([]float64, 2*half+1), least: least}
	dev := make([]float64, 2*half+1)
	floor := p.floor
	for _, sign := range []int{-1, 1} { // from the middle, so that the residual light follows
		p.setFloor(floor)
		for i := 0; i <= half; i++ {
			k := half + sign*i
			out.shift[k] = best + float64(sign*i)*width*5/half
			dev[k] = p.floored(out.shift[k])
			out.least = math.Min(out.least, dev[k])
		}
	}
	p.setFloor(floor)
	var sum float64
	for _, d := range dev {
		w := math.Exp((out.least - d) / 2)
		out.weight = append(out.weight, w)
		sum += w
	}
	for i := range out.weight {
		out.weight[i] /= sum
		out.mean += out.weight[i] * out.shift[i]
	}
	for i, w := range out.weight {
		d := out.shift[i] - out.mean
		out.sd += w * d * d
	}
	step := width * 5 / half
	out.sd = allowance * math.Sqrt(out.sd+step*step/12)
	out.lo = out.mean - allowance*(out.mean-out.at(0.025))
	out.hi = out.mean + allowance*(out.at(0.975)-out.mean)
	return out
}

// width is the distance at which the deviance has risen by one, the mean of
// both sides, found by doubling and halving.
func (p *problem) width(best, least, reach float64) float64 {
	floor := p.floor
	defer func() { p.setFloor(floor) }()
	side := func(sign float64) float64 {
		p.setFloor(floor)
		w := 0.02
		for w < reach && p.floored(best+sign*w)-least < 1 {
			w *= 2
		}
		lo, hi := w/2, w
		for range 5 {
			m := (lo + hi) / 2
			if p.floored(best+sign*m)-least < 1 {
				lo = m
			} else {
				hi = m
			}
		}
		return math.Min((lo+hi)/2, reach)
	}
	return (side(-1) + side(1)) / 2
}

// at is the shift below which lies a part q of the probability.
func (p *posterior) at(q float64) float64 {
	var sum float64
	step := p.shift[1] - p.shift[0]
	for i, w := range p.weight {
		if sum+w >= q {
			return p.shift[i] - step/2 + step*(q-sum)/w
		}
		sum += w
	}
	return p.shift[len(p.shift)-1]
}
