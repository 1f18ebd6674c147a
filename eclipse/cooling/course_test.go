package cooling

import (
	"math"
	"testing"
)

// A first-order response to a slope that begins at nothing is t - tau (1 - exp(-t/tau)), and
// to a step as a course has it, rising within a tick, the difference of two such slopes. Side by side
// each has the time constant of its own.
func TestLaggedSlopeAndStep(t *testing.T) {
	const begin = 10 // ticks
	slope := func(x, tau float64) float64 {
		switch {
		case x <= 0:
			return 0
		case tau == 0:
			return x
		}
		return x - tau*(1-math.Exp(-x/tau))
	}
	tau := []float64{0, 1, 60, 900, 7200}
	for _, tt := range []struct {
		name string
		f    func(x, tau float64) float64 // x from the beginning, s
	}{
		{"slope", slope},
		{"step", func(x, tau float64) float64 { return (slope(x, tau) - slope(x-tick, tau)) / tick }},
	} {
		one := newCourse(-1e4, 400, 1)
		for i := range one.v {
			one.v[i] = tt.f(tick*float64(i-begin), 0)
		}
		var c course
		c.repeat(&one, len(tau))
		c.lag(tau...)
		row := make([]float64, len(tau))
		for i := range one.v {
			c.read(row, c.from+tick*float64(i))
			for k, got := range row {
				if want := tt.f(tick*float64(i-begin), tau[k]); !(math.Abs(got-want) <= 1e-9*math.Max(1, want)) {
					t.Fatalf("%s, %g s: %g after %d ticks, want %g", tt.name, tau[k], got, i, want)
				}
			}
		}
		c.read(row, -3001) // between ticks
		for k, got := range row {
			if alone := one.lagged(tau[k]); alone.at(-3001) != got {
				t.Errorf("%s, %g s: %g side by side, %g alone", tt.name, tau[k], got, alone.at(-3001))
			}
		}
	}
}
