package sensor

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// cellPoints are readings of a cell with a dark resistance, without noise.
func cellPoints(lights ...float64) []KnownLight {
	cell := Photoresistor{R10Ohm: 12e3, Gamma: 0.65, DarkOhm: 300e3}
	var points []KnownLight
	for _, lux := range lights {
		points = append(points, KnownLight{Lux: lux, LuxLnU: 0.03, Value: cell.Ohms(lux), ValueLnU: 0.01})
	}
	return points
}

// currentPoints are those of a phototransistor with a dark current.
func currentPoints(lights ...float64) []KnownLight {
	var points []KnownLight
	for _, lux := range lights {
		points = append(points, KnownLight{Lux: lux, LuxLnU: 0.03, Value: 2e-6 + 0.4e-6*lux, ValueLnU: 0.01})
	}
	return points
}

// Without noise what was put in comes out, with the sensor covered once or not.
func TestDarkExact(t *testing.T) {
	for name, points := range map[string][]KnownLight{"covered": cellPoints(0, 3, 100, 3000), "twilight": cellPoints(0.02, 0.1, 1, 30, 1000)} {
		c, err := Calibrate(points, CalibrateOptions{FitDark: true})
		require.NoError(t, err, name)
		p, err := c.Photoresistor()
		require.NoError(t, err, name)
		for what, v := range map[string][2]float64{"R10": {p.R10Ohm, 12e3}, "gamma": {p.Gamma, 0.65}, "dark": {p.DarkOhm, 300e3}} {
			if !(math.Abs(v[0]/v[1]-1) <= 1e-7) {
				t.Errorf("%s: %s %.9g, want %.9g", name, what, v[0], v[1])
			}
		}
		if c.Freedom != len(points)-3 || len(c.Residuals) != len(points) || !(c.ChiSquare <= 1e-12) || !(p.DarkLnU > 0) {
			t.Errorf("%s: %+v", name, c)
		}
	}
	for name, r := range map[string]struct {
		points []KnownLight
		o      CalibrateOptions
		dark   float64
	}{
		"dark and slope":   {currentPoints(0, 1, 20, 500), CalibrateOptions{FitDark: true}, 2e-6},
		"dark, slope held": {currentPoints(0.5, 20, 500), CalibrateOptions{FitDark: true, Slope: 1}, 2e-6},
		"slope held":       {[]KnownLight{{Lux: 10, Value: 4e-6, ValueLnU: 0.1}, {Lux: 100, Value: 40e-6, ValueLnU: 0.1}}, CalibrateOptions{Slope: 1}, 0},
	} {
		c, err := Calibrate(r.points, r.o)
		require.NoError(t, err, name)
		if !(math.Abs(math.Exp(c.LnValue)/4e-6-1) <= 1e-7 && math.Abs(c.Slope-1) <= 1e-7 && math.Abs(c.Dark-r.dark) <= 1e-12) {
			t.Errorf("%s: %+v", name, c)
		}
		p, err := c.Phototransistor()
		if held := r.o.Slope == 1; held != (err == nil) || !held && !errors.Is(err, ErrNotLinear) {
			t.Errorf("%s: %v", name, err)
		}
		if err == nil && !(math.Abs(p.AmperesPerLux/0.4e-6-1) <= 1e-7 && math.Abs(p.DarkAmperes-r.dark) <= 1e-12 && p.DarkAmperesU == c.DarkU && p.DarkR == c.ValueDarkR) {
			t.Errorf("%s: %+v", name, p)
		}
	}
}

// A held slope is a weighted mean of two points, by hand.
func TestSlopeHeld(t *testing.T) {
	c, err := Calibrate([]KnownLight{{Lux: 10, Value: 4e-6, ValueLnU: 0.1}, {Lux: 100, Value: 44e-6, ValueLnU: 0.2}}, CalibrateOptions{Slope: 1, LuxLnU: 0.05})
	require.NoError(t, err)
	want := math.Log(4e-6) + math.Log(1.1)*0.01/(0.01+0.04) // weights 100 and 25
	if !(math.Abs(c.LnValue-want) <= 1e-9) || !(math.Abs(c.LnValueU-math.Hypot(1/math.Sqrt(125), 0.05)) <= 1e-9) || c.SlopeU != 0 || c.Freedom != 1 {
		t.Errorf("%+v, want ln value %.9f", c, want)
	}
	if !(math.Abs(c.ChiSquare-square(math.Log(1.1))/(0.01+0.04)) <= 1e-9) {
		t.Errorf("chi-square %.9f", c.ChiSquare)
	}
}

