package sensor

import (
	"errors"
	"fmt"
	"math"
)

// ErrLampMoved says that the lamp was not moved far enough to tell what was to be fitted.
var ErrLampMoved = errors.New("sensor: the lamp was moved too little, or the room is too bright: take distances over a wider range in a darker room, or measure zero and background and do not fit them")

// A Lamp lights a sensor from measured distances, in a room that may not be dark:
//
//	E = Candela/(distance + ZeroM)^2 + BackgroundLux
//
// The inverse square wants a lamp that is small beside its distance: at ten times its
// width it is within 0.25 % (a flat round lamp of radius a: 1/(1 + a^2/d^2)). It
// wants no reflecting walls or table either.
type Lamp struct {
	// Candela is the luminous intensity towards the sensor, 1e-3 to 1e6 cd. Where
	// it is not known take 1: Slope is right all the same, and light is in unknown units.
	Candela    float64
	CandelaLnU float64 // standard uncertainty of ln Candela, shared by all points; 0 to 1
	// ZeroM is to be added to each distance, metres, -10 to 10: where the lamp's
	// centre and the sensor's surface are not where the tape was held. Where it is fitted
	// the fit starts from it.
	ZeroM float64
	// BackgroundLux is the light with the lamp covered, 0 to 1e5 lx; where it is
	// fitted the fit starts from it.
	BackgroundLux float64
}

// A LampPoint is a reading with the lamp at a distance.
type LampPoint struct {
	DistanceM float64 // metres, 1e-3 to 1e3
	DistanceU float64 // standard uncertainty, metres, this point's own; 0 to 10
	Value     float64 // as KnownLight's
	ValueLnU  float64 // standard uncertainty of ln Value; 0 to 1
}

// LampOptions are for CalibrateLamp. The zero value fits the power law alone.
type LampOptions struct {
	FitZero, FitBackground bool // find ZeroM, find BackgroundLux
	// MinRatio is the least ratio of the farthest to the nearest distance, 1.05 to
	// 1000; 0 means 2, which is 4 in light (common practice, no source).
	MinRatio  float64
	ByScatter bool // as CalibrateOptions'
}

// A LampCalibration is a Calibration and what else was found. Its Freedom is less
// by the number of things fitted.
type LampCalibration struct {
	Calibration
	ZeroM, ZeroU               float64 // metres; as given, and 0, where not fitted
	BackgroundLux, BackgroundU float64 // lx; likewise. A fitted one may come out a little below 0
}

const (
	usualRatio = 2
	// lampDoubt is the uncertainty of ln lux, by the zero at the nearest and by the
	// background at the farthest point, above which a fitted one has told nothing.
	lampDoubt = 0.5 // common practice, no source
	// leastSlope keeps a flat reading away from the fit: parts have 0.3 and
	// more. Common practice, no source.
	leastSlope = 1e-3
)

// CalibrateLamp fits a power law, and where wanted the zero of distance and the
// background, to readings at measured distances by least squares, each point weighted
// by its effective variance (J. Orear, Am. J. Phys. 50 (1982) 912).
//
// It wants as many points as Calibrate, and one more than parameters where zero or
// background is fitted. Where the distances do not tell them the error is
// ErrLampMoved; others are *PartError, ErrFewPoints, ErrUncertainty and ErrNoSlope.
func CalibrateLamp(lamp Lamp, points []LampPoint, o LampOptions) (LampCalibration, error) {
	o.MinRatio = orElse(o.MinRatio, usualRatio)
	if err := errors.Join(o.check(lamp), checkLampPoints(points)); err != nil {
		return LampCalibration{}, err
	}
	bare, err := uncertain(len(points), func(i int) bool { return points[i].DistanceU > 0 || points[i].ValueLnU > 0 })
	if err != nil {
		return LampCalibration{}, err
	}
	f := &lampFit{points: points, candela: lamp.Candela, zero: o.FitZero, background: o.FitBackground, bare: bare}
	scatter := bare || o.ByScatter
	n := 2 + oneIf(o.FitZero) + oneIf(o.FitBackground)
	if want := n + oneIf(scatter || n > 2); len(points) < want {
		return LampCalibration{}, fmt.Errorf("%w: %d, want %d for %d parameters", ErrFewPoints, len(points), want, n)
	}
	near, far := f.reach(lamp.ZeroM)
	if !(near > 0) || far < o.MinRatio*near {
		return LampCalibration{}, fmt.Errorf("%w: %.4g to %.4g m with its zero, want a ratio of %g", ErrLampMoved, near, far, o.MinRatio)
	}
	first := f.start(lamp)
	if math.Abs(first[1]) < leastSlope {
		return LampCalibration{}, fmt.Errorf("%w: the first slope is %.3g", ErrNoSlope, first[1])
	}
	p, got, cov, ok := f.solve(first)
	if !ok {
		return LampCalibration{}, fmt.Errorf("%w: the fit does not settle", ErrLampMoved)
	}
	return f.result(p, got, cov, scatter, lamp.CandelaLnU)
}

