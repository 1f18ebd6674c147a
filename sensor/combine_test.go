package sensor

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// Two halves of the points, combined, are all of the points.
func TestCombine(t *testing.T) {
	draw := rand.New(rand.NewPCG(4, 4))
	var points []KnownLight
	for range 20 {
		lux := math.Exp(1 + 8*draw.Float64())
		points = append(points, KnownLight{Lux: lux, Value: 9e3 * math.Pow(lux/10, -0.7) * math.Exp(0.03*draw.NormFloat64()), ValueLnU: 0.03})
	}
	var c [3]Calibration
	for i, p := range [][]KnownLight{points[:8], points[8:], points} {
		var err error
		c[i], err = Calibrate(p, CalibrateOptions{})
		require.NoError(t, err)
	}
	got, err := Combine(c[0], c[1])
	require.NoError(t, err)
	// Chi-square of all is that of both halves and of their difference.
	for name, v := range map[string][2]float64{
		"ln value": {got.LnValue, c[2].LnValue}, "slope": {got.Slope, c[2].Slope}, "u": {got.LnValueU, c[2].LnValueU}, "u(slope)": {got.SlopeU, c[2].SlopeU},
		"r": {got.R, c[2].R}, "chi-square": {got.ChiSquare + c[0].ChiSquare + c[1].ChiSquare, c[2].ChiSquare},
	} {
		if !(math.Abs(v[0]-v[1]) <= 1e-9) {
			t.Errorf("%s %.12g, of all points %.12g", name, v[0], v[1])
		}
	}
	for name, none := range map[string]Calibration{"exact": {Slope: 1}, "no number": {Slope: 1, LnValueU: math.NaN(), SlopeU: 1}} {
		if _, err := Combine(none, none); !errors.Is(err, ErrNoWeights) {
			t.Errorf("%s: combined, %v", name, err)
		}
	}
}

// A loosened law is as sure as before at its pivot, and away from it less so by the
// exponent's doubt times the distance.
func TestLoosened(t *testing.T) {
	c := Calibration{LnValue: 9, LnValueU: 0.1, Slope: -0.7, SlopeU: 0.01, R: -0.6}
	got := c.Loosened(0.03, 300)
	at := func(c Calibration, lux float64) float64 {
		x := math.Log(lux / lawLux)
		return c.LnValueU*c.LnValueU + 2*x*c.R*c.LnValueU*c.SlopeU + x*x*c.SlopeU*c.SlopeU
	}
	for _, lux := range []float64{1, 10, 300, 40e3} {
		if want := at(c, lux) + square(0.03*math.Log(lux/300)); !(math.Abs(at(got, lux)-want) <= 1e-12) {
			t.Errorf("at %g lx the variance is %.9f, want %.9f", lux, at(got, lux), want)
		}
	}
	if got.LnValue != c.LnValue || got.Slope != c.Slope {
		t.Errorf("the law itself moved: %+v", got)
	}
}

