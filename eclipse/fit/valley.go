package fit

import "math"

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
