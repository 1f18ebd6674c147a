package station

import "math"

// A belief is what is known of the unknowns after some readings: their means and
// covariance, how likely the readings were, and their sum of squares.
type belief struct {
	mean       state
	cov        [unknowns]state
	likelihood float64 // natural logarithm
	chiSquare  float64
}

// A wander is how the departures from the model come and go: an Ornstein-Uhlenbeck
// process, of a standard deviation in ln Value and a time to forget, hours.
type wander struct{ u, hours float64 }

// forget moves the slow departure on by some hours.
func (b *belief) forget(w wander, hours float64) {
	keep := math.Exp(-hours / w.hours)
	b.mean[atSlow] *= keep
	for i := range b.cov {
		b.cov[i][atSlow] *= keep
		b.cov[atSlow][i] *= keep
	}
	b.cov[atSlow][atSlow] += w.u * w.u * (1 - keep*keep)
}

// learn takes in one reading that depends on the unknowns by their factors: the
// scalar update of a Kalman filter, which for constants is least squares.
func (b *belief) learn(factors state, reading, variance float64) {
	var carried state // covariance of the unknowns with the reading
	expected, spread := 0.0, variance
	for i, f := range factors {
		for j := range carried {
			carried[j] += b.cov[j][i] * f
		}
		expected += f * b.mean[i]
	}
	for i, f := range factors {
		spread += f * carried[i]
	}
	miss := reading - expected
	for i := range b.mean {
		b.mean[i] += carried[i] * miss / spread
		for j := range b.cov[i] {
			b.cov[i][j] -= carried[i] * carried[j] / spread
		}
	}
	b.chiSquare += miss * miss / spread
	b.likelihood -= (miss*miss/spread + math.Log(spread)) / 2
}

// A block is some minutes as one reading.
type block struct {
	sight
	ln       float64 // of Value
	variance float64
}

// A climb is the readings of a morning and what was known before them.
type climb struct {
	blocks []block
	prior  belief
	middle float64 // ln lux at which the level is taken
}

// mostSteps of solve: made-up mornings took 4 to 12.
const mostSteps = 60

// solve finds the unknowns under a wander. The light depends on the air by a curve:
// each step follows its tangents at the last answer (Gauss and Newton), until no
// unknown would move by a hundredth of its uncertainty. Steps that turn back on the last
// one are shortened.
func (c *climb) solve(w wander, start state) (belief, bool) {
	tangents := make([]tangent, len(c.blocks))
	var last state
	part := 1.0
	for range mostSteps {
		for i := range c.blocks {
			tangents[i].ln, tangents[i].by = c.blocks[i].change(start)
		}
		b := c.pass(w, start, tangents)
		moved, turned := 0.0, 0.0
		for i := range atSlow {
			if u := math.Sqrt(math.Max(0, b.cov[i][i])); u > 0 {
				step := (b.mean[i] - start[i]) / u
				moved = math.Max(moved, math.Abs(step))
				turned += step * last[i]
				last[i] = step
			}
		}
		if moved <= 0.01 {
			return b, true
		}
		if !(moved <= math.MaxFloat64) {
			break
		}
		if turned < 0 {
			part = math.Max(part/2, 1.0/16)
		}
		for i := range atSlow {
			start[i] += part * (b.mean[i] - start[i])
		}
	}
	return belief{}, false
}

// A tangent is a block's ln lux at a state, and its derivatives there.
type tangent struct {
	ln float64
	by state
}

// pass takes in all the blocks once, along the tangents at a state.
func (c *climb) pass(w wander, at state, tangents []tangent) belief {
	b := c.prior
	b.cov[atSlow][atSlow] = w.u * w.u
	for i := range c.blocks {
		q := &c.blocks[i]
		if i > 0 {
			b.forget(w, q.hours-c.blocks[i-1].hours)
		}
		factors := state{atLevel: 1, atSlope: tangents[i].ln - c.middle, atSlow: 1}
		reading := q.ln
		for k := atAir; k < atSlow; k++ {
			factors[k] = at[atSlope] * tangents[i].by[k]
			reading += factors[k] * at[k]
		}
		b.learn(factors, reading, q.variance)
	}
	return b
}

// blend is the mean of beliefs by their likelihoods, with what they differ by in the
// covariance, and the share of each.
func blend(all []belief) (belief, []float64) {
	best := math.Inf(-1)
	for _, b := range all {
		best = math.Max(best, b.likelihood)
	}
	var sum float64
	shares := make([]float64, len(all))
	for k, b := range all {
		shares[k] = math.Exp(b.likelihood - best)
		sum += shares[k]
	}
	var out belief
	out.likelihood = best
	for k, b := range all {
		shares[k] /= sum
		out.chiSquare += shares[k] * b.chiSquare
		for i := range b.mean {
			out.mean[i] += shares[k] * b.mean[i]
		}
	}
	for k, b := range all {
		for i := range b.cov {
			for j := range b.cov[i] {
				out.cov[i][j] += shares[k] * (b.cov[i][j] + (b.mean[i]-out.mean[i])*(b.mean[j]-out.mean[j]))
			}
		}
	}
	return out, shares
}
