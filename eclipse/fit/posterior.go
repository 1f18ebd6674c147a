package fit

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/interp"
)

// A posterior is the probability of the shift, given the log, on a grid.
type posterior struct {
	shift  []float64
	weight []float64 // sums to one
	mean   float64
	sd     float64
	lo, hi float64 // the middle 95 %
}

// The grid: steps that grow with the distance from the middle (a hyperbolic
// sine), to ten times the width that one size of the walk gives. Between its points
// the logarithm of the probability is read by a cubic spline, which follows a parabola
// exactly.
const (
	gridHalf  = 4
	gridReach = 3.0
	gridFine  = 10 // points read for each step of the grid
)

// posterior integrates over the walk's sizes, which the log does not tell
// exactly, by the spherical cubature rule of third degree: two points on every
// axis, at the square root of the number of axes (I. Arasaratnam & S. Haykin, IEEE
// Trans. Autom. Control 54 (2009) 1254), each weighed by what the log makes of it.
func (p *problem) posterior(best, least, guess, reach float64) (posterior, error) {
	w := p.width(best, least, guess, reach)
	shift := make([]float64, 2*gridHalf+1)
	for i := range shift {
		shift[i] = best + w*gridAt(i*gridFine)
	}
	settled, floor := p.temper, p.floor
	along := p.along(shift)
	sizes := p.cubature(best, least)
	logs := make([][]float64, len(shift)) // of the probability, for each of the sizes
	for _, t := range sizes {
		p.use(t)
		for i, a := range along {
			p.reg.priors[colFloor] = a.prior
			logs[i] = append(logs[i], -(p.reg.deviance(p.filter, a.rows)+t.penalty())/2)
		}
	}
	p.use(settled)
	p.setFloor(floor)
	out, err := overSizes(shift, logs, best, w)
	if err == nil {
		out.beyond(p.around, least)
		out.believe(best)
		out.summarise()
	}
	return out, err
}

// beyond adds what is probable past the ends of the grid, where the log has other valleys,
// as many seconds each as lie between two of those shifts.
func (p *posterior) beyond(around []glimpse, least float64) {
	var before, after posterior
	for _, g := range around {
		side := &after
		switch {
		case g.shift < p.shift[0]-aroundStep/2:
			side = &before
		case g.shift < p.shift[len(p.shift)-1]+aroundStep/2:
			continue
		}
		side.shift, side.weight = append(side.shift, g.shift), append(side.weight, aroundStep*math.Exp((least-g.deviance)/2))
	}
	p.shift = slices.Concat(before.shift, p.shift, after.shift)
	p.weight = slices.Concat(before.weight, p.weight, after.weight)
}

// believe weighs the shifts by what is thought of clocks before the log is read: that they are
// right to minutes or, where the best shift is not, to as much beside the hours of some zone.
func (p *posterior) believe(best float64) {
	var zone float64
	if math.Abs(best) > rightClock {
		zone = 900 * math.Round(best/900)
	}
	for i, s := range p.shift {
		z := (s - zone) / rightClock
		p.weight[i] *= math.Exp(-z * z / 2)
	}
}

// gridAt is the place of a fine point of the grid, in widths from the middle.
func gridAt(fine int) float64 {
	return math.Sinh(gridReach * (float64(fine)/(gridHalf*gridFine) - 1))
}

// overSizes sums over the walk's sizes and lays the fine points.
func overSizes(shift []float64, logs [][]float64, best, w float64) (posterior, error) {
	sum := make([]float64, len(shift))
	for i, l := range logs {
		sum[i] = floats.LogSumExp(l)
	}
	var curve interp.NotAKnotCubic
	if err := curve.Fit(shift, sum); err != nil || math.IsInf(floats.Sum(sum), 0) || math.IsNaN(floats.Sum(sum)) {
		return posterior{}, errSingular
	}
	top := floats.Max(sum)
	const n = 2*gridHalf*gridFine + 1
	out := posterior{shift: make([]float64, n), weight: make([]float64, n)}
	for i := range n {
		u := gridAt(i)
		out.shift[i] = best + w*u
		step := w * gridReach / (gridHalf * gridFine) * math.Hypot(1, u) // s; it grows as the cosine does
		log := math.Min(curve.Predict(out.shift[i]), highest(sum, i)) - top
		out.weight[i] = step * math.Exp(log)
	}
	return out, nil
}

// highest is what the logarithm of the probability can be at a fine point. Away from the top it
// is no higher than at both knots beside it: where they are ragged, as where the residual light
// has valleys of its own, a spline may overshoot them by hundreds.
func highest(knots []float64, fine int) float64 {
	const beyond = 1 // above the highest knot: knots are less than a width apart there
	lo := fine / gridFine
	hi := min(lo+1, len(knots)-1)
	top := floats.Max(knots)
	if most := math.Max(knots[lo], knots[hi]); most < top {
		return most
	}
	return top + beyond
}

