package fit

import "math"

// A temper is the walk's unknown sizes, as natural logarithms.
type temper [tempers]float64

const (
	errorSize = iota // factor on the readings' own variances
	calmSize         // variance a second that the level gains everywhere
	roughSize        // factor on the roughness seen, which the cloud gains
	memory           // s in which the cloud forgets itself
	slopeSize        // variance a second that the slope gains, s^-3
	modelSize        // factor on the light model's own variance
	tempers
)

// temperPriors are wide normal distributions of those logarithms. A clear sky's
// transmittance wanders by about a thousandth in a minute and bends away from a
// straight line by two hundredths in an hour (common practice, no source): a
// slope walk of q bends by sqrt(q T^3/3) in T.
var temperPriors = [tempers]prior{
	errorSize: {0, 0.7},
	calmSize:  {math.Log(1e-6 / 60), 3},
	roughSize: {math.Log(0.7), 0.5},
	memory:    {math.Log(300), 1.2},
	slopeSize: {math.Log(3 * 0.02 * 0.02 / (3600 * 3600 * 3600)), 2.5},
	modelSize: {0, 2.5},
}

// stillTemper is what is thought before the log is read.
func stillTemper() (w temper) {
	for i, pr := range temperPriors {
		w[i] = pr.mean
	}
	return w
}

func (w *temper) penalty() float64 {
	var s float64
	for i, p := range temperPriors {
		z := (w[i] - p.mean) / p.sd
		s += z * z
	}
	return s
}

// describe writes the noise that a temper makes of a problem.
func (w *temper) describe(p *problem, out *walk) {
	out.memory, out.slope = math.Exp(w[memory]), math.Exp(w[slopeSize])
	own, calm, rise, model := math.Exp(w[errorSize]), math.Exp(w[calmSize]), math.Exp(w[roughSize]), math.Exp(w[modelSize])
	answers := p.answers()
	for k := range p.readings {
		r := &p.readings[k]
		out.white[k] = r.rel*own + p.softly[k]
		g := answers[k]
		out.answer[k] = g
		out.cloud[k] = rise * p.rough[k] / (g * g)
		if k > 0 {
			out.level[k] = (calm*(r.t-p.t[k-1])+model*p.model[k])*g*g + p.jump[k] + p.loose[k]
		}
	}
}

// settle moves the temper towards its greatest posterior probability with the columns
// held where they are: restricted maximum likelihood (H. D. Patterson &
// R. Thompson, Biometrika 58 (1971) 545) with the priors above, along one size after
// the other, within reach of where it is.
func (p *problem) settle(reach float64) {
	const tol = 0.25 // natural logarithm; the next round looks again
	w := p.temper
	least := p.reg.deviance(p.filter, p.rows) + w.penalty()
	for _, axis := range settleOrder {
		at := w[axis]
		w[axis], least = narrow(func(x float64) float64 {
			t := w
			t[axis] = x
			p.use(t)
			return p.reg.deviance(p.filter, p.rows) + t.penalty()
		}, at-reach, at, at+reach, least, tol)
	}
	p.use(w)
}

// settleOrder has cloud before what wanders for good. Either explains most of a restless sky;
// one that wanders makes an interval wide, and once it has been let have what is cloud's, the
// way back is uphill along every single size.
var settleOrder = [tempers]int{roughSize, memory, calmSize, slopeSize, modelSize, errorSize}
