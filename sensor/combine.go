package sensor

import (
	"errors"
	"math"
)

// ErrNoWeights says that calibrations cannot be combined, for they have no uncertainties.
var ErrNoWeights = errors.New("sensor: the calibrations have no uncertainties to weigh them by: give their points uncertainties")

// Combine is what two calibrations of one sensor say together, each by its
// covariance: the weighted mean of two vectors (least squares). They must share no
// cause: a lamp's candela and a clear sky do not. ChiSquare is that of their
// difference, with Freedom 2: above 6 they disagree (5 % of those that do not), and the
// sum is not to be used. Where both slopes were held at the same value it is the values
// alone, with Freedom 1 and a bound of 3.8. Residuals and dark values are left out. The
// error is ErrNoWeights.
func Combine(a, b Calibration) (Calibration, error) {
	va, vb := a.Covariance(), b.Covariance()
	if va[1][1]+vb[1][1] == 0 && a.Slope == b.Slope { // exactly: held
		va[1][1], vb[1][1] = 1, 1 // of no account: nothing is to be moved
		c, err := combined(a, b, va, vb)
		c.SlopeU, c.R, c.Freedom = 0, 0, 1
		return c, err
	}
	return combined(a, b, va, vb)
}

func combined(a, b Calibration, va, vb [3][3]float64) (Calibration, error) {
	s00, s01, s11 := va[0][0]+vb[0][0], va[0][1]+vb[0][1], va[1][1]+vb[1][1]
	det := s00*s11 - s01*s01
	if !(det > 0 && det <= math.MaxFloat64) {
		return Calibration{}, ErrNoWeights
	}
	d0, d1 := b.LnValue-a.LnValue, b.Slope-a.Slope
	// The difference in units of the sum of covariances.
	e0, e1 := (s11*d0-s01*d1)/det, (s00*d1-s01*d0)/det
	out := Calibration{
		LnValue: a.LnValue + va[0][0]*e0 + va[0][1]*e1, Slope: a.Slope + va[0][1]*e0 + va[1][1]*e1,
		ChiSquare: d0*e0 + d1*e1, Freedom: 2,
	}
	// va - va (va+vb)^-1 va
	k00, k01 := (va[0][0]*s11-va[0][1]*s01)/det, (va[0][1]*s00-va[0][0]*s01)/det
	k10, k11 := (va[0][1]*s11-va[1][1]*s01)/det, (va[1][1]*s00-va[0][1]*s01)/det
	v00, v01, v11 := va[0][0]-k00*va[0][0]-k01*va[0][1], va[0][1]-k00*va[0][1]-k01*va[1][1], va[1][1]-k10*va[0][1]-k11*va[1][1]
	return out.spreadBy(v00, v01, v11), nil
}

// Loosened is a calibration for other lights than its own: its exponent there may be
// another by slopeU, 0 or more, since no part's law is a power exactly, and the line turns
// about atLux, above 0, the middle of the lights it was made in, where it stays as well
// known as it was.
func (c Calibration) Loosened(slopeU, atLux float64) Calibration {
	v := c.Covariance()
	x, extra := math.Log(atLux/lawLux), slopeU*slopeU
	out := c.spreadBy(v[0][0]+x*x*extra, v[0][1]-x*extra, v[1][1]+extra)
	// The covariances with the dark value stay what they were.
	if out.LnValueU > 0 {
		out.ValueDarkR *= c.LnValueU / out.LnValueU
	}
	if out.SlopeU > 0 {
		out.SlopeDarkR *= c.SlopeU / out.SlopeU
	}
	return out
}

// Held is the calibration with its slope known to be another: that of a part that is
// linear is 1 (or -1), whatever scatter made of it. LnValue follows by the correlation, and
// ChiSquare has what the slope had to move, with one more degree of Freedom: (slope -
// Slope)^2/SlopeU^2. A calibration whose slope was held already keeps its LnValue. Residuals
// are left out.
func (c Calibration) Held(slope float64) Calibration {
	out, miss := c, slope-c.Slope
	out.Slope, out.Residuals = slope, nil
	if !(c.SlopeU > 0) {
		return out
	}
	out.LnValue += c.R * c.LnValueU / c.SlopeU * miss
	out.ChiSquare, out.Freedom = c.ChiSquare+square(miss/c.SlopeU), c.Freedom+1
	out = out.spreadBy(square(c.LnValueU)*(1-square(c.R)), 0, 0)
	// What the dark value has to do with the slope is known now too.
	out.Dark += c.SlopeDarkR * c.DarkU / c.SlopeU * miss
	out.DarkU = c.DarkU * math.Sqrt(math.Max(0, 1-square(c.SlopeDarkR)))
	out.ValueDarkR, out.SlopeDarkR = 0, 0
	if both := out.LnValueU * out.DarkU; both > 0 {
		out.ValueDarkR = math.Max(-1, math.Min(1, c.LnValueU*c.DarkU*(c.ValueDarkR-c.R*c.SlopeDarkR)/both))
	}
	return out
}

// spreadBy has the variances of LnValue and Slope and, between them, the covariance.
func (c Calibration) spreadBy(varValue, cov, varSlope float64) Calibration {
	c.LnValueU, c.SlopeU, c.R = math.Sqrt(math.Max(0, varValue)), math.Sqrt(math.Max(0, varSlope)), 0
	if both := c.LnValueU * c.SlopeU; both > 0 {
		c.R = math.Max(-1, math.Min(1, cov/both))
	}
	return c
}
