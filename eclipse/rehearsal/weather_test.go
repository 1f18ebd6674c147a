package rehearsal

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// The walk is an Ornstein-Uhlenbeck process: its variance is sd^2, and values one
// memory apart are correlated by 1/e. A series of 2,000 memories knows both to
// a few percent; bounds are four times the standard error.
func TestWalk(t *testing.T) {
	const sd, memory, step, memories = 0.05, 300.0, 2.0, 2000
	w := newWalk(newDice(1, streamWeather), 0, memories*memory, step, sd, memory)
	lag := int(memory / step)
	var s0, s1 float64
	n := len(w.value) - lag
	for i := range n {
		s0 += w.value[i] * w.value[i]
		s1 += w.value[i] * w.value[i+lag]
	}
	if got := math.Sqrt(s0/float64(n)) / sd; !(math.Abs(got-1) <= 4*0.5/math.Sqrt(memories)) {
		t.Errorf("the standard deviation is %.3f of what was asked for", got)
	}
	if got := s1 / s0; !(math.Abs(got-math.Exp(-1)) <= 4/math.Sqrt(memories)) {
		t.Errorf("values a memory apart are correlated by %.3f, want %.3f", got, math.Exp(-1))
	}
	for _, x := range []float64{-1e9, 0, 1, 2, 1e9} {
		i := int(math.Max(0, math.Min(float64(len(w.value)-2), math.Floor(x/step))))
		lo, hi := math.Min(w.value[i], w.value[i+1]), math.Max(w.value[i], w.value[i+1])
		if v := w.at(x); !(v >= lo-1e-3*sd && v <= hi+1e-3*sd) {
			t.Errorf("at %g the walk is %g, its neighbours are %g and %g", x, v, lo, hi)
		}
	}
}

// Over many logs each weather must be what its comment says: how much of the time
// shadows lie on the sensor, and how much light is lost on the whole.
func TestWeathers(t *testing.T) {
	const logs, from, to = 100, -3 * 3600.0, 3 * 3600.0
	for _, tt := range []struct {
		w                Weather
		least, most      float64 // mean part of the time in shadow
		thin, thick      float64 // mean optical depth
		everyLogInShadow bool
	}{
		{Clear, 0, 0, -0.01, 0.01, false},
		{Haze, 0, 0, -0.02, 0.02, false},
		{Cumulus, 0.05, 0.15, 0, 0.2, true}, // one an hour of five and a half minutes
		{Broken, 0.3, 0.6, 0.2, 0.8, true},
		{Deck, 0, 0, 1.5, 1.7, false},        // half way from 1 to 2.2
		{Shade, 0.38, 0.52, 0.3, 0.55, true}, // from somewhere between 20 and 90 %
	} {
		t.Run(tt.w.String(), func(t *testing.T) {
			var shaded, depth float64
			n := 0
			for seed := range uint64(logs) {
				s := newSky(newDice(seed, streamWeather), tt.w, from, to)
				before := shaded
				for x := from; x < to; x += 20 {
					n++
					depth += s.dims(x)
					if s.cloudy(x) {
						shaded++
					}
				}
				if tt.everyLogInShadow != (shaded > before) {
					t.Errorf("seed %d: in shadow %v, want %v", seed, shaded > before, tt.everyLogInShadow)
				}
			}
			if part := shaded / float64(n); !(part >= tt.least && part <= tt.most) {
				t.Errorf("in shadow %.3f of the time, want %g to %g", part, tt.least, tt.most)
			}
			if mean := depth / float64(n); !(mean >= tt.thin && mean <= tt.thick) {
				t.Errorf("mean optical depth %.3f, want %g to %g", mean, tt.thin, tt.thick)
			}
		})
	}
}

// The shadows of clouds take between 0.2 and 0.9 of the light, 0.55 in the mean,
// for one to ten minutes. Some 700 of them know the mean to 0.2/sqrt 700.
func TestShadowsTakeWhatTheySay(t *testing.T) {
	var sum float64
	n := 0
	for seed := range uint64(20) {
		for _, s := range newSky(newDice(seed, streamWeather), Broken, 0, 6*3600).shadows {
			lost := 1 - math.Exp(-s.depth)
			if !(lost >= 0.2-1e-12 && lost <= 0.9+1e-12) || !(s.half >= 30 && s.half <= 300) {
				t.Errorf("a shadow takes %.3f for %.0f s", lost, 2*s.half)
			}
			sum += lost
			n++
		}
	}
	if mean := sum / float64(n); !(math.Abs(mean-0.55) <= 4*0.202/math.Sqrt(float64(n))) {
		t.Errorf("%d shadows take %.3f in the mean, want 0.55", n, mean)
	}
}

// A shadow is as deep as it says, half as deep at its edge, brighter than the
// clear sky just outside and gone further out, without a step anywhere.
func TestShadow(t *testing.T) {
	s := shadow{middle: 100, half: 200, edge: 10, depth: 1, glow: 0.1}
	for _, tt := range []struct{ x, want, tol float64 }{
		{100, 1, 1e-6}, {300, 0.5, 1e-6}, {-100, 0.5, 1e-6},
		{330, 0.0474 - 0.1*3*math.Exp(-2), 1e-4}, // 1/(1+e^3), and the glow
		{1000, 0, 0}, {-1000, 0, 0},
	} {
		if got := s.at(tt.x); !(math.Abs(got-tt.want) <= tt.tol) {
			t.Errorf("at %g: %.6f, want %.6f", tt.x, got, tt.want)
		}
	}
	for x := -400.0; x < 600; x++ {
		if d := s.at(x+1) - s.at(x); !(math.Abs(d) <= 0.053) { // at the edge: 1/40 a second of the logistic, 0.1e/10 of the glow
			t.Errorf("a step of %.3f at %g", d, x)
		}
	}
}

func TestWeatherNames(t *testing.T) {
	for w := range weathers {
		text, err := json.Marshal(w)
		require.NoError(t, err)
		var back Weather
		require.NoError(t, json.Unmarshal(text, &back))
		if back != w {
			t.Errorf("%s reads as %v", text, back)
		}
	}
	var w Weather
	if err := json.Unmarshal([]byte(`"hail"`), &w); err == nil {
		t.Error("hail is taken for a weather")
	}
	if _, err := json.Marshal(weathers); err == nil {
		t.Errorf("%v is written as a weather", weathers)
	}
}
