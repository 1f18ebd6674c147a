package fit

import (
	"math"
	"slices"
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
	softly   []float64 // variance of the readings' own errors that is there in the dark, in the logarithm
	model    []float64 // variance that the light model gains in error between readings
	floor    float64   // lx of residual light; set by setFloor
	mount    mount
	stance   []stance
	rows     []row
	reg      *regression
	temper   temper
	filter   *whitener
}

func newProblem(l *light, readings []reading) *problem {
	n := len(readings)
	p := &problem{light: l, readings: readings, t: make([]float64, n), rough: make([]float64, n), jump: make([]float64, n),
		model: make([]float64, n), softly: make([]float64, n), stance: make([]stance, n), rows: make([]row, n), reg: newRegression(n, responsePriors)}
	for k, r := range readings {
		p.t[k], p.softly[k] = r.t, r.dark()
	}
	return p
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
}

// lean moves the mount to where the coefficients last solved for put it (Gauss
// and Newton's step), and its priors along with it.
func (p *problem) lean(shift float64) {
	const most, step = 0.4, 0.15 // radians
	power := p.power()
	move := func(angle *float64, col int) {
		d := p.reg.beta.AtVec(col) / power
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
	for k := range p.readings {
		r := &p.readings[k]
		dark := math.Sqrt(r.zero)
		value := math.Max(math.Exp(p.rows[k][columns]-p.reg.left(&p.rows[k])), least*dark)
		fit := math.Log(value)
		switch {
		case value < faint*dark && r.v < 3*faint*dark: // what reads far brighter is not faint, whatever is predicted
			r.y = fit + (r.v-value)/value
			p.softly[k] = r.zero / (value * value)
		case r.faint: // dark where light is predicted: no reading of it
			r.y = fit
			p.softly[k] = unread
		default:
			r.y = math.Log(r.v)
			p.softly[k] = r.zero / (r.v * r.v)
		}
	}
}

// unread is the variance of a reading that says nothing.
const unread = 1e4

// mistrust gives the light model its own error, fixed for the shift at hand: it
// wanders by a few per cent with every e-fold that the light falls or rises,
// towards and away from totality apart. So much do published limb-darkening laws
// differ by (the bulk of it is in the columns colBlue and colEdge; this is the rest). What a clear sky does
// near the horizon is known worse, the more so the more air there is.
func (p *problem) mistrust(shift float64) {
	p.fill(shift)
	for k := 1; k < len(p.model); k++ {
		before, now := p.readings[k-1].t-shift, p.readings[k].t-shift
		light := math.Abs(p.rows[k][colPower] - p.rows[k-1][colPower])
		sky := math.Abs(p.light.clear.at(now) - p.light.clear.at(before))
		mass := airError * p.light.clear.beamAt(now).mass
		p.model[k] = modelError*modelError*light + mass*mass*sky
	}
}

// modelError is the standard deviation of the light model's error that one e-fold
// of light adds, measured between the laws of package disc; airError that of the
// clear sky's for each air mass (common practice, no source).
const (
	modelError = 0.02
	airError   = 0.01
)

// use sets the walk's temper.
func (p *problem) use(w temper) {
	p.temper = w
	p.filter = newWhitener(p.t, p.noise())
}

// noise is the walk as it now stands.
func (p *problem) noise() walk { return p.temper.walk(p) }

// residual is the log less the regression at the coefficients last solved for:
// the walk and the errors.
func (p *problem) residual() []float64 {
	out := make([]float64, len(p.rows))
	for k := range out {
		out[k] = p.reg.left(&p.rows[k])
	}
	return out
}

// leap frees the level at every reading that the walk cannot follow, by more
// than four deviations of the innovation, which a white error makes once in
// sixteen thousand. A shadow's edge is one such step, a spike is two. It returns
// how many it found.
func (p *problem) leap() int {
	const limit = 4
	n := 0
	for k := range p.rows {
		if z := p.reg.left(&p.reg.white[k]); math.Abs(z) > limit {
			e := z / p.filter.gains[k].scale
			p.jump[k] += e * e
			n++
		}
	}
	return n
}

// isolate takes back the jumps that stand among others. One edge of a shadow is
// an event, however many readings it takes; three in ten minutes are weather, which
// roughness weighs as a whole. Freeing each of them would leave just those steps
// that happen to agree with the shift of the moment.
func (p *problem) isolate() {
	const side, most = 300.0, 2
	events := make([]int, len(p.jump)) // how many began up to each reading
	n, last := 0, math.Inf(-1)
	for k, j := range p.jump {
		if j > 0 {
			if p.t[k]-last > edgeLength {
				n++
			}
			last = p.t[k]
		}
		events[k] = n
	}
	weather := slices.Clone(p.jump)
	for k, j := range p.jump {
		lo, _ := slices.BinarySearch(p.t, p.t[k]-side)
		hi, _ := slices.BinarySearch(p.t, p.t[k]+side)
		around := events[hi-1] - events[lo]
		if p.jump[lo] > 0 {
			around++
		}
		if j > 0 && around > most {
			weather[k] = 0
		}
	}
	p.jump = weather
}

// blur frees the readings beside a jump as well: an edge is soft, and what it
// leaves in its neighbours is no longer an accident but looks like the eclipse.
func (p *problem) blur() {
	soft := slices.Clone(p.jump)
	for k, j := range p.jump {
		if j == 0 {
			continue
		}
		for i := max(0, k-1); i < min(len(soft), k+2); i++ {
			soft[i] = math.Max(soft[i], j/4)
		}
		for i := k - 1; i >= 0 && p.t[k]-p.t[i] <= edgeBlur; i-- {
			soft[i] = math.Max(soft[i], j/4)
		}
		for i := k + 1; i < len(soft) && p.t[i]-p.t[k] <= edgeBlur; i++ {
			soft[i] = math.Max(soft[i], j/4)
		}
	}
	p.jump = soft
}

// edgeBlur is how far an edge is felt beside what shows of it, s. Common practice,
// no source.
const edgeBlur = 15.0

// edgeLength is how long a shadow's edge may take to cross a sensor, s: a cloud of
// a kilometre's blur in a moderate wind. Common practice, no source.
const edgeLength = 60.0

// refloor moves the residual light to where the log puts it: the best of a
// ladder of steps by a factor, each way, weighed by its prior.
func (p *problem) refloor(shift, factor float64, rungs int) {
	if !p.light.total() {
		return
	}
	best, least := p.floor, math.Inf(1)
	start := p.floor
	for i := -rungs; i <= rungs; i++ {
		p.setFloor(start * math.Pow(factor, float64(i)))
		if d := p.deviance(shift); d < least {
			best, least = p.floor, d
		}
	}
	p.setFloor(best)
}

// setFloor moves the residual light, and the prior of its column along with it:
// what is known is the light, not its distance from where it is just now.
func (p *problem) setFloor(lx float64) {
	p.floor = math.Max(leastFloor, math.Min(mostFloor, lx))
	power := p.power()
	p.reg.priors[colFloor] = prior{math.Log(startFloor/p.floor) * power, floorSD * power}
}

// power is the response last solved for, within reason.
func (p *problem) power() float64 { return math.Max(0.2, math.Min(2, p.reg.beta.AtVec(colPower))) }

// floored is the deviance at a shift with the residual light that goes with it
// (Gauss and Newton's steps): near totality the one makes up for the other, and
// to hold the light would claim a sharpness that is not there.
func (p *problem) floored(shift float64) float64 {
	const (
		steps, halvings = 5, 3
		near            = 0.1 // natural logarithm
		most            = 1.0
	)
	d := p.deviance(shift)
	if !p.light.total() {
		return d
	}
	for range steps {
		was, move := p.floor, p.reg.beta.AtVec(colFloor)/p.power()
		if !(math.Abs(move) > near) {
			break
		}
		move = math.Max(-most, math.Min(most, move))
		better := false
		for range halvings {
			p.setFloor(was * math.Exp(move))
			if next := p.deviance(shift); next < d {
				d, better = next, true
				break
			}
			move /= 3
		}
		if !better {
			p.setFloor(was)
			return p.deviance(shift)
		}
	}
	return d
}

// deepest is the shift of least deviance within reach, the residual light moving
// along, and leaves that light set.
func (p *problem) deepest(start, reach float64) (shift, least float64) {
	floor, from := p.floor, p.floor
	least = math.Inf(1)
	of := func(at float64) float64 {
		p.setFloor(from)
		d := p.floored(at)
		if d < least {
			shift, least, floor = at, d, p.floor
		}
		return d
	}
	of(start)
	golden(of, start-reach, start+reach, reach/80)
	p.setFloor(floor)
	return shift, p.deviance(shift)
}

// lowest finds the shift of least deviance within reach of the start: a grid
// first, since a cloudy log may have several valleys, then golden sections.
func (p *problem) lowest(start, reach float64) (shift, least float64) {
	const points = 24
	step := 2 * reach / points
	shift, least = start, p.deviance(start)
	for i := -points / 2; i <= points/2; i++ {
		if i == 0 {
			continue
		}
		if d := p.deviance(start + float64(i)*step); d < least {
			shift, least = start+float64(i)*step, d
		}
	}
	return golden(p.deviance, shift-step, shift+step, step/400)
}

// golden narrows a valley to a width of tol (J. Kiefer, Proc. Am. Math. Soc. 4
// (1953) 502).
func golden(of func(float64) float64, lo, hi, tol float64) (at, least float64) {
	const ratio = 0.6180339887498949
	a, b := hi-ratio*(hi-lo), lo+ratio*(hi-lo)
	fa, fb := of(a), of(b)
	for range 60 {
		if hi-lo <= tol {
			break
		}
		if fa <= fb {
			hi, b, fb = b, a, fa
			a = hi - ratio*(hi-lo)
			fa = of(a)
		} else {
			lo, a, fa = a, b, fb
			b = lo + ratio*(hi-lo)
			fb = of(b)
		}
	}
	if fa <= fb {
		return a, fa
	}
	return b, fb
}
