package sensor

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// A light comes back from its count as itself or as a bound that holds.
func TestRoundTripLux(t *testing.T) {
	for name, c := range chains() {
		conv := compile(t, c)
		rapid.Check(t, func(t *rapid.T) {
			lux := math.Pow(10, rapid.Float64Range(-2, 5.5).Draw(t, "log10 lux"))
			r := conv.Lux(conv.Counts(lux))
			tol := 1e-9 // a thousand times what counting to 2^12 in doubles leaves beside darkness
			switch {
			case r.Status == OK && !(math.Abs(r.Lux/lux-1) <= tol),
				r.Status == TooDark && !(lux <= r.Lux*(1+tol)),
				r.Status == Saturated && !(lux >= r.Lux*(1-tol)),
				r.Status == Missing:
				t.Fatalf("%s: %g lx came back as %+v", name, lux, r)
			}
		})
	}
}

// A count comes back from its light, over the whole readable range.
func TestRoundTripCounts(t *testing.T) {
	for name, c := range chains() {
		conv := compile(t, c)
		rapid.Check(t, func(t *rapid.T) {
			counts := rapid.Float64Range(conv.low, conv.high).Draw(t, "counts")
			r := conv.Lux(counts)
			if r.Status != OK || !(r.LuxU >= r.RandomU && r.RandomU > 0 && r.CommonU() >= 0) {
				t.Fatalf("%s: %g counts read %+v", name, counts, r)
			}
			if back := conv.Counts(r.Lux); !(math.Abs(back-counts) <= 1e-9*conv.last) {
				t.Fatalf("%s: %.12g counts, %g lx, came back as %.12g", name, counts, r.Lux, back)
			}
		})
	}
}

// Either way more light is more light, bounds included, and a bound is never
// above the least number or below the greatest.
func TestMonotone(t *testing.T) {
	for name, c := range chains() {
		conv := compile(t, c)
		last := Reading{Lux: -1}
		for k := -10; k <= 4106; k++ {
			counts := float64(k) / 4096 * conv.last
			if !conv.law.rising() {
				counts = conv.last - counts
			}
			r := conv.Lux(counts)
			if !(r.Lux >= last.Lux) {
				t.Errorf("%s: light falls from %+v to %+v at %g counts", name, last, r, counts)
			}
			last = r
		}
		previous := conv.Counts(0)
		for e := -3.0; e < 7; e += 0.01 {
			counts := conv.Counts(math.Pow(10, e))
			if up := counts - previous; up < 0 == conv.law.rising() && up != 0 {
				t.Errorf("%s: counts turn at 10^%.2f lx", name, e)
			}
			previous = counts
		}
	}
}

func TestBounds(t *testing.T) {
	for name, c := range chains() {
		conv := compile(t, c)
		least, greatest := conv.Range()
		if !(0 < least && least < greatest && greatest <= 200e3*(1+1e-9)) {
			t.Errorf("%s: reads %g to %g lx", name, least, greatest)
		}
		dark, bright := conv.Lux(conv.Counts(0)), conv.Lux(conv.Counts(1e9))
		if dark.Status != TooDark || dark.Lux != least || dark.RandomU != 0 {
			t.Errorf("%s: darkness reads %+v, want at most %g lx", name, dark, least)
		}
		if bright.Status != Saturated || bright.Lux != greatest || bright.RandomU != 0 {
			t.Errorf("%s: 10^9 lx read %+v, want at least %g lx", name, bright, greatest)
		}
		missing := conv.Lux(math.NaN())
		if missing.Status != Missing || !math.IsNaN(missing.Lux) || !math.IsNaN(conv.Counts(math.NaN())) {
			t.Errorf("%s: no count reads %+v", name, missing)
		}
		for _, inf := range []float64{math.Inf(1), math.Inf(-1)} {
			if r := conv.Lux(inf); r != dark && r != bright {
				t.Errorf("%s: %g counts read %+v", name, inf, r)
			}
		}
	}
}

