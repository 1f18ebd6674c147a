package air

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var noon = time.Date(2026, 8, 12, 12, 0, 0, 0, time.UTC)

func at(s float64) time.Time { return noon.Add(time.Duration(s * 1e9)) }

func tau(s float64) Thermometer { return Thermometer{Tau: time.Duration(s * 1e9)} }

// series samples a temperature law every step seconds, shifted by up to half a
// step where rng is given.
func series(law func(s float64) float64, step, until, u float64, rng *rand.Rand) []Sample {
	var out []Sample
	for x := 0.0; x <= until; x += step {
		s := x
		if rng != nil {
			s += step / 2 * rng.Float64()
		}
		out = append(out, Sample{at(s), law(s), u})
	}
	return out
}

func swing(period float64) func(float64) float64 {
	return func(s float64) float64 { return math.Sin(2 * math.Pi * s / period) }
}

func TestPublishedSine(t *testing.T) {
	for _, r := range []struct{ tau, gain, delay float64 }{
		{20, .99985, 20.0}, {120, .99456, 119.6}, {600, .88591, 552.7}, {900, .78644, 762.9},
	} { // source: closed form for a period of 7200 s, printed to these digits
		m := tau(r.tau)
		gain, delay := m.Sine(2 * time.Hour)
		if !(math.Abs(gain-r.gain) <= 0.5e-5 && math.Abs(delay.Seconds()-r.delay) <= 0.05) {
			t.Errorf("tau %g s: %.6f %v, want %g %g s", r.tau, gain, delay, r.gain, r.delay)
		}
		// The solution must show the same swing once its start is forgotten.
		shown, err := m.Read(series(swing(7200), 10, 30000, 0, nil))
		require.NoError(t, err)
		for _, v := range shown[2000:] {
			want := r.gain * swing(7200)(v.Time.Sub(noon).Seconds()-r.delay)
			if !(math.Abs(v.C-want) <= 1e-4) { // 0.05 s of the swing is 4e-5, straight lines of 10 s 1e-5, the start's end 1e-9
				t.Fatalf("tau %g s at %v: %.6f, want %.6f", r.tau, v.Time, v.C, want)
			}
		}
	}
}

func TestPublishedStep(t *testing.T) {
	for _, r := range []struct{ taus, shown, tol float64 }{
		{1, 63.212, 0.5e-3}, {2, 86.466, 0.5e-3}, {3, 95.021, 0.5e-3}, {4.605, 99, 0.5e-2},
	} { // source: 100 (1 - exp(-n)) as printed
		got, err := tau(100).Read([]Sample{{at(-1e-6), 0, 0}, {at(0), 100, 0}, {at(100 * r.taus), 100, 0}})
		require.NoError(t, err)
		if !(math.Abs(got[2].C-r.shown) <= r.tol) {
			t.Errorf("after %g tau: %.5f %%, want %g", r.taus, got[2].C, r.shown)
		}
	}
}

// On a ramp the thermometer comes to lag by tau, and the lag comes off again
// exactly; both whatever the steps.
func TestRamp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 2))
		m := tau(rapid.Float64Range(0.01, 900).Draw(t, "tau"))
		rate := rapid.Float64Range(-0.002, 0.002).Draw(t, "rate")
		ramp := series(func(s float64) float64 { return 20 + rate*s }, 60, 20*900, 0.1, rng)
		shown, err := m.Read(ramp)
		require.NoError(t, err)
		last := shown[len(shown)-1]
		if want := ramp[len(ramp)-1].C - rate*m.Tau.Seconds(); !(math.Abs(last.C-want) <= 1e-6) {
			t.Errorf("shows %.9f, want %.9f", last.C, want)
		}
		straight := series(func(s float64) float64 { return 20 + rate*(s-m.Tau.Seconds()) }, 60, 6000, 0.1, rng)
		got, err := m.Undo(straight, Options{})
		require.NoError(t, err)
		for _, v := range got {
			if want := 20 + rate*v.Time.Sub(noon).Seconds(); !(math.Abs(v.C-want) <= 1e-8) {
				t.Fatalf("at %v: %.10f, want %.10f", v.Time, v.C, want)
			}
		}
	})
}

