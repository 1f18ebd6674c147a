package rehearsal

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// The scatter of many samples of one light must be the plan's and the counting's
// together, about the noise-free answer; wild values come as often as asked for.
func TestSampleStatistics(t *testing.T) {
	for i, c := range parts() {
		r, err := newResponse(newDice(3, streamSensor), c)
		require.NoError(t, err)
		for _, lux := range []float64{300, 20e3} { // where counting rules, and where scatter does
			checkSamples(t, i, r, lux)
		}
	}
}

func checkSamples(t *testing.T, i int, r response, lux float64) {
	t.Helper()
	const n = 20000
	p := Plan{Noise: 0.01, Spikes: -1}
	d := newDice(5, streamNoise)
	{
		slope := (r.answer(lux*1.001) - r.answer(lux*0.999)) / 0.002 // counts a unit of ln lux
		want := math.Sqrt(square(slope*p.Noise) + square(r.noise) + square(r.step)/12)
		var s, s2 float64
		for range n {
			v, wild := r.sample(lux, p, d)
			if wild {
				t.Fatal("a wild value that was not asked for")
			}
			v -= r.answer(lux)
			s += v
			s2 += v * v
		}
		mean := s / n
		sd := math.Sqrt(s2/n - mean*mean)
		// Standard errors: sd/sqrt n of a mean, sd/sqrt 2n of a deviation; four of
		// them, and the part in a hundred of the noise that the curve of ln takes.
		if !(math.Abs(mean) <= 4*want/math.Sqrt(n)+0.01*want) {
			t.Errorf("sensor %d: mean %.3f counts off, want 0 within %.3f", i, mean, 4*want/math.Sqrt(n)+0.01*want)
		}
		if !(math.Abs(sd/want-1) <= 4/math.Sqrt(2*n)+0.005) {
			t.Errorf("sensor %d: scatter %.3f counts, want %.3f", i, sd, want)
		}
		p.Spikes = 0.01
		wilds := 0
		for range n {
			if _, wild := r.sample(lux, p, d); wild {
				wilds++
			}
		}
		if mean := p.Spikes * n; !(math.Abs(float64(wilds)-mean) <= 4*math.Sqrt(mean)) {
			t.Errorf("sensor %d: %d wild values, want %.0f", i, wilds, mean)
		}
	}
}

func square(x float64) float64 { return x * x }

// At 100 klx the response has lost what the truth says.
func TestBend(t *testing.T) {
	r, err := newResponse(newDice(3, streamSensor), nil)
	require.NoError(t, err)
	straight := r
	straight.bend = 0
	got := math.Pow(r.answer(fullLight)/straight.answer(fullLight), 1/r.exponent)
	if want := 1 - r.bend; !(math.Abs(got-want) <= 1e-12) || r.bend <= 0 {
		t.Errorf("%.6f of the light is left in the counts, want %.6f", got, want)
	}
}

// More light never turns back the counts, and they stay on the scale.
func TestAnswerIsMonotone(t *testing.T) {
	for seed := range uint64(20) {
		for i, c := range parts() {
			r, err := newResponse(newDice(seed, streamSensor), c)
			require.NoError(t, err)
			up := 1.0
			if r.answer(0) > r.answer(1000) {
				up = -1
			}
			last := r.answer(0)
			for lux := 1.0; lux < 200e3; lux *= 1.05 {
				v := r.answer(lux)
				if !(v >= 0 && v <= r.top && (v-last)*up >= 0) {
					t.Fatalf("sensor %d seed %d: %.3f counts after %.3f at %.0f lx", i, seed, v, last, lux)
				}
				last = v
			}
			dark, _ := r.sample(0, Plan{Noise: 0.01}, newDice(seed, streamNoise))
			if !(dark >= 0 && dark <= r.top) {
				t.Errorf("sensor %d seed %d: %v counts in the dark", i, seed, dark)
			}
		}
	}
}

// In a darkness that lasts the air falls by 1 - e^-1 of the whole within one
// memory, and its greatest departure is at the end.
func TestThermometer(t *testing.T) {
	th := newThermometer(Plan{Seed: 1}, 1)
	th.slow = 0 // the ground's part takes longer
	for x := 1.0; x <= math.Round(th.memory); x++ {
		th.read(x, func(float64) float64 { return 1 })
	}
	if want := th.fall * (1 - math.Exp(-1)); !(math.Abs(th.drop-want) <= 0.001*want) {
		t.Errorf("fell by %.4f, want %.4f", th.drop, want)
	}
	if th.at != math.Round(th.memory) {
		t.Errorf("deepest at %v s, want the end, %v", th.at, math.Round(th.memory))
	}
}
