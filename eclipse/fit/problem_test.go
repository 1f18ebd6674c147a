package fit

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"example.org/noonfall/sun"
)

// What a problem keeps from one evaluation to the next never shows: one that forgets all of
// it each time says the same to the bit, whatever has been asked and changed before.
func TestNothingKeptIsStale(t *testing.T) {
	_, l := realLight(t, time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 36, Lon: -5.6})
	laid := func() *problem {
		p, err := l.window(hazy(l, 0.03, 134, 1), 0, fine)
		if err != nil {
			t.Fatal(err)
		}
		p.setFloor(startFloor)
		p.mistrust(0)
		for k := range p.rough {
			p.rough[k] = 1e-5 * float64(k%3) // variance a second
		}
		p.use(openTemper())
		return p
	}
	keeps, forgets := laid(), laid()
	forget := func(p *problem) {
		p.seenAt, p.written, p.reg.fresh, p.filter = math.NaN(), math.NaN(), true, newWhitener(p.t)
		p.filter.run(p.walk)
	}
	changes := []struct {
		name string
		do   func(p *problem, x float64) // x is uniform from 0 to 1
	}{
		{"another shift", func(p *problem, x float64) { p.deviance(40 * x) }},
		{"other residual light", func(p *problem, x float64) { p.setFloor(20 * x) }},
		{"another mount", func(p *problem, x float64) { p.mount.east = 0.3 * x; p.stand(0) }},
		{"a lean", func(p *problem, x float64) { p.lean(40 * x) }},
		{"a plain day", func(p *problem, x float64) { p.eclipsed(false); p.deviance(0); p.eclipsed(true) }},
		{"a rate", func(p *problem, x float64) { p.setRate(0.01 * x) }},
		{"a nudge", func(p *problem, x float64) { p.fill(0); p.nudge(0, 10, 50, 5*x) }},
		{"an answer", func(p *problem, x float64) { p.reg.beta.Data[colBend] -= x; p.feel(40 * x); p.mistrust(40 * x) }},
		{"faint readings", func(p *problem, x float64) { p.soften(40 * x) }},
		{"another noise", func(p *problem, x float64) { w := p.temper; w[calmSize] += x - 0.5; w[memory] += x - 0.5; p.use(w) }},
		{"jumps", func(p *problem, x float64) { p.settleJumps(40 * x) }},
		{"pulls", func(p *problem, x float64) { p.pulls(40 * x) }},
		{"contacts", func(p *problem, x float64) { p.contacts(&Result{}, 5*x, make([]bool, len(p.t))) }},
	}
	rng := rand.New(rand.NewPCG(7, 8))
	for range 400 {
		c, x, shift := changes[rng.IntN(len(changes))], rng.Float64(), float64(10*rng.IntN(3))
		c.do(keeps, x)
		c.do(forgets, x)
		forget(forgets)
		got, want := keeps.deviance(shift), forgets.deviance(shift)
		if got != want || !slices.Equal(keeps.reg.beta.Data, forgets.reg.beta.Data) || !slices.Equal(keeps.rows, forgets.rows) {
			t.Fatalf("%s, then a shift of %g s: a deviance of %.12g, anew %.12g", c.name, shift, got, want)
		}
	}
}

// The parabola that stands for a faint reading has the slope of a normal distribution of values
// there, whatever was read; its top lies where that distribution's does, and nothing jumps where
// it comes to be above the expected.
func TestFaintReadingsHaveTheTrueSlope(t *testing.T) {
	const variance = 1.0 / 12 // of a count that is rounded
	for _, m := range []float64{0.02, 0.2, 1, 7} {
		for _, v := range []float64{-2, 0, m / 2, m, 1.0005 * m, 1.002 * m, 2 * m, 60 * m} {
			y, of := faintly(v, m, variance)
			slope := m * (v - m) / variance // of -(v - exp f)^2 / 2 variance by f, at log m
			if got := (y - math.Log(m)) / of; !(math.Abs(got-slope) <= 1e-3*math.Abs(slope)) {
				t.Errorf("%g where %g is expected: slope %g, want %g", v, m, got, slope)
			}
			if v > m && !(math.Abs(y-math.Log(v)) <= 1e-6) {
				t.Errorf("%g where %g is expected: highest at %g, want %g", v, m, y, math.Log(v))
			}
			if !(of > 0 && of <= variance/(m*m)*(1+1e-9)) {
				t.Errorf("%g where %g is expected: variance %g", v, m, of)
			}
		}
		_, below := faintly(0.9999*m, m, variance)
		_, above := faintly(1.0011*m, m, variance)
		if !(math.Abs(above/below-1) <= 1e-3) {
			t.Errorf("at %g: the variance jumps by %g", m, above/below)
		}
	}
}
