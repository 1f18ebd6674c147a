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
	t, y     []float64
	rough    []float64 // variance a second seen in the level, from roughness
	jump     []float64 // variance of the level's own steps: a wall's shadow, a cloud's edge
	model    []float64 // variance that the light model gains in error between readings
	floor    float64   // lx of residual light
	cols     [][]float64
	reg      *regression
	temper   temper
	filter   *whitener
}

func newProblem(l *light, readings []reading, floor float64) *problem {
	n := len(readings)
	p := &problem{light: l, readings: readings, t: make([]float64, n), y: make([]float64, n), rough: make([]float64, n), jump: make([]float64, n),
		model: make([]float64, n), floor: floor, cols: make([][]float64, columns), reg: newRegression(n, responsePriors[:])}
	for k, r := range readings {
		p.t[k], p.y[k] = r.t, r.y
	}
	for j := range p.cols {
		p.cols[j] = make([]float64, n)
	}
	return p
}

// deviance at a shift, under the walk last set.
func (p *problem) deviance(shift float64) float64 {
	p.light.fill(p.cols, p.readings, shift, p.floor)
	return p.reg.deviance(p.filter, p.y, p.cols)
}

// mistrust gives the light model its own error, fixed for the shift at hand: it
// wanders by a few per cent with every e-fold that the light falls or rises,
// towards and away from totality apart. So much do published limb-darkening laws
// differ by (the bulk of it is the column colLaw; the rest, a power of mu against a
// polynomial at the last hundredth of the disc, is this).
func (p *problem) mistrust(shift float64) {
	p.light.fill(p.cols, p.readings, shift, p.floor)
	for k := 1; k < len(p.model); k++ {
		p.model[k] = modelError * modelError * math.Abs(p.cols[colPower][k]-p.cols[colPower][k-1])
	}
}

// modelError is the standard deviation of the light model's error that one e-fold
// of light adds. Measured between the laws of package disc.
const modelError = 0.02

// use sets the walk's temper.
func (p *problem) use(w temper) {
	p.temper = w
	p.filter = newWhitener(p.t, p.noise())
}

// noise is the walk as it now stands.
func (p *problem) noise() walk { return p.temper.walk(p.readings, p.rough, p.jump, p.model) }

// residual is the log less the regression at the coefficients last solved for:
// the walk and the errors.
func (p *problem) residual() []float64 {
	out := slices.Clone(p.y)
	for j, col := range p.cols {
		b := p.reg.beta.AtVec(j)
		for k := range out {
			out[k] -= b * col[k]
		}
	}
	return out
}

// leap frees the level at every reading that the walk cannot follow, by more
// than four deviations of the innovation, which a white error makes once in
// sixteen thousand. A shadow's edge is one such step, a spike is two. It returns
// how many it found.
func (p *problem) leap() int {
	const limit = 4
	innovation := slices.Clone(p.reg.y)
	for j, col := range p.reg.cols {
		b := p.reg.beta.AtVec(j)
		for k := range innovation {
			innovation[k] -= b * col[k]
		}
	}
	n := 0
	for k, z := range innovation {
		if math.Abs(z) > limit {
			e := z / p.filter.scale[k]
			p.jump[k] += e * e
			n++
		}
	}
	return n
}

// isolate takes back the jumps that stand among others. One edge of a shadow is
// an event; three in ten minutes are weather, which roughness weighs as a whole.
// Freeing each of them would leave just those steps that happen to agree with the
// shift of the moment.
func (p *problem) isolate() {
	const side, most = 300.0, 2
	at := make([]float64, 0, 16)
	for k, j := range p.jump {
		if j > 0 {
			at = append(at, p.t[k])
		}
	}
	for k, j := range p.jump {
		if j == 0 {
			continue
		}
		lo, _ := slices.BinarySearch(at, p.t[k]-side)
		hi, _ := slices.BinarySearch(at, p.t[k]+side)
		if hi-lo > most {
			p.jump[k] = 0
		}
	}
}

// refloor moves the residual light to where the log puts it: the best of a
// ladder of steps by a factor, each way, weighed by the prior. The column
// colFloor is linear in its logarithm only near the right rung.
func (p *problem) refloor(shift, factor float64, rungs int) {
	best, least := p.floor, math.Inf(1)
	start := p.floor
	for i := -rungs; i <= rungs; i++ {
		p.floor = start * math.Pow(factor, float64(i))
		z := math.Log(p.floor/startFloor) / floorSD
		if d := p.deviance(shift) + z*z; d < least {
			best, least = p.floor, d
		}
	}
	p.floor = best
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
	return p.golden(shift-step, shift+step, step/400)
}

// golden narrows a valley to a width of tol (J. Kiefer, Proc. Am. Math. Soc. 4
// (1953) 502).
func (p *problem) golden(lo, hi, tol float64) (shift, least float64) {
	const ratio = 0.6180339887498949
	a, b := hi-ratio*(hi-lo), lo+ratio*(hi-lo)
	fa, fb := p.deviance(a), p.deviance(b)
	for range 60 {
		if hi-lo <= tol {
			break
		}
		if fa <= fb {
			hi, b, fb = b, a, fa
			a = hi - ratio*(hi-lo)
			fa = p.deviance(a)
		} else {
			lo, a, fa = a, b, fb
			b = lo + ratio*(hi-lo)
			fb = p.deviance(b)
		}
	}
	if fa <= fb {
		return a, fa
	}
	return b, fb
}
