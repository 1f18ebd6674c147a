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
	Lux    float64 // 1e-6 to 1e6 lx; 0, with the sensor covered, where FitDark is set
	LuxLnU float64 // standard uncertainty of ln Lux, this point's own; 0 to 1
	// Value is the reading: ohms of a photoresistor, amperes of a phototransistor or
	// counts of a sensor whose zero is darkness, or fitted; 1e-15 to 1e15.
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
	// Slope holds the slope, 0.1 to 3 or its negative; 0 means that it is fitted. A
	// phototransistor's is 1.
	Slope float64
	// FitDark fits what the sensor reads in darkness, ohms in parallel or amperes
	// beside the light's own. Where the points cannot tell it that is ErrNoDark.
	FitDark bool
}

const usualSpan = 4

// A Calibration is a power law, in logarithms a straight line:
//
//	ln Value = LnValue + Slope ln(lux / 10 lx)
//
// Where a dark value is fitted it is in parallel where values fall with light, and
// added where they rise: what the line says is then what the light alone makes.
type Calibration struct {
	LnValue  float64 // at 10 lx
	LnValueU float64 // standard uncertainty
	Slope    float64 // minus a photoresistor's exponent; about 1 for a phototransistor
	SlopeU   float64 // standard uncertainty; 0 where it was held
	R        float64 // correlation of LnValue and Slope, -1 to 1

	Dark                   float64 // Value in darkness; 0 where it was not fitted
	DarkU                  float64 // standard uncertainty, in the unit of Value
	ValueDarkR, SlopeDarkR float64 // correlations of Dark with LnValue and with Slope

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
// With FitDark, or with a slope that is held, it is the same sum of squares by
// Levenberg's and Marquardt's method, each weight being constant within a step. Without
// FitDark leave out points near darkness: they bend the line. Errors: *PartError,
// ErrFewPoints, ErrUncertainty, ErrEqualLight, ErrSmallSpan, ErrNoSlope, ErrNoDark.
func Calibrate(points []KnownLight, o CalibrateOptions) (Calibration, error) {
	o.MinSpan = orElse(o.MinSpan, usualSpan)
	if err := o.check(points); err != nil {
		return Calibration{}, err
	}
	bare, err := uncertain(len(points), func(i int) bool {
		return points[i].ValueLnU > 0 || points[i].LuxLnU > 0 && points[i].Lux > 0
	})
	if err != nil {
		return Calibration{}, err
	}
	scatter := bare || o.ByScatter
	n := 2 + oneIf(o.FitDark) - oneIf(o.Slope != 0)
	if want := max(2, n+oneIf(scatter)); len(points) < want {
		return Calibration{}, fmt.Errorf("%w: %d, want %d (one more where the scatter is to tell the uncertainty)", ErrFewPoints, len(points), want)
	}
	if err := spanned(points, o.MinSpan); err != nil {
		return Calibration{}, err
	}
	if n == 2 && !o.FitDark {
		return straightCalibration(points, bare, scatter, o.LuxLnU)
	}
	return o.bentCalibration(points, bare, scatter)
}

// straightCalibration is York's line.
func straightCalibration(points []KnownLight, bare, scatter bool, sharedLnU float64) (Calibration, error) {
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
	return c.with(l.intercept, l.slope, l.varIntercept, l.varSlope, l.cov, sharedLnU)
}

// bentCalibration is all else.
func (o CalibrateOptions) bentCalibration(points []KnownLight, bare, scatter bool) (Calibration, error) {
	f := &darkFit{points: points, sign: 1, slope: o.Slope, dark: o.FitDark, bare: bare}
	falls := fallsWithLight(points)
	if o.Slope != 0 && falls != (o.Slope < 0) {
		return Calibration{}, fmt.Errorf("%w: they go against the slope of %g that is held", ErrNoSlope, o.Slope)
	}
	if falls {
		f.sign = -1
	}
	s, ok := f.solve()
	switch {
	case !ok && o.FitDark:
		return Calibration{}, fmt.Errorf("%w: the fit does not settle", ErrNoDark)
	case !ok:
		return Calibration{}, ErrNoSlope
	}
	return f.calibration(s, scatter, o.LuxLnU)
}

// fallsWithLight says whether the values in the least and in the greatest light do.
func fallsWithLight(points []KnownLight) bool {
	least, greatest := points[0], points[0]
	for _, p := range points {
		if p.Lux < least.Lux {
			least = p
		}
		if p.Lux > greatest.Lux {
			greatest = p
		}
	}
	return greatest.Value < least.Value
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
	if c.Dark > 0 {
		p.DarkOhm, p.DarkLnU, p.R10DarkR, p.GammaDarkR = c.Dark, c.DarkU/c.Dark, c.ValueDarkR, -c.SlopeDarkR
	}
	if err := checked(p.rows()); err != nil {
		return Photoresistor{}, err
	}
	return p, nil
}

// ErrNotLinear says that a phototransistor was asked of a calibration whose slope was
// not held at 1.
var ErrNotLinear = errors.New("sensor: a phototransistor's current is proportional to light: calibrate with Slope 1 in the options")

// Phototransistor is the transistor that the calibration describes, with its
// uncertainties and their correlation; values were in amperes and Slope was held
// at 1. SupplyV and LoadOhm are for the caller to set. A *PartError names what no
// transistor has.
func (c Calibration) Phototransistor() (Phototransistor, error) {
	if c.Slope != 1 || c.SlopeU != 0 { // exactly: held
		return Phototransistor{}, fmt.Errorf("%w: it is %.4g, u %.2g", ErrNotLinear, c.Slope, c.SlopeU)
	}
	p := Phototransistor{AmperesPerLux: math.Exp(c.LnValue) / lawLux, AmperesPerLuxLnU: c.LnValueU,
		DarkAmperes: c.Dark, DarkAmperesU: c.DarkU, DarkR: c.ValueDarkR}
	if err := checked(p.transistorRows()); err != nil {
		return Phototransistor{}, err
	}
	return p, nil
}

// Covariance is that of LnValue, Slope and Dark, in this order.
func (c Calibration) Covariance() [3][3]float64 {
	u, r := [3]float64{c.LnValueU, c.SlopeU, c.DarkU}, [3][3]float64{{1, c.R, c.ValueDarkR}, {c.R, 1, c.SlopeDarkR}, {c.ValueDarkR, c.SlopeDarkR, 1}}
	for i := range u {
		for j := range u {
			r[i][j] *= u[i] * u[j]
		}
	}
	return r
}

func (o CalibrateOptions) check(points []KnownLight) error {
	rows := []row{{"calibrate.min_span", o.MinSpan, 1.1, 1e6, ""}, {"calibrate.lux_ln_u", o.LuxLnU, 0, maxLnU, ""}}
	if o.Slope != 0 {
		rows = append(rows, row{"calibrate.slope's size", math.Abs(o.Slope), 0.1, 3, ""})
	}
	for i, p := range points {
		if p.Lux == 0 && o.FitDark { // covered, as good a light as any
			p.Lux = 1
		}
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
		if p.Lux > 0 { // else covered
			low, high = math.Min(low, p.Lux), math.Max(high, p.Lux)
		}
	}
	switch {
	case high == 0:
		return fmt.Errorf("%w: none", ErrEqualLight)
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