// Over many made-up calibrations all three parameters scatter as their uncertainties
// say, and together as their correlations say, for ohms and for amperes.
func TestDarkHonest(t *testing.T) {
	const trials = 1500
	for name, r := range map[string]struct {
		points  []KnownLight
		o       CalibrateOptions
		ln, ind float64 // true ln value and slope
		dark    float64
	}{
		"ohms":    {cellPoints(0, 0.05, 0.5, 3, 10, 150, 2000), CalibrateOptions{FitDark: true}, math.Log(12e3), -0.65, 300e3},
		"amperes": {currentPoints(0, 0.5, 3, 10, 150, 2000), CalibrateOptions{FitDark: true}, math.Log(4e-6), 1, 2e-6},
		"held":    {currentPoints(0, 0.5, 3, 10, 150, 2000), CalibrateOptions{FitDark: true, Slope: 1}, math.Log(4e-6), 1, 2e-6},
	} {
		rng := rand.New(rand.NewPCG(9, 9))
		var square, cross [3]float64
		chi := 0.0
		for range trials {
			points := append([]KnownLight(nil), r.points...)
			for i := range points {
				points[i].Lux *= math.Exp(points[i].LuxLnU * rng.NormFloat64())
				points[i].Value *= math.Exp(points[i].ValueLnU * rng.NormFloat64())
			}
			c, err := Calibrate(points, r.o)
			require.NoError(t, err, name)
			off := [3]float64{c.LnValue - r.ln, c.Slope - r.ind, c.Dark - r.dark}
			cov := c.Covariance()
			for i := range off {
				if cov[i][i] == 0 {
					square[i] += 1. / trials // held
					continue
				}
				square[i] += off[i] * off[i] / cov[i][i] / trials
				if j := (i + 1) % 3; cov[j][j] > 0 {
					cross[i] += (off[i]*off[j] - cov[i][j]) / math.Sqrt(cov[i][i]*cov[j][j]) / trials
				}
			}
			chi += c.ChiSquare / trials
		}
		freedom := float64(len(r.points) - 3 + oneIf(r.o.Slope != 0))
		t.Logf("%s: %.3f, products off by %.3f, chi-square %.3f of %g", name, square, cross, chi, freedom)
		bound := 4 * math.Sqrt(2./trials) // four standard deviations of such a mean
		for i := range square {
			if !(math.Abs(square[i]-1) <= bound) || !(math.Abs(cross[i]) <= bound) {
				t.Errorf("%s, parameter %d: mean square over variance %.3f, want 1; product with the next off by %.3f", name, i, square[i], cross[i])
			}
		}
		if !(math.Abs(chi-freedom) <= 4*math.Sqrt(2*freedom/trials)) {
			t.Errorf("%s: chi-square %.3f, want %g", name, chi, freedom)
		}
	}
}

func TestDarkRefuses(t *testing.T) {
	fit := CalibrateOptions{FitDark: true}
	bareDark := cellPoints(0, 3, 100, 3000)
	bareDark[0].ValueLnU = 0
	for name, r := range map[string]struct {
		points []KnownLight
		o      CalibrateOptions
		is     error // nil: a *PartError
	}{
		"far from darkness":     {cellPoints(300, 1000, 3000, 10e3), fit, ErrNoDark},
		"current far from dark": {currentPoints(1000, 3000, 10e3, 30e3), CalibrateOptions{FitDark: true, Slope: 1}, ErrNoDark},
		"two for three":         {cellPoints(0, 100), fit, ErrFewPoints},
		"three bare for three":  {[]KnownLight{{Lux: 0, Value: 3e5}, {Lux: 1, Value: 1e4}, {Lux: 100, Value: 1e3}}, fit, ErrFewPoints},
		"only covered":          {cellPoints(0, 0, 0), fit, ErrEqualLight},
		"one light":             {cellPoints(0, 10, 10), fit, ErrEqualLight},
		"covered, not fitted":   {cellPoints(0, 10, 100), CalibrateOptions{}, nil},
		"covered, bare":         {bareDark, fit, ErrUncertainty},
		"slope":                 {cellPoints(1, 10, 100), CalibrateOptions{Slope: 7}, nil},
		"NaN slope":             {cellPoints(1, 10, 100), CalibrateOptions{Slope: math.NaN()}, nil},
		"negative light":        {[]KnownLight{{Lux: -1, Value: 3e5, ValueLnU: 0.1}, {Lux: 1, Value: 1e4, ValueLnU: 0.1}, {Lux: 100, Value: 1e3, ValueLnU: 0.1}}, fit, nil},
	} {
		_, err := Calibrate(r.points, r.o)
		wantRefused(t, name, err, r.is, "")
	}
	straight, err := Calibrate(currentPoints(1000, 10e3), CalibrateOptions{})
	require.NoError(t, err)
	if _, err := straight.Phototransistor(); !errors.Is(err, ErrNotLinear) {
		t.Errorf("a slope that was fitted: %v", err)
	}
	if _, err := straight.Photoresistor(); err == nil {
		t.Error("amperes were taken for ohms")
	}
}
