package canon

import "math"

// reach is how far from T0 the direct method looks, hours; the positions end at four.
const reach = 3.9

// A dip is where a function of time is below zero, hours from T0.
type dip struct {
	ok         bool // it is, somewhere
	runs       int  // in how many separate pieces
	lowest     float64
	begin, end float64 // where ok
	least      float64 // the lowest value
}

// dipOf finds it by scan, golden section and bisection: slow and without cunning.
func dipOf(f func(float64) float64) (d dip) {
	const step = 1.0 / 30
	best, least, below := -reach, math.Inf(1), false
	for h := -reach; h <= reach; h += step {
		v := f(h)
		if v < least {
			best, least = h, v
		}
		if v < 0 && !below {
			d.runs++
		}
		below = v < 0
	}
	d.lowest = golden(f, best-step, best+step)
	if d.least = f(d.lowest); d.least >= 0 {
		return d
	}
	d.ok, d.runs = true, max(1, d.runs)
	d.begin, d.end = bisect(f, d.lowest, -reach), bisect(f, d.lowest, reach)
	return d
}

// golden finds a minimum between a and b; where it is smooth, no better than the
// square root of the rounding allows.
func golden(f func(float64) float64, a, b float64) float64 {
	ratio := (math.Sqrt(5) - 1) / 2
	p, q := b-ratio*(b-a), a+ratio*(b-a)
	fp, fq := f(p), f(q)
	for range 55 {
		if fp < fq {
			b, q, fq = q, p, fp
			p = b - ratio*(b-a)
			fp = f(p)
		} else {
			a, p, fp = p, q, fq
			q = a + ratio*(b-a)
			fq = f(q)
		}
	}
	return (a + b) / 2
}

// bisect finds a change of sign between an argument with a negative value and one
// with a positive value.
func bisect(f func(float64) float64, in, out float64) float64 {
	for range 50 {
		m := (in + out) / 2
		if f(m) < 0 {
			in = m
		} else {
			out = m
		}
	}
	return (in + out) / 2
}

// summit finds where a function is greatest near an instant: where its values a
// second before and after are equal. That is exact for a parabola and for a
// corner with like sides, and knows a flat top better than its values can.
func summit(f func(float64) float64, near float64) float64 {
	const second, around = 1.0 / 3600, 1.0 / 15
	return bisect(func(h float64) float64 { return f(h-second) - f(h+second) }, near-around, near+around)
}