// The stated loss of a swing, (2 pi/P)³ tau W²/10, is the worst there is, less the
// ends, where the window is one-sided.
func TestUndoOfASwing(t *testing.T) {
	for _, r := range []struct{ tau, step float64 }{{20, 2}, {120, 5}, {600, 10}, {900, 10}} {
		m := tau(r.tau)
		shown, err := m.Read(series(swing(7200), r.step, 30000, 0, rand.New(rand.NewPCG(1, 2))))
		require.NoError(t, err)
		var read []Sample
		for _, v := range shown {
			read = append(read, Sample{v.Time, v.C, 0})
		}
		got, err := m.Undo(read, Options{})
		require.NoError(t, err)
		worst := 0.0
		for _, v := range got[len(got)/3 : len(got)*9/10] {
			worst = max(worst, math.Abs(v.C-swing(7200)(v.Time.Sub(noon).Seconds())))
		}
		bound := math.Pow(2*math.Pi/7200, 3) * r.tau * r.tau * r.tau / 40
		t.Logf("tau %g s: worst %.2e of the swing, stated %.2e", r.tau, worst, bound)
		// Beside it: straight lines between samples, (w step)²/8 and amplified no further; steps uneven to half.
		if !(worst <= 1.3*bound+1e-4) {
			t.Errorf("tau %g s: off by %.2e of the swing, stated %.2e", r.tau, worst, bound)
		}
	}
}

// 2000 noisy series: the spread of the result is RandomU (to 1/sqrt 4000 = 1.6 %, three
// of which are allowed), and in mid-series it is what the comment says.
func TestRandomPartIsTheSpread(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	m := tau(120)
	base := series(func(float64) float64 { return 0 }, 4, 240, 0.05, rng)
	const runs = 2000
	sums := make([]float64, len(base))
	forward := make([]float64, len(base))
	var undone, shown []Value
	for range runs {
		noisy := make([]Sample, len(base))
		for i, s := range base {
			noisy[i] = Sample{s.Time, s.U * rng.NormFloat64(), s.U}
		}
		var err error
		undone, err = m.Undo(noisy, Options{})
		require.NoError(t, err)
		shown, err = m.Read(noisy)
		require.NoError(t, err)
		for i := range undone {
			sums[i] += undone[i].C * undone[i].C / runs
			forward[i] += shown[i].C * shown[i].C / runs
		}
	}
	for _, i := range []int{0, 1, 10, 30, 50, 60} {
		if got := math.Sqrt(sums[i]) / undone[i].RandomU; !(math.Abs(got-1) <= 0.05) {
			t.Errorf("Undo, sample %d: spread is %.3f of RandomU", i, got)
		}
		if got := math.Sqrt(forward[i]) / shown[i].RandomU; !(math.Abs(got-1) <= 0.05) {
			t.Errorf("Read, sample %d: spread is %.3f of RandomU", i, got)
		}
	}
	n := 120.0 / 4 // readings in a window of 120 s
	if got := undone[30].RandomU / (0.05 / math.Sqrt(n) * math.Sqrt(9.0/4+12)); !(math.Abs(got-1) <= 0.1) {
		t.Errorf("RandomU is %.3f of the rule of thumb", got)
	}
	t.Logf("mid-series %.4f K of 0.05 K a reading, first sample %.3f K", undone[30].RandomU, undone[0].RandomU)
}

