package fit

import "math"

// What the sky does comes through the sensor: a cell over too large a load hardly moves in full
// light, so that a sky that looks still there may not be, and what looks still would be seen to
// move about maximum. So the walk is the sky's, in the logarithm of light, times the response's
// mean exponent, and each reading answers it by its own gain.

// feel finds how strongly the sensor answers the light of each reading at a shift, by the
// coefficients last solved for.
func (p *problem) feel(shift float64) {
	const least, most = 0.3, 3.0 // a response that would answer by less or more is not known so well
	if p.plain {
		return
	}
	p.fill(shift)
	a, b, d := p.reg.beta.Data[colPower], p.reg.beta.Data[colBend], p.reg.beta.Data[colTwist]
	p.mean = math.Max(p.exponent(), leastExponent)
	for k := range p.rows {
		x := p.rows[k][colPower] / bendScale
		g := (a + (2*b*x+3*d*x*x)/bendScale) / p.mean
		p.gain[k] = math.Max(least, math.Min(most, g))
	}
	p.answerBy()
}

// answerBy writes what goes by the gain and not by the shift.
func (p *problem) answerBy() {
	for k, g := range p.answers() {
		p.rows[k][colSlope] = g * (p.t[k] - p.t[0]) / 3600
	}
	p.written = math.NaN()
	p.use(p.temper)
}

// answers are the gains. On a plain day they are even: an eclipse's gains times a level would
// have an eclipse's shape.
func (p *problem) answers() []float64 {
	if p.plain {
		return p.even
	}
	return p.gain
}

// answerAs takes the response from another problem of the same readings.
func (p *problem) answerAs(q *problem) {
	copy(p.gain, q.gain)
	p.mean = q.mean
	p.answerBy()
}

// power is the mean answer, within reason.
func (p *problem) power() float64 { return math.Max(0.2, math.Min(2, p.mean)) }
