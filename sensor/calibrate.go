package sensor

import (
	"errors"
	"fmt"
	"math"
)

// What a calibration is refused for, beside fields that a PartError names.
var (
	// ErrFewPoints says that there are not enough points: two with uncertainties,
	// three without, and more than there are parameters with a lamp's own.
	ErrFewPoints = errors.New("sensor: too few calibration points")
	// ErrEqualLight says that all the points were taken in one light.
	ErrEqualLight = errors.New("sensor: all calibration points are in the same light: take one in another")
	// ErrSmallSpan says that the lights are too near each other for an exponent.
	ErrSmallSpan = errors.New("sensor: the lights of the calibration points are too near each other")
	// ErrUncertainty says that some points have an uncertainty and one has none.
	ErrUncertainty = errors.New("sensor: give every calibration point an uncertainty, or none")
	// ErrNoSlope says that the readings do not tell an exponent from nothing. Three
	// uncertainties are common practice, no source.
	ErrNoSlope = errors.New("sensor: the readings do not follow the light: want an exponent of at least three times its uncertainty")
)

// A KnownLight is a reading taken in a light that something else has measured.
type KnownLight struct {
	Lux    float64 // 1e-6 to 1e6 lx
	LuxLnU float64 // standard uncertainty of ln Lux, this point's own; 0 to 1
	// Value is the reading: ohms of a photoresistor, amperes of a phototransistor or
	// counts of what has its zero at darkness; 1e-15 to 1e15.
	Value    float64
	ValueLnU float64 // standard uncertainty of ln Value; 0 to 1
}

// CalibrateOptions are for Calibrate. The zero value is recommended.
type CalibrateOptions struct {
	// MinSpan is the least ratio of the brightest to the darkest light, 1.1 to 1e6;
	// 0 means 4, two octaves (common practice, no source).
	MinSpan float64
	// LuxLnU is the standard uncertainty of ln lux that all points share: the meter's
	// own calibration. More points do not beat it down; 0 to 1.
	LuxLnU float64
	// ByScatter takes the points' spread about the line for their uncertainty and
	// their own only as weights, as where no point has any. It wants three points.
	ByScatter bool
}

const usualSpan = 4

// A Calibration is a power law, in logarithms a straight line:
//
//	ln Value = LnValue + Slope ln(lux / 10 lx)
type Calibration struct {
	LnValue  float64 // at 10 lx
	LnValueU float64 // standard uncertainty
	Slope    float64 // minus a photoresistor's exponent; about 1 for a phototransistor
	SlopeU   float64 // standard uncertainty
	R        float64 // correlation of LnValue and Slope, -1 to 1

	Residuals []float64 // ln Value of each point less the line's, in the order given
	// ChiSquare is the sum of squared residuals over their effective variances. With
	// Freedom degrees it should be about Freedom, give or take sqrt(2 Freedom): much
	// more, and the law or the uncertainties are wrong. Where no point had an
	// uncertainty it is the plain sum of squares.
	ChiSquare float64
	Freedom   int  // points less parameters; with 0 nothing is checked
	Scattered bool // the uncertainties were taken from the scatter
}

// Calibrate fits a power law to two or more points by weighted least squares in
// logarithms, with uncertainties in both: the effective variance of Orear (1982),
// minimised by York's iteration (1966, 2004), as doc.go's sources say. Where no
// point has an uncertainty the scatter serves, as in GUM example H.3.
//
// It does not know dark resistance: leave out points near darkness, or take the
// dark conductance from them first. Errors: *PartError, ErrFewPoints,
// ErrUncertainty, ErrEqualLight, ErrSmallSpan, ErrNoSlope.
func Calibrate(points []KnownLight, o CalibrateOptions) (Calibration, error) {
	o.MinSpan = orElse(o.MinSpan, usualSpan)
	if err := o.check(points); err != nil {
		return Calibration{}, err
	}
	bare, err := uncertain(len(points), func(i int) bool { return points[i].LuxLnU > 0 || points[i].ValueLnU > 0 })
	if err != nil {
		return Calibration{}, err
	}
	scatter := bare || o.ByScatter
	if want := 2 + oneIf(scatter); len(points) < want {
		return Calibration{}, fmt.Errorf("%w: %d, want %d (three where the scatter is to tell the uncertainty)", ErrFewPoints, len(points), want)
	}
	if err := spanned(points, o.MinSpan); err != nil {
		return Calibration{}, err
	}
	logs := make([]linePoint, len(points))
	for i, p := range points {
		logs[i] = linePoint{math.Log(p.Lux / lawLux), math.Log(p.Value), p.LuxLnU, p.ValueLnU}
		if bare {
			logs[i].yu = 1
		}
	}
	l, ok := fitLine(logs)
	if !ok {
		return Calibration{}, ErrNoSlope
	}
	if scatter {
		l = l.scaled()
	}
	c := Calibration{Residuals: l.residuals, ChiSquare: l.chiSquare, Freedom: len(points) - 2, Scattered: scatter}
	return c.with(l.intercept, l.slope, l.varIntercept, l.varSlope, l.cov, o.LuxLnU)
}

