package cooling_test

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/cooling"
	"example.org/noonfall/sensor/air"
	"example.org/noonfall/sun"
)

var tangier = sun.Site{Lat: 36, Lon: -5.6} // a made-up station's place, on the path of 2 August 2027

// series is invented: c of minutes from maximum, each step minutes.
func invented(max time.Time, from, to, step float64, c func(m float64) float64) []cooling.Reading {
	var out []cooling.Reading
	for m := from; m <= to; m += step {
		out = append(out, cooling.Reading{UTC: max.Add(time.Duration(m * 6e10)), C: c(m)})
	}
	return out
}

// A bell is no first-order answer, and no estimator's own form; with a deviation of 27
// min a hundredth of it is left at first contact, as there must be no more.
func bell(depth, lag float64) func(m float64) float64 {
	r := rand.New(rand.NewPCG(1, 2))
	return func(m float64) float64 {
		return 20 + m/150 - depth*math.Exp(-(m-lag)*(m-lag)/(2*27*27)) + 0.03*r.NormFloat64()
	}
}

func TestRefusals(t *testing.T) {
	curve, err := curveOf("2027-08-02", tangier)
	require.NoError(t, err)
	unseen, err := curveOf("2027-08-02", sun.Site{Lat: -36, Lon: 174})
	require.NoError(t, err)
	max := curve.Circumstances().Max.UTC
	constant := func(v float64) func(float64) float64 { return func(float64) float64 { return v } }
	whole := func(c func(float64) float64) []cooling.Reading { return invented(max, -150, 150, 1, c) }
	for _, tt := range []struct {
		name     string
		readings []cooling.Reading
		light    cooling.Light
		want     cooling.Reason
	}{
		{"other side of the Earth", whole(bell(3, 12)), unseen, cooling.NotSeen},
		{"nothing", nil, curve, cooling.NoReadings},
		{"lost contact", whole(constant(-127)), curve, cooling.Failed},
		{"power-on value", whole(constant(85)), curve, cooling.Failed},
		{"no number", whole(constant(math.NaN())), curve, cooling.Failed},
		{"the day before", invented(max.AddDate(0, 0, -1), -150, 150, 1, bell(3, 12)), curve, cooling.NoOverlap},
		{"ends at maximum", invented(max, -150, 5, 1, bell(3, 12)), curve, cooling.NoOverlap},
		{"hourly", invented(max, -150, 150, 60, bell(3, 12)), curve, cooling.TooFew},
		{"stuck", whole(constant(21.5)), curve, cooling.Stuck},
		{"whole degrees, half a degree", whole(func(m float64) float64 { return math.Round(20.2 - 0.4*math.Exp(-m*m/2000)) }), curve, cooling.Stuck},
		{"no drop", whole(bell(0, 12)), curve, cooling.NoDrop},
		{"warmer", whole(bell(-2, 12)), curve, cooling.NoDrop},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r, err := cooling.Measure(context.Background(), tt.readings, tt.light, cooling.Options{})
			if !errors.Is(err, tt.want) {
				t.Errorf("%v, %+v, want %v", err, r, tt.want)
			}
		})
	}
}

// What loggers do to a log must not move the answer by more than its interval has room
// for; the bell's greatest is 3 degrees at 12 min.
func TestDamagedLogs(t *testing.T) {
	curve, err := curveOf("2027-08-02", tangier)
	require.NoError(t, err)
	max := curve.Circumstances().Max.UTC
	rounded := func(step float64) func(float64) float64 {
		f := bell(3, 12)
		return func(m float64) float64 { return step * math.Round(f(m)/step) }
	}
	spiky := invented(max, -150, 150, 0.5, bell(3, 12))
	for i := range spiky {
		switch {
		case i%97 == 5:
			spiky[i].C = 85
		case i%89 == 7:
			spiky[i].C = -127
		case i%83 == 9:
			spiky[i].C += 12
		}
	}
	gap := invented(max, -150, 150, 0.5, bell(3, 12))
	gap = append(gap[:200:200], gap[260:]...)
	for _, tt := range []struct {
		name     string
		readings []cooling.Reading
	}{
		{"half-second", invented(max, -150, 150, 1./120, bell(3, 12))},
		{"five minutes", invented(max, -150, 150, 5, bell(3, 12))},
		{"quarter of an hour", invented(max, -150, 150, 15, bell(3, 12))},
		{"sixteenths", invented(max, -150, 150, 0.5, rounded(0.0625))},
		{"half degrees", invented(max, -150, 150, 0.5, rounded(0.5))},
		{"whole degrees", invented(max, -150, 150, 0.5, rounded(1))},
		{"spikes and failures", spiky},
		{"a gap of half an hour", gap},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r, err := cooling.Measure(context.Background(), tt.readings, curve, cooling.Options{Thermometer: air.Thermometer{Tau: 5 * time.Second}})
			require.NoError(t, err)
			t.Logf("drop %.2f +- %.2f, lag %.1f +- %.1f min, step %.3g", r.Drop.Value, r.Drop.U, r.Lag.Value/60, r.Lag.U/60, r.StepC)
			if !(math.Abs(r.Drop.Value-3) <= 3*r.Drop.U && r.Drop.U < 0.8) {
				t.Errorf("drop %.2f +- %.2f, want 3", r.Drop.Value, r.Drop.U)
			}
			if !(math.Abs(r.Lag.Value-720) <= 3*r.Lag.U && r.Lag.U < 400) {
				t.Errorf("lag %.0f +- %.0f s, want 720", r.Lag.Value, r.Lag.U)
			}
		})
	}
}

// Settings that cannot be are errors, and no refusal.
func TestOptions(t *testing.T) {
	curve, err := curveOf("2027-08-02", tangier)
	require.NoError(t, err)
	readings := invented(curve.Circumstances().Max.UTC, -150, 150, 1, bell(3, 12))
	for _, opt := range []cooling.Options{{ClockU: -1}, {Thermometer: air.Thermometer{Tau: -time.Second}}, {Thermometer: air.Thermometer{Tau: 7 * time.Hour}}} {
		_, err := cooling.Measure(context.Background(), readings, curve, opt)
		if no := (*cooling.Refusal)(nil); err == nil || errors.As(err, &no) {
			t.Errorf("%+v: %v, want an error", opt, err)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := cooling.Measure(ctx, readings, curve, cooling.Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("%v, want the context's error", err)
	}
}

// A clock that is wrong is put right for the readings and their control alike, and what lies far from the
// eclipse is not looked at.
func TestClock(t *testing.T) {
	curve, err := curveOf("2027-08-02", tangier)
	require.NoError(t, err)
	max := curve.Circumstances().Max.UTC
	readings, control := invented(max, -150, 150, 0.5, bell(3, 12)), invented(max.AddDate(0, 0, -1), -200, 200, 0.5, bell(0, 12))
	want, err := cooling.Measure(context.Background(), readings, curve, cooling.Options{Control: control})
	require.NoError(t, err)
	opt := cooling.Options{Clock: -7 * time.Minute}
	wrong := func(all []cooling.Reading) (out []cooling.Reading) {
		for _, q := range all {
			out = append(out, cooling.Reading{UTC: q.UTC.Add(opt.Clock), C: q.C})
		}
		return out
	}
	opt.Control = wrong(control)
	far := invented(max, -900, -600, 0.5, func(float64) float64 { return 40 })
	got, err := cooling.Measure(context.Background(), append(far, wrong(readings)...), curve, opt)
	require.NoError(t, err)
	require.Equal(t, want, got)
}
