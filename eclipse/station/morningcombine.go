package station

import (
	"errors"
	"math"

	"example.org/noonfall/sensor"
)

// Combine is what two calibrations of one sensor say together, each by its
// covariance: the weighted mean of two vectors (least squares). They must share no
// cause: a lamp's candela and a clear sky do not. ChiSquare is that of their
// difference, with 2 degrees of freedom: above 6 they disagree (5 % of those that do
// not), and the sum is not to be used. Residuals are left out.
func Combine(a, b sensor.Calibration) (sensor.Calibration, error) {
	va, vb := covariance(a), covariance(b)
	s00, s01, s11 := va[0]+vb[0], va[1]+vb[1], va[2]+vb[2]
	det := s00*s11 - s01*s01
	if !(det > 0 && det <= math.MaxFloat64) {
		return sensor.Calibration{}, errors.New("station: the calibrations have no uncertainties to weigh them by: give their points uncertainties")
	}
	d0, d1 := b.LnValue-a.LnValue, b.Slope-a.Slope
	// The difference in units of the sum of covariances.
	e0, e1 := (s11*d0-s01*d1)/det, (s00*d1-s01*d0)/det
	out := sensor.Calibration{
		LnValue: a.LnValue + va[0]*e0 + va[1]*e1, Slope: a.Slope + va[1]*e0 + va[2]*e1,
		ChiSquare: d0*e0 + d1*e1, Freedom: 2,
	}
	// va - va (va+vb)^-1 va
	k00, k01 := (va[0]*s11-va[1]*s01)/det, (va[1]*s00-va[0]*s01)/det
	k10, k11 := (va[1]*s11-va[2]*s01)/det, (va[2]*s00-va[1]*s01)/det
	v00, v01, v11 := va[0]-k00*va[0]-k01*va[1], va[1]-k00*va[1]-k01*va[2], va[2]-k10*va[1]-k11*va[2]
	out.LnValueU, out.SlopeU = math.Sqrt(math.Max(0, v00)), math.Sqrt(math.Max(0, v11))
	if both := out.LnValueU * out.SlopeU; both > 0 {
		out.R = math.Max(-1, math.Min(1, v01/both))
	}
	return out, nil
}

// covariance of LnValue and Slope: the variances and, between them, the covariance.
func covariance(c sensor.Calibration) [3]float64 {
	return [3]float64{c.LnValueU * c.LnValueU, c.R * c.LnValueU * c.SlopeU, c.SlopeU * c.SlopeU}
}

// Loosened is a calibration for other lights than its own: its exponent there may be
// another by slopeU, since no part's law is a power exactly, and the line turns about
// atLux, the middle of the lights it was made in, where it stays as well known as it was.
func Loosened(c sensor.Calibration, slopeU, atLux float64) sensor.Calibration {
	v := covariance(c)
	x, extra := math.Log(atLux/sensorLux), slopeU*slopeU
	c.LnValueU, c.SlopeU = math.Sqrt(v[0]+x*x*extra), math.Sqrt(v[2]+extra)
	if both := c.LnValueU * c.SlopeU; both > 0 {
		c.R = math.Max(-1, math.Min(1, (v[1]-x*extra)/both))
	}
	return c
}
