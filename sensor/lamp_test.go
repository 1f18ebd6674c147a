package sensor

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// lampPoints are readings of a cell of 9 kohm and gamma 0.7 under a lamp of 50 cd
// whose tape begins 30 mm short, in a room of 2 lx.
func lampPoints(distances ...float64) []LampPoint {
	var points []LampPoint
	for _, d := range distances {
		lux := 50/square(d+0.03) + 2
		points = append(points, LampPoint{DistanceM: d, DistanceU: 1e-3, Value: 9e3 * math.Pow(lux/10, -0.7), ValueLnU: 0.01})
	}
	return points
}

var walk = []float64{0.2, 0.3, 0.45, 0.7, 1, 1.5, 2.2, 3.2, 4.5}

// Without noise what was put in comes out, fitted from nothing or given.
func TestLampExact(t *testing.T) {
	for name, r := range map[string]struct {
		lamp Lamp
		o    LampOptions
	}{
		"both fitted":      {Lamp{Candela: 50}, LampOptions{FitZero: true, FitBackground: true}},
		"zero fitted":      {Lamp{Candela: 50, BackgroundLux: 2}, LampOptions{FitZero: true}},
		"room fitted":      {Lamp{Candela: 50, ZeroM: 0.03}, LampOptions{FitBackground: true}},
		"both given":       {Lamp{Candela: 50, ZeroM: 0.03, BackgroundLux: 2}, LampOptions{}},
		"far from the end": {Lamp{Candela: 50, ZeroM: -0.1, BackgroundLux: 5}, LampOptions{FitZero: true, FitBackground: true}},
	} {
		c, err := CalibrateLamp(r.lamp, lampPoints(walk...), r.o)
		require.NoError(t, err, name)
		for what, v := range map[string][2]float64{
			"ln value": {c.LnValue, math.Log(9e3)}, "slope": {c.Slope, -0.7}, "zero": {c.ZeroM, 0.03}, "background": {c.BackgroundLux, 2},
		} {
			if !(math.Abs(v[0]-v[1]) <= 1e-6) {
				t.Errorf("%s: %s %.9f, want %.9f", name, what, v[0], v[1])
			}
		}
		if (c.ZeroU > 0) != r.o.FitZero || (c.BackgroundU > 0) != r.o.FitBackground {
			t.Errorf("%s: u(zero) %g, u(background) %g", name, c.ZeroU, c.BackgroundU)
		}
		if want := 7 - oneIf(r.o.FitZero) - oneIf(r.o.FitBackground); c.Freedom != want || !(c.ChiSquare <= 1e-9) {
			t.Errorf("%s: chi-square %g of %d, want 0 of %d", name, c.ChiSquare, c.Freedom, want)
		}
	}
}

// With nothing fitted and no error of distance it is the straight line of Calibrate.
func TestLampIsCalibrate(t *testing.T) {
	draw := rand.New(rand.NewPCG(5, 5))
	points, known := lampPoints(walk...), []KnownLight{}
	for i := range points {
		points[i].DistanceU = 0
		points[i].Value *= math.Exp(0.01 * draw.NormFloat64())
		known = append(known, KnownLight{Lux: 50/square(points[i].DistanceM+0.03) + 2, Value: points[i].Value, ValueLnU: 0.01})
	}
	a, err := CalibrateLamp(Lamp{Candela: 50, CandelaLnU: 0.02, ZeroM: 0.03, BackgroundLux: 2}, points, LampOptions{})
	require.NoError(t, err)
	b, err := Calibrate(known, CalibrateOptions{LuxLnU: 0.02})
	require.NoError(t, err)
	for what, v := range map[string][2]float64{
		"ln value": {a.LnValue, b.LnValue}, "u": {a.LnValueU, b.LnValueU}, "slope": {a.Slope, b.Slope}, "u(slope)": {a.SlopeU, b.SlopeU},
		"r": {a.R, b.R}, "chi-square": {a.ChiSquare, b.ChiSquare}, "residual": {a.Residuals[3], b.Residuals[3]},
	} {
		if !(math.Abs(v[0]-v[1]) <= 1e-8) {
			t.Errorf("%s: %.12g, by Calibrate %.12g", what, v[0], v[1])
		}
	}
}

// Over many made-up walks each parameter scatters as its uncertainty says.
func TestLampHonest(t *testing.T) {
	draw := rand.New(rand.NewPCG(2, 71))
	const trials = 1000
	var squares [4]float64
	var chi float64
	for range trials {
		points := lampPoints(walk...)
		for i := range points {
			points[i].DistanceM += 1e-3 * draw.NormFloat64()
			points[i].Value *= math.Exp(0.01 * draw.NormFloat64())
		}
		c, err := CalibrateLamp(Lamp{Candela: 50}, points, LampOptions{FitZero: true, FitBackground: true})
		require.NoError(t, err)
		for i, pull := range []float64{
			(c.LnValue - math.Log(9e3)) / c.LnValueU, (c.Slope + 0.7) / c.SlopeU, (c.ZeroM - 0.03) / c.ZeroU, (c.BackgroundLux - 2) / c.BackgroundU,
		} {
			squares[i] += pull * pull / trials
		}
		chi += c.ChiSquare / trials
	}
	for i, name := range []string{"ln value", "slope", "zero", "background"} {
		if !(math.Abs(squares[i]-1) <= 4*math.Sqrt(2./trials)) { // four standard deviations of such a mean
			t.Errorf("%s: mean square over variance %.3f, want 1", name, squares[i])
		}
	}
	if !(math.Abs(chi-5) <= 4*math.Sqrt(2*5./trials)) {
		t.Errorf("chi-square %.3f, want 5", chi)
	}
}

