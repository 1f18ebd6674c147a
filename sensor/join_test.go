package sensor

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// twins are two dividers of a pair: what they are taken for, and what they are.
type twins struct{ dim, bright, trueDim, trueBright *Converter }

// newTwins has a load of 6.8 kohm for dim light and of 120 ohm for the Sun; the bright
// one's cell is off by a factor and in its exponent.
func newTwins(t require.TestingT, factor, exponent float64) twins {
	make := func(load, r10, gamma float64) *Converter {
		c := bench(CellOnTop)
		c.ADC.DeadLow, c.ADC.DeadHigh = 0, 0
		c.Divider.LoadOhm, c.Divider.Cell.R10Ohm, c.Divider.Cell.Gamma = load, r10, gamma
		c.Divider.LoadTolerance, c.Divider.Cell.R10LnU = 0.01, 0.1
		out, err := c.Compile()
		require.NoError(t, err)
		return out
	}
	return twins{make(6800, 1e4, 0.7), make(120, 1e4, 0.7), make(6800, 1e4, 0.7), make(120, 1e4*factor, 0.7+exponent)}
}

// read is what both say of a light.
func (w twins) read(lux, dimNoise, brightNoise float64) (dim, bright Reading) {
	return w.dim.Lux(w.trueDim.Counts(lux) + dimNoise), w.bright.Lux(w.trueBright.Counts(lux) + brightNoise)
}

// dusk is what both say on a way down from the Sun into darkness, in even steps.
func (w twins) dusk(n int, noise func() float64) (dim, bright []Reading) {
	for i := range n {
		d, b := w.read(100e3*math.Pow(1e-6, float64(i)/float64(n-1)), noise(), noise())
		dim, bright = append(dim, d), append(bright, b)
	}
	return dim, bright
}

func none() float64 { return 0 }

// Across the handover and everywhere else: in three thousandths more light the joined
// reading rises by about as much, whatever the two disagree by, fitted or trusted.
func TestJoinIsSeamless(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		trusted := rapid.Bool().Draw(t, "trusted")
		far := 1.0
		if trusted { // within a factor of 2.6 of each other, all told
			far = 0.3
		}
		w := newTwins(t, math.Exp(far*rapid.Float64Range(-1, 1).Draw(t, "ln factor")), far*rapid.Float64Range(-0.2, 0.2).Draw(t, "exponent"))
		dim, bright := w.dusk(400, none)
		j, err := FitJoin(dim, bright, JoinOptions{Keep: Keep(rapid.IntRange(0, 2).Draw(t, "keep"))})
		require.NoError(t, err)
		least, most := 0.6, 1.4 // on one scale only the exponents turn the slope: 0.7/0.9 to 0.7/0.5, seen through half of the zone
		if trusted {
			least, most = 0, 2 // the disagreement itself is spread over the zone: rising, and no jump
			from, _ := w.bright.Range()
			_, to := w.dim.Range()
			j = Join{FromLux: from, ToLux: to}
		}
		last := Reading{}
		const step = 3e-3
		for ln := math.Log(0.2); ; ln += step {
			d, b := w.read(math.Exp(ln), 0, 0)
			if b.Status == Saturated {
				break
			}
			r := j.Merge(d, b)
			if r.Status != OK {
				t.Fatalf("%g lx: %+v", math.Exp(ln), r)
			}
			if rise := math.Log(r.Lux/last.Lux) / step; last.Lux > 0 && !(rise > least && rise < most) {
				t.Fatalf("%+v: at %g lx from %g to %g lx, %g of the light's own rise", j, math.Exp(ln), last.Lux, r.Lux, rise)
			}
			last = r
		}
	})
}