func (o LampOptions) check(l Lamp) error {
	return checked([]row{
		{"lamp.candela", l.Candela, 1e-3, 1e6, "its luminous intensity, or 1"},
		{"lamp.candela_ln_u", l.CandelaLnU, 0, maxLnU, ""},
		{"lamp.zero_m", l.ZeroM, -10, 10, ""},
		{"lamp.background_lux", l.BackgroundLux, 0, 1e5, ""},
		{"lamp.min_ratio", o.MinRatio, 1.05, 1000, ""},
	})
}

func checkLampPoints(points []LampPoint) error {
	var rows []row
	for i, p := range points {
		at := func(name string) string { return fmt.Sprintf("points[%d].%s", i, name) }
		rows = append(rows,
			row{at("distance_m"), p.DistanceM, 1e-3, 1e3, ""}, row{at("distance_u_m"), p.DistanceU, 0, 10, ""},
			row{at("value"), p.Value, 1e-15, 1e15, ""}, row{at("value_ln_u"), p.ValueLnU, 0, maxLnU, ""})
	}
	return checked(rows)
}

// result checks that the fitted zero and background are told by the points.
func (f *lampFit) result(s lampState, got solution, cov [4][4]float64, scatter bool, candelaLnU float64) (LampCalibration, error) {
	out := LampCalibration{ZeroM: s[2], BackgroundLux: s[3]}
	out.ChiSquare, out.Freedom, out.Scattered = got.sum, len(got.residuals)-len(got.p), scatter
	for i, r := range got.residuals {
		out.Residuals = append(out.Residuals, r/f.weights[i])
	}
	factor := 1.0
	if scatter {
		factor = got.sum / float64(out.Freedom)
	}
	out.ZeroU = math.Sqrt(factor * cov[2][2])
	near, far := f.reach(s[2])
	zeroDoubt, backgroundDoubt := 2*out.ZeroU/near, math.Sqrt(factor*cov[3][3])/(f.candela/(far*far)+s[3])
	if !(zeroDoubt <= lampDoubt && backgroundDoubt <= lampDoubt) {
		return LampCalibration{}, fmt.Errorf("%w: the light is uncertain by a factor of exp(%.2g) at the nearest and exp(%.2g) at the farthest", ErrLampMoved, zeroDoubt, backgroundDoubt)
	}
	// A fitted background is in units of the lamp.
	out.BackgroundU = math.Sqrt(factor * cov[3][3])
	if f.background {
		out.BackgroundU = math.Hypot(out.BackgroundU, s[3]*candelaLnU)
	}
	var err error
	out.Calibration, err = out.with(s[0], s[1], factor*cov[0][0], factor*cov[1][1], factor*cov[0][1], candelaLnU)
	if err != nil && (f.zero || f.background) {
		err = fmt.Errorf("%w; zero or background are fitted beside it: darken the room and move the lamp farther, or measure them", err)
	}
	if err != nil {
		return LampCalibration{}, err
	}
	return out, nil
}