// A trial is the regression at one shift, with the residual light that goes with it.
// It serves all sizes of the walk.
type trial struct {
	rows  []row
	prior prior // of the residual light's column
}

// along makes the trials of a grid of shifts, the residual light moving along from the
// middle outwards.
func (p *problem) along(shift []float64) []trial {
	out := make([]trial, len(shift))
	floor := p.floor
	for _, sign := range []int{-1, 1} {
		p.setFloor(floor)
		for i := 0; i <= len(shift)/2; i++ {
			k := len(shift)/2 + sign*i
			p.floored(shift[k])
			out[k] = trial{rows: slices.Clone(p.rows), prior: p.reg.priors[colFloor]}
		}
	}
	p.setFloor(floor)
	return out
}

// cubature returns the walk's sizes to integrate over. On each side of each axis
// the distance is that of a normal distribution that falls as the log's own
// probability does.
func (p *problem) cubature(best, least float64) []temper {
	const most = 3.0 // natural logarithms from the best
	settled := p.temper
	bottom := least + settled.penalty()
	out := make([]temper, 0, 2*tempers)
	for axis := range tempers {
		for _, sign := range []float64{-1, 1} {
			t := settled
			step := 0.5
			for range 2 { // secant on the square root of the rise
				t[axis] = settled[axis] + sign*step
				p.use(t)
				rise := p.deviance(best) + t.penalty() - bottom
				step *= math.Max(0.3, math.Min(3, math.Sqrt(tempers/math.Max(rise, 0.05))))
				step = math.Min(step, most)
			}
			t[axis] = settled[axis] + sign*step
			out = append(out, t)
		}
	}
	p.use(settled)
	return out
}

// summarise normalises the weights and reads mean, deviation and interval.
func (p *posterior) summarise() {
	var sum float64
	for _, w := range p.weight {
		sum += w
	}
	for i := range p.weight {
		p.weight[i] /= sum
		p.mean += p.weight[i] * p.shift[i]
	}
	for i, w := range p.weight {
		d := p.shift[i] - p.mean
		p.sd += w * d * d
	}
	p.sd = math.Sqrt(p.sd)
	p.lo, p.hi = p.at(0.025), p.at(0.975)
}

// widen scales the deviation, and the interval about the mean.
func (p *posterior) widen(by float64) {
	p.sd *= by
	p.lo = p.mean - by*(p.mean-p.lo)
	p.hi = p.mean + by*(p.hi-p.mean)
}

// blur adds an error of so many seconds, as a standard deviation.
func (p *posterior) blur(by float64) {
	if own := (p.hi - p.lo) / (2 * normal95); own > 0 {
		p.widen(math.Hypot(1, by/own))
	}
}

// width is the distance at which the deviance has risen by one, the mean of both
// sides: in a valley that is nearly a parabola the root of the rise is nearly in
// proportion to the distance.
func (p *problem) width(best, least, guess, reach float64) float64 {
	const steps, near, most = 12, 0.1, 4.0
	floor := p.floor
	defer func() { p.setFloor(floor) }()
	side := func(sign float64) float64 {
		p.setFloor(floor)
		w := guess
		for range steps {
			root := math.Sqrt(math.Max(0, p.floored(best+sign*w)-least))
			if math.Abs(root-1) <= near {
				break
			}
			w = math.Min(reach, w*math.Max(1/most, math.Min(most, 1/root)))
		}
		return w
	}
	return (side(-1) + side(1)) / 2
}

// guess is what width begins with: the distance at which a parabola through a point some
// seconds away has risen by one.
func (p *problem) guess(best, least float64) float64 {
	const away = 10.0 // s
	rise := p.deviance(best+away) - least
	return math.Min(fineReach, away/math.Sqrt(math.Max(rise, 1e-6)))
}

// at is the shift below which lies a part q of the probability, each grid point
// standing for half of what lies between it and its neighbours.
func (p *posterior) at(q float64) float64 {
	var sum float64
	n := len(p.shift)
	for i, w := range p.weight {
		if sum+w >= q {
			lo, hi := p.shift[i], p.shift[i]
			if i > 0 {
				lo = (p.shift[i-1] + p.shift[i]) / 2
			}
			if i+1 < n {
				hi = (p.shift[i] + p.shift[i+1]) / 2
			}
			return lo + (hi-lo)*(q-sum)/w
		}
		sum += w
	}
	return p.shift[n-1]
}