// Light times k, as both say it, is the joined light times k.
func TestJoinScales(t *testing.T) {
	times := func(k float64, all []Reading) []Reading {
		out := slices.Clone(all)
		for i := range out {
			out[i].Lux, out[i].LuxU, out[i].RandomU = k*out[i].Lux, k*out[i].LuxU, k*out[i].RandomU
		}
		return out
	}
	rapid.Check(t, func(t *rapid.T) {
		w := newTwins(t, 1.3, 0.02)
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		dim, bright := w.dusk(300, rng.NormFloat64)
		k := math.Exp(rapid.Float64Range(-1, 1).Draw(t, "ln k"))
		dimK, brightK := times(k, dim), times(k, bright)
		a, err := FitJoin(dim, bright, JoinOptions{})
		require.NoError(t, err)
		b, err := FitJoin(dimK, brightK, JoinOptions{})
		require.NoError(t, err)
		near := func(x, y float64) bool { return x == y || math.IsNaN(x) && math.IsNaN(y) || math.Abs(x/y-1) <= 1e-9 }
		if !near(a.Ratio, b.Ratio) || !near(k*a.FromLux, b.FromLux) || !near(k*a.ToLux, b.ToLux) || !near(a.RatioLnU, b.RatioLnU) {
			t.Fatalf("%+v and, times %g, %+v", a, k, b)
		}
		for i := range dim {
			x, y := a.Merge(dim[i], bright[i]), b.Merge(dimK[i], brightK[i])
			if x.Status != y.Status || !near(k*x.Lux, y.Lux) || !near(k*x.LuxU, y.LuxU) || !near(k*x.RandomU, y.RandomU) {
				t.Fatalf("%+v and, times %g, %+v", x, k, y)
			}
		}
	})
}

// anyReading is a number, a bound or nothing.
func anyReading(t *rapid.T, name string) Reading {
	r := Reading{Lux: math.Exp(rapid.Float64Range(-3, 12).Draw(t, name)), Status: Status(rapid.IntRange(0, 3).Draw(t, name+" status"))}
	r.RandomU = 0.1 * r.Lux * rapid.Float64Range(0, 1).Draw(t, name+" random")
	r.LuxU = math.Hypot(r.RandomU, 0.1*r.Lux*rapid.Float64Range(0, 1).Draw(t, name+" common"))
	switch r.Status {
	case Missing:
		return Reading{Lux: math.NaN(), LuxU: math.NaN(), RandomU: math.NaN(), Status: Missing}
	case OK:
	default:
		r.RandomU = 0
	}
	return r
}

func same(a, b Reading) bool { return a == b || a.Status == Missing && b.Status == Missing }

// One sensor alone gives itself back; a bound never beats a number; the joined number
// lies between two numbers and is no less sure than the less sure of them.
func TestJoinRules(t *testing.T) {
	gone := Reading{Lux: math.NaN(), LuxU: math.NaN(), RandomU: math.NaN(), Status: Missing}
	rapid.Check(t, func(t *rapid.T) {
		dim, bright := anyReading(t, "dim"), anyReading(t, "bright")
		var j Join
		if rapid.Bool().Draw(t, "zone") {
			j.FromLux, j.ToLux = 10, 1000
		}
		if a, b := j.Merge(dim, gone), j.Merge(gone, bright); !same(a, dim) || !same(b, bright) {
			t.Fatalf("alone %+v gives %+v, %+v gives %+v", dim, a, bright, b)
		}
		r := j.Merge(dim, bright)
		numbers := oneIf(dim.Status == OK) + oneIf(bright.Status == OK)
		switch {
		case numbers > 0 && r.Status != OK:
			t.Fatalf("%+v of %+v and %+v: a bound beat a number", r, dim, bright)
		case numbers == 1 && r != dim && r != bright:
			t.Fatalf("%+v of %+v and %+v", r, dim, bright)
		case numbers == 2 && !(r.Lux >= math.Min(dim.Lux, bright.Lux)*(1-1e-12) && r.Lux <= math.Max(dim.Lux, bright.Lux)*(1+1e-12)):
			t.Fatalf("%+v is not between %+v and %+v", r, dim, bright)
		case numbers == 2 && !(r.LuxU >= r.RandomU && r.LuxU <= math.Max(dim.LuxU, bright.LuxU)*(1+1e-9)):
			t.Fatalf("%+v is less sure than %+v and %+v", r, dim, bright)
		}
		// Kept, and with a ratio, it is still itself.
		fitted := Join{Ratio: 1.4, RatioLnU: 0.02, Kept: KeepDim, KeptLnU: 0.05, PivotLux: 100, FromLux: 10, ToLux: 1000}
		if a := fitted.Merge(dim, gone); !same(a, dim) {
			t.Fatalf("kept and alone %+v gives %+v", dim, a)
		}
		if a := fitted.Merge(gone, bright); bright.Status != Missing && !(math.Abs(a.Lux*1.4/bright.Lux-1) <= 1e-12) {
			t.Fatalf("alone %+v gives %+v on the other's scale", bright, a)
		}
	})
}

