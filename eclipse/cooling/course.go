package cooling

import (
	"math"
	"slices"
)

// tick is the step of all courses inside, s. Answers take minutes.
const tick = 30.0

// A course is a function of time on a grid of ticks, before and after which it stays; or
// several of them, side by side.
type course struct {
	from float64   // s from maximum
	wide int       // how many
	v    []float64 // tick by tick
}

func newCourse(from float64, ticks, wide int) course {
	return course{from, wide, make([]float64, ticks*wide)}
}

func (c *course) ticks() int { return len(c.v) / c.wide }

// set makes a course the same as another, in the memory that it has.
func (c *course) set(to *course) {
	c.from, c.wide, c.v = to.from, to.wide, append(c.v[:0], to.v...)
}

// repeat makes of a course another one, so many times side by side, likewise.
func (c *course) repeat(one *course, times int) {
	c.from, c.wide = one.from, times
	c.v = slices.Grow(c.v[:0], times*len(one.v))[:times*len(one.v)]
	for i, v := range one.v {
		row := c.v[i*times:][:times]
		for k := range row {
			row[k] = v
		}
	}
}

// at is the value of one course at an instant.
func (c *course) at(t float64) float64 {
	var out [1]float64
	c.read(out[:], t)
	return out[0]
}

// read writes the values at an instant.
func (c *course) read(out []float64, t float64) {
	last := c.ticks() - 1
	u := math.Max(0, math.Min(float64(last), (t-c.from)/tick))
	i := min(int(u), last-1)
	f := u - float64(i)
	v, next := c.v[i*c.wide:][:len(out)], c.v[(i+1)*c.wide:][:len(out)]
	for k := range out {
		out[k] = v[k] + f*(next[k]-v[k])
	}
}

// lagged is the answer of first-order responses, each with its time constant or all with one.
func (c *course) lagged(tau ...float64) (out course) {
	out.set(c)
	out.lag(tau...)
	return out
}

// lag puts the answer of first-order responses in a course's place: tau dy/dt = x - y, exact
// for straight lines between ticks (as sensor/air has it), settled at the start.
func (c *course) lag(tau ...float64) {
	n := c.wide
	keep, newer, older := make([]float64, n), make([]float64, n), make([]float64, n)
	for k := range n {
		tau := tau[min(k, len(tau)-1)]
		if tau <= 0 {
			newer[k] = 1
			continue
		}
		keep[k] = math.Exp(-tick / tau)
		newer[k] = 1 - (tau/tick)*(1-keep[k])
		older[k] = 1 - keep[k] - newer[k]
	}
	before := slices.Clone(c.v[:n]) // what there was a tick ago
	for i := n; i < len(c.v); i += n {
		v := c.v[i-n:][:2*n] // the answer a tick ago, and now
		for k, x := range v[n:] {
			v[n+k] = keep[k]*v[k] + newer[k]*x + older[k]*before[k]
			before[k] = x
		}
	}
}

// tilted is one course that grows by that part of itself in a second, none at maximum.
func (c *course) tilted(rate float64) course {
	out := newCourse(c.from, c.ticks(), 1)
	for i, v := range c.v {
		out.v[i] = v * math.Exp(rate*(c.from+tick*float64(i)))
	}
	return out
}

// most is the greatest value of the k-th and where it is, with a parabola through its neighbours.
func (c *course) most(k int) (value, at float64) {
	v := func(i int) float64 { return c.v[i*c.wide+k] }
	most := 0
	for i := range c.ticks() {
		if v(i) > v(most) {
			most = i
		}
	}
	value, at = v(most), c.from+tick*float64(most)
	if most > 0 && most < c.ticks()-1 {
		a, b := v(most-1), v(most+1)
		if d := a - 2*value + b; d < 0 {
			u := 0.5 * (a - b) / d
			return value - 0.25*(a-b)*u, at + tick*u
		}
	}
	return value, at
}