// Of the same points the slope held in the fit is the slope held afterwards.
func TestHeld(t *testing.T) {
	draw := rand.New(rand.NewPCG(8, 11))
	var points []KnownLight
	for range 12 {
		lux := math.Exp(2 + 8*draw.Float64())
		points = append(points, KnownLight{Lux: lux, Value: 5e-7 * lux * math.Exp(0.03*draw.NormFloat64()), ValueLnU: 0.03})
	}
	free, err := Calibrate(points, CalibrateOptions{})
	require.NoError(t, err)
	want, err := Calibrate(points, CalibrateOptions{Slope: 1})
	require.NoError(t, err)
	got := free.Held(1)
	for name, v := range map[string][2]float64{
		"ln value": {got.LnValue, want.LnValue}, "slope": {got.Slope, 1}, "u": {got.LnValueU, want.LnValueU}, "u(slope)": {got.SlopeU, 0},
		"chi-square": {got.ChiSquare, want.ChiSquare}, "freedom": {float64(got.Freedom), float64(want.Freedom)},
	} {
		if !(math.Abs(v[0]-v[1]) <= 1e-9) {
			t.Errorf("%s %.12g, held in the fit %.12g", name, v[0], v[1])
		}
	}
	if free.Slope == 1 || got.LnValueU >= free.LnValueU {
		t.Errorf("nothing was held: slope %g, u %g and %g", free.Slope, free.LnValueU, got.LnValueU)
	}
	if again := got.Held(1); again.LnValue != got.LnValue || again.ChiSquare != got.ChiSquare || again.Freedom != got.Freedom {
		t.Errorf("held twice it is %+v", again)
	}
	// The parts of two lights whose slopes were held combine like two readings of one.
	other := got
	other.LnValue += 0.1
	both, err := Combine(got, other)
	require.NoError(t, err)
	if !(math.Abs(both.LnValue-got.LnValue-0.05) <= 1e-12 && math.Abs(both.LnValueU*math.Sqrt2-got.LnValueU) <= 1e-12) || both.SlopeU != 0 || both.R != 0 || both.Freedom != 1 ||
		!(math.Abs(both.ChiSquare-0.005/square(got.LnValueU)) <= 1e-9) {
		t.Errorf("%+v", both)
	}
}

// With a dark value too, the covariance is that of a fit with the slope held.
func TestHeldWithDark(t *testing.T) {
	var points []KnownLight
	for _, lux := range []float64{0, 1, 3, 10, 30, 100, 300, 1000} {
		points = append(points, KnownLight{Lux: lux, Value: 5e-7*lux + 1e-6, ValueLnU: 0.02})
	}
	free, err := Calibrate(points, CalibrateOptions{FitDark: true})
	require.NoError(t, err)
	want, err := Calibrate(points, CalibrateOptions{FitDark: true, Slope: 1})
	require.NoError(t, err)
	got := free.Held(1)
	for name, v := range map[string][2]float64{
		"ln value": {got.LnValue, want.LnValue}, "u": {got.LnValueU, want.LnValueU}, "dark": {got.Dark * 1e6, want.Dark * 1e6},
		"u(dark)": {got.DarkU * 1e6, want.DarkU * 1e6}, "r": {got.ValueDarkR, want.ValueDarkR},
	} {
		if !(math.Abs(v[0]-v[1]) <= 1e-6) {
			t.Errorf("%s %.9g, held in the fit %.9g", name, v[0], v[1])
		}
	}
	// To loosen a law moves no covariance with the dark value.
	a, b := free.Covariance(), free.Loosened(0.05, 30).Covariance()
	if !(math.Abs(b[0][2]/a[0][2]-1) <= 1e-12 && math.Abs(b[1][2]/a[1][2]-1) <= 1e-12 && b[1][1] > a[1][1]) {
		t.Errorf("%v loosened is %v", a, b)
	}
}

// What a calibration says of light is what its cell says in a chain, uncertainty and all.
func TestCalibrationAndItsChainAgree(t *testing.T) {
	c := Calibration{LnValue: math.Log(12e3), LnValueU: 0.1, Slope: -0.7, SlopeU: 0.02, R: 0.6}
	cell, err := c.Photoresistor()
	require.NoError(t, err)
	conv := compile(t, Chain{ADC: ADC{Bits: 24, Ratiometric: true}, Divider: &Divider{Wiring: CellOnTop, SupplyV: 3.3, LoadOhm: 1000, Cell: cell}})
	for _, lux := range []float64{10, 300, 20e3} {
		r := conv.Lux(conv.Counts(lux))
		for name, v := range map[string][2]float64{
			"ohms": {c.ValueAt(lux), cell.Ohms(lux)}, "lux and back": {c.LuxAt(c.ValueAt(lux)), lux}, "u": {c.LuxLnU(lux), r.CommonU() / r.Lux},
		} {
			if !(math.Abs(v[0]/v[1]-1) <= 1e-9) {
				t.Errorf("%g lx: %s %.12g, want %.12g", lux, name, v[0], v[1])
			}
		}
	}
}
