package fit

import "math"

// What the sky does comes through the sensor: a cell over too large a load hardly moves in full
// light, so that a sky that looks still there may not be, and shows about maximum. Each reading
// answers the light by its own gain: what the level gains by itself or by its slope goes by that
// of the reading at which it does, and cloud by that of the reading under it. The level as a
// whole does not: it may be anything, and times the gain would have the shape of the eclipse.

// feel finds how strongly the sensor answers the light of each reading at a shift, against its
// mean answer, by the coefficients last solved for. Common practice, no source, for the bounds: a
// response is not known better than that.
func (p *problem) feel(shift float64) {
	const least, most = 0.3, 3.0
	if p.plain {
		return
	}
	p.fill(shift)
	a, b, d := p.reg.beta.Data[colPower], p.reg.beta.Data[colBend], p.reg.beta.Data[colTwist]
	mean := math.Max(p.exponent(), leastExponent)
	for k := range p.rows {
		x := p.rows[k][colPower] / bendScale
		g := (a + (2*b*x+3*d*x*x)/bendScale) / mean
		p.gain[k] = math.Max(least, math.Min(most, g))
	}
	p.answerBy()
}

// answerBy writes what goes by the gain and not by the shift.
func (p *problem) answerBy() {
	var run float64 // h
	for k, g := range p.answers() {
		if k > 0 {
			run += g * (p.t[k] - p.t[k-1]) / 3600
		}
		p.rows[k][colSlope] = run
	}
	p.written = math.NaN()
	p.use(p.temper)
}

// answers are the gains; on a plain day all of them are one, for it has no dark that would be
// answered otherwise.
func (p *problem) answers() []float64 {
	if p.plain {
		return p.even
	}
	return p.gain
}

// power is the response last solved for in full light, within reason.
func (p *problem) power() float64 {
	return math.Max(0.2, math.Min(2, p.reg.beta.Data[colPower]))
}