func TestJoinBounds(t *testing.T) {
	at := func(s Status, lux float64) Reading { return Reading{Lux: lux, LuxU: lux / 10, Status: s} }
	for name, r := range map[string]struct {
		dim, bright Reading
		status      Status
		lux         float64
	}{
		"both dark":      {at(TooDark, 0.1), at(TooDark, 20), TooDark, 0.1},
		"both bright":    {at(Saturated, 4e3), at(Saturated, 2e5), Saturated, 2e5},
		"in a gap":       {at(Saturated, 10), at(TooDark, 20), Saturated, 10},
		"contradiction":  {at(Saturated, 30), at(TooDark, 20), Missing, math.NaN()},
		"contradiction2": {at(TooDark, 0.1), at(Saturated, 2e5), Missing, math.NaN()},
		"a number wins":  {at(TooDark, 0.1), at(OK, 500), OK, 500},
	} {
		got := Join{}.Merge(r.dim, r.bright)
		if got.Status != r.status || r.status != Missing && got.Lux != r.lux {
			t.Errorf("%s: %+v, want %v %g", name, got, r.status, r.lux)
		}
	}
}

// The joined noise is what it says, and never more than the better sensor's by much.
func TestJoinNoise(t *testing.T) {
	w := newTwins(t, 1.25, 0.01)
	dim, bright := w.dusk(1000, none)
	j, err := FitJoin(dim, bright, JoinOptions{})
	require.NoError(t, err)
	rng := rand.New(rand.NewPCG(8, 8))
	for _, lux := range []float64{1, 50, 200, 800, 3000, 50e3} {
		centre := j.Merge(w.read(lux, 0, 0))
		squares := 0.0
		const trials = 4000 // to 1.1 %
		for range trials {
			r := j.Merge(w.read(lux, rng.Float64()-0.5, rng.Float64()-0.5)) // rounding
			squares += square(r.Lux-centre.Lux) / trials
		}
		if got := math.Sqrt(squares) / centre.RandomU; !(math.Abs(got-1) <= 0.06) { // four of that, and the weights' own noise
			t.Errorf("%g lx: joined scatter %.3f of RandomU", lux, got)
		}
	}
}

// Both calibrated by one meter of 5 %: that part is not averaged down, the rest is.
func TestJoinCommon(t *testing.T) {
	d, b := Reading{Lux: 100, LuxU: 10}, Reading{Lux: 100, LuxU: 10}
	for shared, want := range map[float64]float64{0: 10 / math.Sqrt2, 0.05: math.Sqrt(25 + 75/2.), 0.1: 10} { // by hand, weights a half
		if got := (Join{SharedLnU: shared}).Merge(d, b); !(math.Abs(got.LuxU-want) <= 1e-9) || got.Lux != 100 {
			t.Errorf("shared %g: %+v, want u %.6f", shared, got, want)
		}
	}
	// On one scale both have its 4 %, and the ratio's 3 % by the part of the other.
	j := Join{Ratio: 1, RatioLnU: 0.03, Kept: KeepDim, KeptLnU: 0.04, PivotLux: 100}
	kept := Reading{Lux: 100, LuxU: 5, RandomU: 3}
	r := j.Merge(kept, Reading{Lux: 100, LuxU: 30, RandomU: 4})
	p := (1 / 9.) / (1/9. + 1/25.) // 3^2 and 4^2+3^2
	if want := math.Sqrt(square(3*p) + square(4*(1-p)) + square(4) + square(3*(1-p))); !(math.Abs(r.LuxU-want) <= 1e-6) {
		t.Errorf("on one scale: %+v, want u %.6f", r, want)
	}
	// Away from the middle the tilt adds: ln 10 of it at 1000 lx.
	j.Tilt, j.TiltU = 0.03, 0.04
	if r := j.Merge(Reading{Status: Missing}, Reading{Lux: 1000}); !(math.Abs(r.LuxU/1000-math.Sqrt(0.04*0.04+0.03*0.03+square(0.05*math.Ln10))) <= 1e-9) {
		t.Errorf("far from the middle: %+v", r)
	}
}