// with fills in the parameters. An error shared by all lights moves the line along
// ln lux, so that it is in the value at 10 lx and not in the slope.
func (c Calibration) with(value, slope, varValue, varSlope, cov, sharedLnU float64) (Calibration, error) {
	varValue += square(slope * sharedLnU)
	c.LnValue, c.LnValueU = value, math.Sqrt(varValue)
	c.Slope, c.SlopeU = slope, math.Sqrt(varSlope)
	if both := c.LnValueU * c.SlopeU; both > 0 { // else the points lie on the line exactly
		c.R = math.Min(math.Max(-1, cov/both), 1)
	}
	if !(math.Abs(c.Slope) >= 3*c.SlopeU) || c.Slope == 0 {
		return Calibration{}, fmt.Errorf("%w: %.3g, u %.3g", ErrNoSlope, c.Slope, c.SlopeU)
	}
	return c, nil
}

// Photoresistor is the cell that the calibration describes, with its uncertainties
// and their correlation; values were in ohms. A *PartError names what no cell has.
func (c Calibration) Photoresistor() (Photoresistor, error) {
	p := Photoresistor{R10Ohm: math.Exp(c.LnValue), R10LnU: c.LnValueU, Gamma: -c.Slope, GammaU: c.SlopeU, R10GammaR: -c.R}
	if err := checked(p.rows()); err != nil {
		return Photoresistor{}, err
	}
	return p, nil
}

func (o CalibrateOptions) check(points []KnownLight) error {
	rows := []row{{"calibrate.min_span", o.MinSpan, 1.1, 1e6, ""}, {"calibrate.lux_ln_u", o.LuxLnU, 0, maxLnU, ""}}
	for i, p := range points {
		at := func(name string) string { return fmt.Sprintf("points[%d].%s", i, name) }
		rows = append(rows,
			row{at("lux"), p.Lux, 1e-6, 1e6, ""}, row{at("lux_ln_u"), p.LuxLnU, 0, maxLnU, ""},
			row{at("value"), p.Value, 1e-15, 1e15, ""}, row{at("value_ln_u"), p.ValueLnU, 0, maxLnU, ""})
	}
	return checked(rows)
}

// uncertain says whether no point has an uncertainty; it is an error if only some do.
func uncertain(n int, has func(i int) bool) (bare bool, err error) {
	with, without := 0, 0
	for i := range n {
		if has(i) {
			with++
		} else {
			without = i
		}
	}
	if with > 0 && with < n {
		return false, fmt.Errorf("%w: points[%d] has none", ErrUncertainty, without)
	}
	return with == 0, nil
}

func spanned(points []KnownLight, least float64) error {
	low, high := math.Inf(1), 0.0
	for _, p := range points {
		low, high = math.Min(low, p.Lux), math.Max(high, p.Lux)
	}
	switch {
	case low == high:
		return fmt.Errorf("%w: %g lx", ErrEqualLight, low)
	case high < least*low:
		return fmt.Errorf("%w: %g to %g lx, want a ratio of %g", ErrSmallSpan, low, high, least)
	}
	return nil
}

func oneIf(b bool) int {
	if b {
		return 1
	}
	return 0
}
