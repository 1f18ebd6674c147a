package sensor

import "math"

// ValueAt is what the line says in a light of lux, above 0, in the unit of Value. A
// fitted Dark is not in it.
func (c Calibration) ValueAt(lux float64) float64 {
	return math.Exp(c.LnValue + c.Slope*math.Log(lux/lawLux))
}

// LuxAt undoes ValueAt: the light, lx, in which the line has a value above 0.
func (c Calibration) LuxAt(value float64) float64 {
	return lawLux * math.Exp((math.Log(value)-c.LnValue)/c.Slope)
}

// LuxLnU is the standard uncertainty of ln lux that the line leaves open in a light of
// lux, by its covariance (GUM 5.2.2). All readings of a log share it. Far from the lights
// of its points the law itself is in doubt: see Loosened.
func (c Calibration) LuxLnU(lux float64) float64 {
	x, v := math.Log(lux/lawLux), c.Covariance()
	return math.Sqrt(math.Max(0, v[0][0]+2*x*v[0][1]+x*x*v[1][1])) / math.Abs(c.Slope)
}