// Within a count of what darkness reads nothing is light, wherever darkness is.
func TestDarkness(t *testing.T) {
	for _, w := range []Wiring{CellOnTop, CellAtBottom} {
		c := bench(w)
		c.Divider.LoadOhm, c.Divider.Cell.DarkOhm = 1e5, 3e5
		conv := compile(t, c)
		dark, toLight := 1024.0, 1.0 // load over load and dark: a quarter of 4096
		if w == CellAtBottom {
			dark, toLight = 3072, -1
		}
		for _, r := range []struct {
			beyond float64 // counts from darkness towards light
			status Status
		}{{-500, TooDark}, {0, TooDark}, {0.99, TooDark}, {1.01, OK}, {500, OK}} {
			got := conv.Lux(dark + toLight*r.beyond)
			if got.Status != r.status || !(got.Lux > 0) {
				t.Errorf("%s, %g counts lighter than dark: %+v, want %v", w, r.beyond, got, r.status)
			}
		}
	}
}

// What is open about darkness itself, or about the end of the scale, blurs both ends:
// three standard uncertainties of it are no number. Noise does not count.
func TestTellable(t *testing.T) {
	for name, r := range map[string]struct {
		spoil     func(*Chain)
		low, high float64 // counts, by hand from 0, or a quarter, and 4096
	}{
		"offset":         {func(c *Chain) { c.ADC.OffsetU = 10 }, 30, 4096 - 30},
		"noise":          {func(c *Chain) { c.ADC.NoiseCounts = 10 }, 1, 4094.5},
		"nonlinearity":   {func(c *Chain) { c.ADC.NonlinearityCounts = 10 * math.Sqrt(3) }, 30, 4096 - 30},
		"gain":           {func(c *Chain) { c.ADC.GainLnU = 0.01 }, 1, 4096 * 0.97},
		"dark ohms":      {func(c *Chain) { c.Divider.Cell.DarkOhm, c.Divider.Cell.DarkLnU = 3000, 0.1 }, 1024 + 3*0.1*0.75*1024, 4094.5},
		"load and dark":  {func(c *Chain) { c.Divider.Cell.DarkOhm, c.Divider.LoadTolerance = 3000, 0.05 }, 1024 + math.Sqrt(3)*0.05*0.75*1024, 4094.5},
		"load, no dark":  {func(c *Chain) { c.Divider.LoadTolerance = 0.05 }, 1, 4094.5},
		"supply, fixed":  {func(c *Chain) { c.ADC.Ratiometric, c.ADC.ReferenceV, c.Divider.SupplyU = false, 3.3, 0.033 }, 1, 4096 * 0.97},
		"supply, shared": {func(c *Chain) { c.Divider.SupplyU = 0.033 }, 1, 4094.5},
	} {
		for _, w := range []Wiring{CellOnTop, CellAtBottom} {
			c := bench(w)
			c.Divider.Cell.MaxLux, c.Divider.Cell.R10Ohm = 1e6, 10 // whose end is far up the scale
			r.spoil(&c)
			conv := compile(t, c)
			low, high := r.low, r.high
			if w == CellAtBottom {
				low, high = 4096-r.high, math.Min(4096-r.low, 4094.5)
				if name == "gain" || name == "supply, fixed" { // endless light is then 0 counts of any scale
					low, high = 0.5, 4096*0.97
				}
				if r.high == 4094.5 { // the end code: only rounding keeps off it
					low = 0.5
				}
			}
			if !(math.Abs(conv.low-low) <= 1e-6) || !(math.Abs(conv.high-high) <= 1e-6) {
				t.Errorf("%s, %s: reads %.4f to %.4f counts, want %.4f to %.4f", name, w, conv.low, conv.high, low, high)
			}
		}
	}
}

// Where the reading is a bound, so are the steps before it.
func TestStepsOfABound(t *testing.T) {
	for name, c := range chains() {
		conv := compile(t, c)
		for _, r := range []struct{ beyond, end float64 }{{conv.low - 1, conv.low}, {conv.high + 1, conv.high}} {
			got, want := conv.Steps(r.beyond), conv.Steps(r.end)
			if got.Volts != want.Volts || got.Ohms != want.Ohms || got.Amperes != want.Amperes || got.Reading.Status == OK || got.Reading.Lux != want.Reading.Lux {
				t.Errorf("%s: %+v beyond the end, %+v at it", name, got, want)
			}
		}
		if s := conv.Steps(math.NaN()); s.Reading.Status != Missing || c.Digital == nil && !math.IsNaN(s.Volts) {
			t.Errorf("%s: %+v from no count", name, s)
		}
	}
}

