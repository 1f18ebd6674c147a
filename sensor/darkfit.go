package sensor

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// ErrNoDark says that a dark resistance or current was to be fitted and the points
// do not tell one from none. Three uncertainties are common practice, no source.
var ErrNoDark = errors.New("sensor: the points do not tell what the sensor reads in darkness: add one with the sensor covered (lux 0), or leave FitDark out")

// A darkFit is a power law with something beside it that light does not change. What
// grows with light, amperes or siemens, adds up:
//
//	y = 1/Value or Value = exp(±LnValue) (lux / 10 lx)^±Slope + dark
//
// Its parameters are LnValue, Slope unless it is held, and dark if it is fitted.
type darkFit struct {
	points  []KnownLight
	sign    float64 // -1 where values fall with light and y is 1/Value
	slope   float64 // held at this; 0: fitted
	dark    bool
	bare    bool // no uncertainties: every ln value has 1
	weights []float64
}

// powerLaw is what a darkFit makes of its parameters.
type powerLaw struct{ lnValue, slope, dark float64 }

func (f *darkFit) law(p []float64) powerLaw {
	l := powerLaw{lnValue: p[0], slope: f.slope}
	if f.slope == 0 { // fitted
		l.slope = p[1]
	}
	if f.dark {
		l.dark = p[len(p)-1]
	}
	return l
}

// at is y in a light, the part of it that the light makes, and ln(lux/10 lx).
func (f *darkFit) at(l powerLaw, lux float64) (y, share, x float64) {
	if lux == 0 { // covered
		return l.dark, 0, 0
	}
	x = math.Log(lux / lawLux)
	lit := math.Exp(f.sign * (l.lnValue + l.slope*x))
	y = lit + l.dark
	return y, lit / y, x
}

func (f *darkFit) weigh(p []float64) {
	l := f.law(p)
	f.weights = make([]float64, len(f.points))
	for i, k := range f.points {
		_, share, _ := f.at(l, k.Lux)
		f.weights[i] = 1 / math.Hypot(k.ValueLnU, l.slope*share*k.LuxLnU)
		if f.bare {
			f.weights[i] = 1
		}
	}
}

func (f *darkFit) residuals(p []float64) (r []float64, ok bool) {
	l := f.law(p)
	for i, k := range f.points {
		y, _, _ := f.at(l, k.Lux)
		if !(y > 0) {
			return nil, false
		}
		r = append(r, f.weights[i]*(f.sign*math.Log(k.Value)-math.Log(y)))
	}
	return r, squares(r) <= math.MaxFloat64
}

func (f *darkFit) slopes(p []float64) *mat.Dense {
	l := f.law(p)
	j := mat.NewDense(len(f.points), len(p), nil)
	for i, k := range f.points {
		y, share, x := f.at(l, k.Lux)
		j.Set(i, 0, f.weights[i]*f.sign*share)
		if f.slope == 0 {
			j.Set(i, 1, f.weights[i]*f.sign*share*x)
		}
		if f.dark {
			j.Set(i, len(p)-1, f.weights[i]/y)
		}
	}
	return j
}

// solve tries some parts of the least y for what darkness gives: the sum of squares may
// have more than one valley.
func (f *darkFit) solve() (best solution, ok bool) {
	least, covered := math.Inf(1), false
	for _, k := range f.points {
		least = math.Min(least, math.Pow(k.Value, f.sign))
		covered = covered || k.Lux == 0
	}
	parts := []float64{0}
	switch {
	case f.dark && covered: // it is told
		parts = []float64{0.9}
	case f.dark:
		parts = []float64{0.95, 0.7, 0.1}
	}
	for _, part := range parts {
		start, sound := f.start(part * least)
		if !sound {
			continue
		}
		if s, settles := leastSquares(f, start); settles && (!ok || s.sum < best.sum) {
			best, ok = s, true
		}
	}
	return best, ok
}

// start is a straight line through the logarithms of what dark leaves.
func (f *darkFit) start(dark float64) (p []float64, ok bool) {
	var logs []linePoint
	mean := 0.0
	for _, k := range f.points {
		if lit := math.Pow(k.Value, f.sign) - dark; lit > 0 && k.Lux > 0 {
			logs = append(logs, linePoint{x: math.Log(k.Lux / lawLux), y: f.sign * math.Log(lit), yu: 1})
		}
	}
	if f.slope == 0 {
		l, settles := fitLine(logs)
		p, ok = []float64{l.intercept, l.slope}, settles
	} else {
		for _, q := range logs {
			mean += (q.y - f.slope*q.x) / float64(len(logs))
		}
		p, ok = []float64{mean}, len(logs) > 0
	}
	if f.dark {
		p = append(p, dark)
	}
	return p, ok
}

// calibration is the result with its covariance, in the units of Value.
func (f *darkFit) calibration(s solution, scatter bool, sharedLnU float64) (Calibration, error) {
	c := Calibration{ChiSquare: s.sum, Freedom: len(f.points) - len(s.p), Scattered: scatter}
	for i, r := range s.residuals {
		c.Residuals = append(c.Residuals, f.sign*r/f.weights[i])
	}
	if scatter {
		s.cov.Scale(s.sum/float64(c.Freedom), s.cov)
	}
	l := f.law(s.p)
	var cov [3][3]float64 // by ln value, slope, dark
	places := []int{0}
	if f.slope == 0 {
		places = append(places, 1)
	}
	if f.dark {
		places = append(places, 2)
	}
	for k, a := range places {
		for m, b := range places {
			cov[a][b] = s.cov.At(k, m)
		}
	}
	c, err := c.with(l.lnValue, l.slope, cov[0][0], cov[1][1], cov[0][1], sharedLnU)
	if err != nil || !f.dark {
		return c, err
	}
	darkU := math.Sqrt(cov[2][2])
	if !(l.dark >= 3*darkU) || !(l.dark > 0) {
		return Calibration{}, fmt.Errorf("%w: %.3g, u %.3g", ErrNoDark, math.Pow(l.dark, f.sign), darkU/l.dark*math.Pow(l.dark, f.sign))
	}
	c.Dark, c.DarkU = math.Pow(l.dark, f.sign), darkU*math.Pow(l.dark, f.sign-1)
	correlate := func(covariance, u float64) float64 {
		if !(u > 0 && darkU > 0) { // held, or the points lie on the curve exactly
			return 0
		}
		return f.sign * math.Min(math.Max(-1, covariance/(u*darkU)), 1)
	}
	c.ValueDarkR, c.SlopeDarkR = correlate(cov[0][2], c.LnValueU), correlate(cov[1][2], c.SlopeU)
	return c, nil
}