// TauPart is the derivative, held against a difference, in both directions.
func TestTauPart(t *testing.T) {
	data := series(swing(3000), 30, 3000, 0, rand.New(rand.NewPCG(1, 2)))
	for _, s := range []float64{0.01, 20, 600, 1e4} {
		d := max(1e-4*s, 1e-5)
		lo, hi, m := tau(s-d), tau(s+d), tau(s)
		m.TauU = time.Second
		for name, f := range map[string]func(Thermometer) ([]Value, error){
			"Read": func(m Thermometer) ([]Value, error) { return m.Read(data) },
			"Undo": func(m Thermometer) ([]Value, error) { return m.Undo(data, Options{Window: 50 * time.Second}) },
		} {
			v, err := f(m)
			require.NoError(t, err)
			a, err := f(lo)
			require.NoError(t, err)
			b, err := f(hi)
			require.NoError(t, err)
			for i := range v {
				want := (b[i].C - a[i].C) / (2 * d)
				if !(math.Abs(v[i].TauPart-want) <= 1e-6) {
					t.Fatalf("%s, tau %g s, sample %d: %.9f K, want %.9f by differences", name, s, i, v[i].TauPart, want)
				}
			}
		}
	}
}

func TestNoLagChangesNothing(t *testing.T) {
	data := series(swing(3000), 30, 3000, 0.1, rand.New(rand.NewPCG(1, 2)))
	var zero Thermometer
	for name, f := range map[string]func() ([]Value, error){
		"Read": func() ([]Value, error) { return zero.Read(data) },
		"Undo": func() ([]Value, error) { return zero.Undo(data, Options{}) },
	} {
		got, err := f()
		require.NoError(t, err)
		for i, v := range got {
			if !(math.Abs(v.C-data[i].C) <= 1e-12 && math.Abs(v.U()-0.1) <= 1e-12) {
				t.Fatalf("%s: %v, was %v", name, v, data[i])
			}
		}
	}
}

func TestGapsCut(t *testing.T) {
	var data []Sample
	for _, s := range []float64{0, 10, 20, 30, 5000, 5010, 9000, 9010, 9020} {
		data = append(data, Sample{at(s), s / 1000, 0.1})
	}
	got, err := tau(100).Undo(data, Options{})
	require.NoError(t, err)
	require.Len(t, got, len(data))
	for i, v := range got {
		alone := i == 4 || i == 5
		if v.Alone != alone || math.IsNaN(v.C) != alone {
			t.Errorf("sample %d: %+v", i, v)
		}
		if want := data[i].C + 0.1; !alone && !(math.Abs(v.C-want) <= 1e-9) {
			t.Errorf("sample %d: %g, want %g", i, v.C, want)
		}
	}
	got, err = tau(100).Undo(nil, Options{})
	if err != nil || len(got) != 0 {
		t.Errorf("no samples: %v %v", got, err)
	}
}

func TestSeriesRefused(t *testing.T) {
	good := []Sample{{at(0), 20, 0}, {at(1), 20, 0}, {at(2), 20, 0}}
	for _, r := range []struct {
		field string
		m     Thermometer
		o     Options
		s     []Sample
	}{
		{"Thermometer.Tau", tau(-1), Options{}, good},
		{"Thermometer.TauU", Thermometer{TauU: -1}, Options{}, good},
		{"Sample.C", tau(1), Options{}, []Sample{{C: math.NaN()}}},
		{"Sample.U", tau(1), Options{}, []Sample{{U: math.Inf(1)}}},
		{"Options.Window", tau(1), Options{Window: -1}, good},
		{"Options.Gap", tau(1), Options{Gap: -1}, good},
		{"length of the series", tau(1), Options{}, []Sample{{Time: at(0)}, {Time: noon.AddDate(200, 0, 0)}}},
	} {
		_, err := r.m.Undo(r.s, r.o)
		if e, ok := errors.AsType[*RangeError](err); !ok || e.Field != r.field {
			t.Errorf("%s: %v", r.field, err)
		}
	}
	_, err := tau(1).Read([]Sample{good[0], good[2], good[1]})
	if e, ok := errors.AsType[*OrderError](err); !ok || e.Index != 2 {
		t.Errorf("out of order: %v", err)
	}
}
