package fit

import "math"

// A walk is the noise that a log is read through: at every instant an
// independent error, and under it the sky's own slow change, a level that
// wanders and a slope that wanders. It is the local linear trend of A. C.
// Harvey, Forecasting, Structural Time Series Models and the Kalman Filter
// (1989), section 2.3.6, with a level variance that may differ from step to
// step: a cloud's edge is a minute in which the level may go anywhere.
type walk struct {
	white []float64 // variance of each reading's own error
	level []float64 // variance that the level gains between a reading and the one before
	slope float64   // variance that the slope gains in a second, s^-3
}

// A whitener turns series that were read through a walk into series of
// independent errors of variance one. Its gains depend on the instants and on
// the walk alone, so that one pass serves every column of a regression.
type whitener struct {
	dt     []float64 // seconds since the reading before, 0 for the first
	kLevel []float64
	kSlope []float64
	scale  []float64 // one over the standard deviation of the innovation
	logDet float64   // logarithm of the determinant of the covariance
}

// newWhitener runs the variance half of the Kalman filter over the instants t,
// seconds, ascending. Level and slope start at an exact zero: what they were at
// the first instant is for the regression to say, with a column each.
func newWhitener(t []float64, w walk) *whitener {
	n := len(t)
	buf := make([]float64, 4*n)
	f := &whitener{dt: buf[:n], kLevel: buf[n : 2*n], kSlope: buf[2*n : 3*n], scale: buf[3*n:]}
	var p00, p01, p11 float64
	for k := range t {
		if k > 0 {
			h := t[k] - t[k-1]
			f.dt[k] = h
			p00 += h*(2*p01+h*p11) + w.level[k] + w.slope*h*h*h/3
			p01 += h*p11 + w.slope*h*h/2
			p11 += w.slope * h
		}
		s := p00 + w.white[k]
		k0, k1 := p00/s, p01/s
		f.kLevel[k], f.kSlope[k], f.scale[k] = k0, k1, 1/math.Sqrt(s)
		f.logDet += math.Log(s)
		p11 -= k1 * p01
		p01 -= k0 * p01
		p00 -= k0 * p00
	}
	return f
}

// apply writes the whitened column into out.
func (f *whitener) apply(column, out []float64) {
	var level, slope float64
	for k, v := range column {
		level += slope * f.dt[k]
		e := v - level
		level += f.kLevel[k] * e
		slope += f.kSlope[k] * e
		out[k] = e * f.scale[k]
	}
}