func TestLampRefuses(t *testing.T) {
	both := LampOptions{FitZero: true, FitBackground: true}
	lamp := Lamp{Candela: 50}
	bare := lampPoints(walk...)
	for i := range bare {
		bare[i].DistanceU, bare[i].ValueLnU = 0, 0
	}
	flat := lampPoints(walk...)
	for i := range flat {
		flat[i].Value = 1e3
	}
	mixed := append(lampPoints(walk...), LampPoint{DistanceM: 1, Value: 1e3})
	for name, r := range map[string]struct {
		lamp   Lamp
		points []LampPoint
		o      LampOptions
		is     error // nil: a *PartError
	}{
		"none":            {lamp, nil, LampOptions{}, ErrFewPoints},
		"four for four":   {lamp, lampPoints(0.2, 0.5, 1, 3), both, ErrFewPoints},
		"two bare":        {lamp, bare[:2], LampOptions{}, ErrFewPoints},
		"stood still":     {lamp, lampPoints(1, 1, 1), LampOptions{}, ErrLampMoved},
		"hardly moved":    {lamp, lampPoints(1, 1.3, 1.9), LampOptions{}, ErrLampMoved},
		"too little both": {lamp, lampPoints(1, 1.2, 1.4, 1.6, 1.8, 2.1), both, ErrLampMoved},
		"behind the lamp": {Lamp{Candela: 50, ZeroM: -1}, lampPoints(0.5, 3), LampOptions{}, ErrLampMoved},
		"one bare":        {lamp, mixed, LampOptions{}, ErrUncertainty},
		"flat":            {lamp, flat, both, ErrNoSlope},
		"no lamp":         {Lamp{}, lampPoints(walk...), LampOptions{}, nil},
		"NaN zero":        {Lamp{Candela: 50, ZeroM: math.NaN()}, lampPoints(walk...), LampOptions{}, nil},
		"no distance":     {lamp, []LampPoint{{DistanceM: 0, Value: 1}}, LampOptions{}, nil},
		"NaN value":       {lamp, []LampPoint{{DistanceM: 1, Value: math.NaN()}}, LampOptions{}, nil},
	} {
		_, err := CalibrateLamp(r.lamp, r.points, r.o)
		wantRefused(t, name, err, r.is, "")
	}
	// A room brighter than the lamp is not the sensor's fault, and the error says so.
	var bright []LampPoint
	for _, d := range []float64{0.25, 0.35, 0.5, 0.7, 1, 1.4, 2, 2.8, 4} {
		lux := 64/square(d+0.02) + 500
		bright = append(bright, LampPoint{DistanceM: d, DistanceU: 0.001, Value: 12e3 * math.Pow(lux/10, -0.7), ValueLnU: 0.002})
	}
	if _, err := CalibrateLamp(Lamp{Candela: 64}, bright, both); !errors.Is(err, ErrNoSlope) || !strings.Contains(err.Error(), "darken the room") {
		t.Errorf("a bright room: %v", err)
	}
	c, err := CalibrateLamp(lamp, bare, both)
	require.NoError(t, err)
	if !c.Scattered || !(math.Abs(c.Slope+0.7) <= 1e-6) {
		t.Errorf("without uncertainties: slope %.7f, scattered %v", c.Slope, c.Scattered)
	}
}

// Whatever is typed in, the answer is an error or numbers.
func TestLampAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var points []LampPoint
		for range rapid.IntRange(2, 9).Draw(t, "n") {
			points = append(points, LampPoint{
				DistanceM: math.Pow(10, rapid.Float64Range(-2.9, 2.9).Draw(t, "log distance")), DistanceU: rapid.Float64Range(0, 0.1).Draw(t, "u"),
				Value: math.Pow(10, rapid.Float64Range(-14, 14).Draw(t, "log value")), ValueLnU: rapid.Float64Range(0.001, 1).Draw(t, "ln u"),
			})
		}
		c, err := CalibrateLamp(Lamp{Candela: 50, ZeroM: rapid.Float64Range(-0.01, 0.1).Draw(t, "zero")}, points,
			LampOptions{FitZero: rapid.Bool().Draw(t, "fit zero"), FitBackground: rapid.Bool().Draw(t, "fit background")})
		if err != nil {
			return
		}
		for _, v := range []float64{c.LnValue, c.LnValueU, c.Slope, c.SlopeU, c.R, c.ZeroM, c.ZeroU, c.BackgroundLux, c.BackgroundU, c.ChiSquare} {
			if !(math.Abs(v) <= math.MaxFloat64) {
				t.Fatalf("%+v", c)
			}
		}
	})
}
