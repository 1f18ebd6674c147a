package fit

import (
	"math"

	"gonum.org/v1/gonum/blas/blas64"
)

// A walk is the noise that a log is read through: at every instant an
// independent error, and under it what the sky does. Slow changes are a level that
// wanders and a slope that wanders, the local linear trend of A. C. Harvey,
// Forecasting, Structural Time Series Models and the Kalman Filter (1989),
// section 2.3.6. Passing cloud is a third state that forgets itself (an
// Ornstein-Uhlenbeck process): after it the level is what it was before.
type walk struct {
	white  []float64 // variance of each reading's own error
	level  []float64 // variance that the level gains between a reading and the one before
	cloud  []float64 // variance a second that the cloud gains
	memory float64   // s in which the cloud forgets itself
	slope  float64   // variance that the slope gains in a second, s^-3
	answer []float64 // gain by which the slope moves the level, and cloud the reading
}

// A whitener turns series that were read through a walk into series of
// independent errors of variance one. Its gains depend on the instants and on
// the walk alone, so that one pass serves every column of a regression.
type whitener struct {
	gains  []gain
	memory float64 // s, that the gains' keep is for
	logDet float64 // logarithm of the determinant of the covariance
}

// A gain is one step of the filter.
type gain struct {
	dt     float64 // seconds since the reading before, 0 for the first
	keep   float64 // part of the cloud that is left after dt
	level  float64
	slope  float64
	cloud  float64
	answer float64 // of the reading to the cloud
	run    float64 // s since the reading before, times the gain by which the slope moves the level
	scale  float64 // one over the standard deviation of the innovation
}

func newWalk(n int) walk {
	buf := make([]float64, 4*n)
	return walk{white: buf[:n], level: buf[n : 2*n], cloud: buf[2*n : 3*n], answer: buf[3*n:]}
}

// newWhitener is for readings at the instants t, seconds, ascending.
func newWhitener(t []float64) *whitener {
	f := &whitener{gains: make([]gain, len(t))}
	for k := 1; k < len(t); k++ {
		f.gains[k].dt = t[k] - t[k-1]
	}
	return f
}

// remember works out what is left of the cloud from reading to reading, unless it is known
// for this memory.
func (f *whitener) remember(memory float64) {
	if memory == f.memory { // exactly: of the walk's sizes most change without it
		return
	}
	f.memory = memory
	keep, lastStep := 0.0, math.NaN()
	for k := 1; k < len(f.gains); k++ {
		g := &f.gains[k]
		if g.dt != lastStep {
			keep, lastStep = math.Exp(-g.dt/memory), g.dt
		}
		g.keep = keep
	}
}

// run goes through the variance half of the Kalman filter. Level and slope start at an
// exact zero: what they were at the first instant is for the regression to say, with a
// column each. The covariance of level, slope and cloud is ll, ls, lc, ss, sc, cc.
func (f *whitener) run(w walk) {
	f.remember(w.memory)
	var ll, ls, lc, ss, sc, cc float64
	f.logDet = 0
	det := 1.0
	n := len(f.gains)
	white, level, cloud, answer := w.white[:n], w.level[:n], w.cloud[:n], w.answer[:n]
	for k := range f.gains {
		g := &f.gains[k]
		if k == 0 {
			cc = cloud[0] * w.memory / 2
		} else {
			h, keep := g.dt, g.keep
			run := h * answer[k]
			g.run = run
			ll += run*(2*ls+run*ss) + level[k] + w.slope*run*run*h/3
			ls += run*ss + w.slope*run*h/2
			ss += w.slope * h
			lc = (lc + run*sc) * keep
			sc *= keep
			cc = cc*keep*keep + cloud[k]*w.memory/2*(1-keep*keep)
		}
		a := answer[k]
		pl, ps, pc := ll+a*lc, ls+a*sc, lc+a*cc
		s := pl + a*pc + white[k]
		over := 1 / s
		g.level, g.slope, g.cloud, g.answer, g.scale = pl*over, ps*over, pc*over, a, math.Sqrt(over)
		if det *= s; det < 1e-200 || det > 1e200 { // one logarithm for many readings
			f.logDet += math.Log(det)
			det = 1
		}
		ll -= g.level * pl
		ls -= g.level * ps
		lc -= g.level * pc
		ss -= g.slope * ps
		sc -= g.slope * pc
		cc -= g.cloud * pc
	}
	f.logDet += math.Log(det)
}

// apply writes the whitened rows into out, a column of theirs to a line: as many columns as
// there are in R, from the first on.
func apply[R row | moving](f *whitener, rows []row, first int, out blas64.General) {
	var level, slope, cloud R
	data, stride := out.Data[first*out.Stride:], out.Stride
	for k := range rows {
		g, in := &f.gains[k], rows[k][first:][:len(level)]
		// All in registers: no other loop takes as much of a fit's time.
		run, keep, answer, toLevel, toSlope, toCloud, scale := g.run, g.keep, g.answer, g.level, g.slope, g.cloud, g.scale
		at := k
		for j := range len(level) {
			l := level[j] + slope[j]*run
			c := cloud[j] * keep
			e := in[j] - l - answer*c
			level[j] = l + toLevel*e
			slope[j] += toSlope * e
			cloud[j] = c + toCloud*e
			data[at] = e * scale
			at += stride
		}
	}
}
