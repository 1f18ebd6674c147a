package fit

import (
	"math"
)

// A problem is one log against one eclipse near one shift. Readings, weights
// and window are fixed while the shift is varied: weights that follow the shift
// would reward it for hiding what does not fit.
type problem struct {
	light    *light
	readings []reading
	t        []float64
	rough    []float64 // variance a second seen in the level, from roughness
	jump     []float64 // variance of the level's own steps: a wall's shadow, a cloud's edge
	gain     []float64 // by which the sensor answers where the light is, against its mean answer
	even     []float64 // the same of a sensor that answers alike throughout: ones
	loose    []float64 // the same where cloud cannot be told from the Moon
	softly   []float64 // variance of the readings' own errors that is there in the dark, in the logarithm
	model    []float64 // variance that the light model gains in error between readings
	floor    float64   // lx of residual light; set by setFloor
	mount    mount
	stance   []stance
	seen     []instant // what the sky shows at a shift of seenAt
	seenAt   float64
	plain    bool      // a day without an eclipse
	plainest float64   // the least deviance of such a day, NaN where evidence has not asked for it
	scale    float64   // -2 log of how far apart the readings' values lie in the scales that soften chose
	laid     float64   // the shift that the window was laid for
	full     ceiling   // what of the window was at the sensor's ceiling
	veiled   float64   // the most that cloud takes of the light, as a logarithm
	accounts []account // where contest looked
	around   []glimpse // of the ten minutes either side of where refine ended
	rate     float64   // by which the clock gains, as a part of time
	rows     []row
	written  float64 // the residual light that they are written for, NaN where the sensor has moved since
	reg      *regression
	temper   temper
	walk     walk // of that temper
	filter   *whitener
}

func newProblem(l *light, readings []reading) *problem {
	n := len(readings)
	p := &problem{light: l, readings: readings, t: make([]float64, n), rough: make([]float64, n), jump: make([]float64, n),
		model: make([]float64, n), softly: make([]float64, n), loose: make([]float64, n), gain: make([]float64, n), even: make([]float64, n), stance: make([]stance, n), seen: make([]instant, n), seenAt: math.NaN(), written: math.NaN(), plainest: math.NaN(), rows: make([]row, n), reg: newRegression(n, responsePriors),
		walk: newWalk(n)}
	for k, r := range readings {
		p.t[k], p.softly[k], p.gain[k], p.even[k] = r.t, r.dark(), 1, 1
		w := &p.rows[k]
		w[colStart], w[colSlope], w[columns] = 1, (r.t-p.t[0])/3600, r.y
	}
	p.filter = newWhitener(p.t)
	return p
}

// eclipsed puts the eclipse into the prediction, or takes it out.
func (p *problem) eclipsed(yes bool) {
	p.plain, p.seenAt = !yes, math.NaN()
	p.answerBy()
}

// deviance at a shift, under the walk last set.
func (p *problem) deviance(shift float64) float64 {
	p.fill(shift)
	return p.reg.deviance(p.filter, p.rows)
}

// stand lays the sensor as the mount says. What it does to the readings is kept
// for the shift at hand: it changes slowly, and hardly with the shift.
func (p *problem) stand(shift float64) {
	for k, r := range p.readings {
		p.stance[k] = p.mount.stand(p.light.clear.beamAt(r.t - shift))
	}
	p.written = math.NaN()
}

// lean moves the mount to where the coefficients last solved for put it (Gauss
// and Newton's step), and its priors along with it.
func (p *problem) lean(shift float64) {
	const most, step = 0.4, 0.15 // radians
	power := p.power()
	move := func(angle *float64, col int) {
		d := p.reg.beta.Data[col] / power
		*angle = math.Max(-most, math.Min(most, *angle+math.Max(-step, math.Min(step, d))))
		p.reg.priors[col] = prior{-*angle * power, leanSD * power}
	}
	move(&p.mount.east, colEast)
	move(&p.mount.north, colNorth)
	p.stand(shift)
}

// soften reads the faint readings, where the logarithm of a count or two says
// little: as a straight line about the value that the coefficients last solved for
// predict, with the error that a value of that size has. What counts as faint
// goes by the prediction, since by the reading the noise itself would choose.
func (p *problem) soften(shift float64) {
	const faint, least = 10, 0.1 // deviations of the dark
	p.fill(shift)
	p.scale = 0
	for k := range p.readings {
		r := &p.readings[k]
		dark := math.Sqrt(r.zero)
		value := math.Max(math.Exp(p.rows[k][columns]-p.reg.left(&p.rows[k])), least*dark)
		fit := math.Log(value)
		switch {
		case value < faint*dark && r.v < 3*faint*dark: // what reads far brighter is not faint, whatever is predicted
			r.y, p.softly[k] = faintly(r.v, value, r.zero)
			p.scale += math.Log(r.zero / p.softly[k])
		case r.faint: // dark where light is predicted: no reading of it
			r.y = fit
			p.softly[k] = unread
			p.scale += 2 * fit
		default:
			r.y = math.Log(r.v)
			p.softly[k] = r.zero / (r.v * r.v)
			p.scale += 2 * r.y
		}
		p.rows[k][columns] = r.y
	}
	p.reg.fresh = true
}

// faintly is a reading v of known variance as a logarithm y and its variance, where the value m is
// expected. Its parabola has the slope of the true probability at m and, where v is greater, its
// top, the logarithm of v: one that has the curvature at m as well (Fisher's scoring) lies beyond
// that top by factors where v is several m, and the fit went from one shift to another and back.
func faintly(v, m, variance float64) (y, of float64) {
	const nearly = 1e-3 // where the two are the same to half of that
	over := v/m - 1
	if over > nearly {
		return math.Log(v), variance * math.Log1p(over) / (over * m * m)
	}
	return math.Log(m) + over, variance / (m * m)
}

// unread is the variance of a reading that says nothing.
const unread = 1e4

// mistrust gives the light model its own error, fixed for the shift at hand: it
// wanders by a few per cent with every e-fold that the light falls or rises,
// towards and away from totality apart. What a clear sky does near the horizon is
// known worse, the more so the more air there is.
func (p *problem) mistrust(shift float64) {
	bent := bentError * p.reg.beta.Data[colBend]
	law := modelError*modelError + bent*bent
	p.fill(shift)
	for k := 1; k < len(p.model); k++ {
		before, now := p.readings[k-1].t-shift, p.readings[k].t-shift
		light := math.Abs(p.rows[k][colPower] - p.rows[k-1][colPower])
		sky := math.Abs(p.light.clear.at(now) - p.light.clear.at(before))
		mass := airError * p.light.clear.beamAt(now).mass
		p.model[k] = law*light + mass*mass*sky
	}
}

// modelError is the standard deviation of the light model's error that one e-fold of
// light adds. The published laws of package disc leave at most 0.003 beyond what the
// columns colBlue and colEdge take up (TestLawsBeyondTheColumns); the sky's own share of
// the light, which follows the disc's not quite, is thought to leave three times that.
// airError is that of the clear sky's for each air mass. Common practice, no source.
const (
	modelError = 0.01
	bentError  = 0.015 // of the response for each unit of bend: it need not be a cubic
	airError   = 0.005
)

// use sets the walk's temper.
func (p *problem) use(w temper) {
	p.temper = w
	w.describe(p, &p.walk)
	p.filter.run(p.walk)
	p.reg.fresh = true
}

// residual is the log less the regression at the coefficients last solved for:
// the walk and the errors.
func (p *problem) residual() []float64 {
	out := make([]float64, len(p.rows))
	for k := range out {
		out[k] = p.reg.left(&p.rows[k])
	}
	return out
}
