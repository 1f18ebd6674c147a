package disc

import (
	"math"
	"testing"
)

// A disc before the middle of the Sun leaves just the ring.
func TestRingIsWhatAConcentricDiscLeaves(t *testing.T) {
	ok := good(t)
	for _, l := range []Law{Uniform(), ok(Linear(0.6)), Visible(), Handbook550(), ok(Power(0.5)), ok(Power(2.5))} {
		for _, mu := range []float64{0, 0.01, 0.1, 0.37, 0.8, 0.999} {
			p := math.Sqrt((1 - mu) * (1 + mu))
			if got, want := l.Ring(mu), l.Flux(p, 0); !(math.Abs(got-want) <= 1e-12) {
				t.Errorf("%v: ring from mu %g %.14f, want %.14f", l, mu, got, want)
			}
		}
		if got := l.Ring(1); !(math.Abs(got-1) <= 1e-15) {
			t.Errorf("%v: the whole disc %v", l, got)
		}
		for _, mu := range []float64{-0.1, 1.1, math.NaN()} {
			if got := l.Ring(mu); !math.IsNaN(got) {
				t.Errorf("%v at mu %v: %v, want NaN", l, mu, got)
			}
		}
	}
}