// A stated limit of the cell's law is a bound before the rail is.
func TestMaxLux(t *testing.T) {
	for _, w := range []Wiring{CellOnTop, CellAtBottom} {
		c := bench(w)
		c.Divider.Cell.MaxLux = 2000
		conv := compile(t, c)
		if r := conv.Lux(conv.Counts(3000)); r.Status != Saturated || !(math.Abs(r.Lux-2000) <= 1e-6) {
			t.Errorf("%s: 3000 lx read %+v, want at least 2000", w, r)
		}
		if r := conv.Lux(conv.Counts(1999)); r.Status != OK {
			t.Errorf("%s: 1999 lx read %+v", w, r)
		}
	}
}

// Whatever the parts and the count, a number is a number: no NaN, nothing below
// zero, and what is called OK is inside the range with a sound uncertainty.
func FuzzChain(f *testing.F) {
	f.Add(1000.0, 1e4, 0.7, 2000.0, true, 0.0, 0.0, 0.0, 1.0, 12)
	f.Add(47.0, 2e4, 0.6, 4095.0, false, 1e6, 1e6, 0.0, 1.0, 12)
	f.Add(1e6, 1e5, 0.5, 3.0, false, 2e6, 1e4, -3.0, 1.02, 10)
	f.Add(10.0, 1e3, 1.4, 255.0, true, 1e4, 0.0, 5.0, 0.9, 8)
	f.Add(1e9, 1e8, 0.3, math.NaN(), true, 1e15, 1e15, -1e6, 2.0, 24)
	f.Fuzz(func(t *testing.T, load, r10, gamma, counts float64, top bool, dark, input, offset, gain float64, bits int) {
		c := real(CellAtBottom)
		if top {
			c.Divider.Wiring = CellOnTop
		}
		c.Divider.LoadOhm, c.Divider.Cell.R10Ohm, c.Divider.Cell.Gamma, c.Divider.Cell.DarkOhm = load, r10, gamma, dark
		c.ADC.InputOhm, c.ADC.OffsetCounts, c.ADC.Gain, c.ADC.Bits = input, offset, gain, bits
		conv, err := c.Compile()
		if err != nil {
			return
		}
		r := conv.Lux(counts)
		if math.IsNaN(counts) {
			if r.Status != Missing {
				t.Fatalf("no count reads %+v", r)
			}
			return
		}
		least, greatest := conv.Range()
		if !(r.Lux >= least*(1-1e-9) && r.Lux <= greatest*(1+1e-9)) || math.IsInf(r.Lux, 0) || r.Status == Missing {
			t.Fatalf("%g counts of %+v read %+v outside %g to %g", counts, *c.Divider, r, least, greatest)
		}
		if !(r.LuxU >= r.RandomU && r.RandomU >= 0) || math.IsInf(r.LuxU, 0) {
			t.Fatalf("%g counts of %+v read %+v", counts, *c.Divider, r)
		}
	})
}

// The dearest circuit, every cause of uncertainty set, counts over its whole
// readable range.
func BenchmarkConvert(b *testing.B) {
	conv := compile(b, real(CellAtBottom))
	rng := rand.New(rand.NewPCG(1, 2))
	var counts [4096]float64
	for i := range counts {
		counts[i] = conv.low + rng.Float64()*(conv.high-conv.low)
	}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		conv.Lux(counts[i&4095])
		i++
	}
}

// A day of one reading a second through the same circuit. Bounds cost a tenth of a
// number: in this day there are none.
func BenchmarkConvertDay(b *testing.B) {
	const day = 86_400
	conv := compile(b, real(CellAtBottom))
	rng := rand.New(rand.NewPCG(1, 2))
	least, greatest := conv.Range()
	counts, readings := make([]float64, day), make([]Reading, day)
	for i := range counts {
		part := 0.5 - 0.49*math.Cos(2*math.Pi*float64(i)/day) + 0.005*rng.Float64() // of the decades
		counts[i] = conv.Counts(least * math.Pow(greatest/least, part))
	}
	b.ReportAllocs()
	for b.Loop() {
		for i, c := range counts {
			readings[i] = conv.Lux(c)
		}
	}
	b.ReportMetric(b.Elapsed().Seconds()*1e3/float64(b.N), "ms/day")
	for i, r := range readings {
		if r.Status != OK {
			b.Fatalf("second %d: %+v", i, r)
		}
	}
}
