package sensor

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Code for light: the published codes are cut, ours are not rounded.
func TestDividerCodes(t *testing.T) {
	c := compile(t, bench(CellOnTop))
	for _, r := range []struct {
		lux, volts, code, perCode float64 // lx, V, code, light a code as a fraction
	}{
		{10, 0.3000, 372, 0.0042},
		{1000, 2.3603, 2929, 0.0017},
		{10e3, 3.0572, 3794, 0.0051},
		{100e3, 3.2485, 4032, 0.0227},
	} { // source: computed for this circuit of common practice, V = Vcc RL/(RL + R), N = 4096
		counts := c.Counts(r.lux)
		if got := math.Floor(counts); got != r.code {
			t.Errorf("%g lx: code %.2f, want %.0f", r.lux, counts, r.code)
		}
		s := c.Steps(counts)
		if !(math.Abs(s.Volts-r.volts) <= 0.5e-4) {
			t.Errorf("%g lx: %.5f V, want %.4f", r.lux, s.Volts, r.volts)
		}
		// Rounding alone is 1/sqrt 12 of a code. The tolerance is half the last digit.
		if got := s.Reading.RandomU * math.Sqrt(12) / s.Reading.Lux; !(math.Abs(got-r.perCode) <= 0.5e-4) {
			t.Errorf("%g lx: %.3f %% a code, want %.2f %%", r.lux, 100*got, 100*r.perCode)
		}
	}
}

func TestDividerVolts(t *testing.T) {
	c := compile(t, bench(CellOnTop))
	for _, r := range []struct{ ohms, volts, code, tol float64 }{
		{20e3, 0.15714, 195, 0.5e-5},
		{1e3, 1.65, 2048, 1e-9}, // midpoint: half of 4096
		{100, 3.000, 3723, 0.5e-3},
	} { // source: the same circuit of common practice; codes cut
		counts := c.Counts(bench(CellOnTop).Divider.Cell.Lux(r.ohms))
		if got := math.Floor(counts + 1e-9); got != r.code { // a hair for the midpoint's last bit
			t.Errorf("%g ohm: code %.2f, want %.0f", r.ohms, got, r.code)
		}
		s := c.Steps(counts)
		if !(math.Abs(s.Volts-r.volts) <= r.tol) || !(math.Abs(s.Ohms/r.ohms-1) <= 1e-12) {
			t.Errorf("%g ohm: %.6f V %.6f ohm, want %.5f V", r.ohms, s.Volts, s.Ohms, r.volts)
		}
		if want := 3.3 / (1000 + r.ohms); !(math.Abs(s.Amperes/want-1) <= 1e-12) {
			t.Errorf("%g ohm: %.6g A, want %.6g by Ohm's law round the loop", r.ohms, s.Amperes, want)
		}
	}
}

// Swing between two resistances with the load at their geometric mean, as a
// fraction of the supply: (s-1)/(s+1) with s the root of their ratio.
func TestDividerSwing(t *testing.T) {
	for _, r := range []struct{ ratio, swing float64 }{
		{10, 0.519494}, {100, 0.818182}, {1000, 0.938693}, {10000, 0.980198},
	} { // source: closed form, computed to 6 digits
		c := bench(CellOnTop)
		least := 100.0
		c.Divider.LoadOhm = least * math.Sqrt(r.ratio)
		conv := compile(t, c)
		cell := c.Divider.Cell
		// In shares: the light may be beyond what the cell is good for.
		got := conv.law.share(cell.Lux(least)) - conv.law.share(cell.Lux(least*r.ratio))
		if !(math.Abs(got-r.swing) <= 0.5e-6) {
			t.Errorf("ratio %g: swing %.7f, want %.6f", r.ratio, got, r.swing)
		}
	}
}

// One count tells most where the cell equals the load: dV/d ln E = Vcc gamma/4.
func TestDividerBestResolution(t *testing.T) {
	c := bench(CellOnTop)
	conv := compile(t, c)
	equal := conv.Counts(c.Divider.Cell.Lux(1000))
	best := conv.Lux(equal)
	relative := func(r Reading) float64 { return r.RandomU / r.Lux }
	if want := 4 / (0.7 * 4096) / math.Sqrt(12); !(math.Abs(relative(best)/want-1) <= 1e-12) {
		t.Errorf("%.4g a count at best, want %.4g", relative(best), want)
	}
	for _, off := range []float64{-200, 200} {
		if worse := conv.Lux(equal + off); !(relative(worse) > relative(best)) {
			t.Errorf("%g counts off is better: %g", off, relative(worse))
		}
	}
}

// An input of 1 Mohm across 1 kohm makes the cell look 0.1 % larger to who ignores it.
func TestDividerLoading(t *testing.T) {
	c := bench(CellOnTop)
	plain := compile(t, c)
	c.ADC.InputOhm = 1e6
	loaded := compile(t, c)
	counts := loaded.Counts(500)
	if got := plain.Steps(counts).Ohms/c.Divider.Cell.Ohms(500) - 1; !(math.Abs(got-0.001) <= 1e-9) {
		t.Errorf("cell looks %.6f %% larger, want 0.1 %%: the factor is 1 + RL/Rin", 100*got)
	}
	if got := loaded.Lux(counts).Lux; !(math.Abs(got-500) <= 1e-9) {
		t.Errorf("%.12f lx, want 500", got)
	}
}

// circuit solves the divider by Ohm's law with every resistor in its place: the
// second method to the law's substitutions.
func circuit(c Chain, lux float64) (counts, volts, cell float64) {
	beside := func(a, b float64) float64 { return a * b / (a + b) }
	d := c.Divider
	cell = d.Cell.R10Ohm * math.Pow(lux/10, -d.Cell.Gamma)
	if d.Cell.DarkOhm > 0 {
		cell = beside(cell, d.Cell.DarkOhm)
	}
	upper, lower := cell, d.LoadOhm
	if d.Wiring == CellAtBottom {
		upper, lower = lower, upper
	}
	if c.ADC.InputOhm > 0 {
		lower = beside(lower, c.ADC.InputOhm)
	}
	volts = d.SupplyV * lower / (upper + lower)
	reference := c.ADC.ReferenceV
	if c.ADC.Ratiometric {
		reference = d.SupplyV
	}
	gain := c.ADC.Gain
	if gain == 0 {
		gain = 1
	}
	return c.ADC.OffsetCounts + gain*math.Pow(2, float64(c.ADC.Bits))*volts/reference, volts, cell
}

func TestDividerAgainstOhmsLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawDivider(t)
		conv, err := c.Compile()
		if err != nil {
			t.Skip(err) // blind
		}
		lux := math.Pow(10, rapid.Float64Range(-1, 5).Draw(t, "log10 lux"))
		counts, volts, cell := circuit(c, lux)
		if !(math.Abs(conv.unclipped(lux)-counts) <= 1e-9*(1+math.Abs(counts))) {
			t.Fatalf("%g lx: %.9f counts, the circuit makes %.9f", lux, conv.unclipped(lux), counts)
		}
		s := conv.Steps(counts)
		if s.Reading.Status != OK {
			return
		}
		// Cancellation next to darkness costs digits in proportion to what is left.
		tol := 1e-9 * (1 + s.Reading.RandomU/s.Reading.Lux*conv.full)
		if !(math.Abs(s.Reading.Lux/lux-1) <= tol && math.Abs(s.Volts/volts-1) <= 1e-9 && math.Abs(s.Ohms/cell-1) <= tol) {
			t.Fatalf("%g lx, %g V, %g ohm: %+v", lux, volts, cell, s)
		}
	})
}

// drawDivider makes any sensible divider.
func drawDivider(t *rapid.T) Chain {
	log := func(name string, low, high float64) float64 {
		return math.Pow(10, rapid.Float64Range(low, high).Draw(t, name))
	}
	w := rapid.SampledFrom([]Wiring{CellOnTop, CellAtBottom}).Draw(t, "wiring")
	c := Chain{
		ADC: ADC{Bits: rapid.IntRange(8, 18).Draw(t, "bits"), ReferenceV: 3.3, Ratiometric: rapid.Bool().Draw(t, "ratiometric"),
			OffsetCounts: rapid.Float64Range(-20, 20).Draw(t, "offset"), Gain: rapid.Float64Range(0.9, 1.1).Draw(t, "gain")},
		Divider: &Divider{Wiring: w, SupplyV: 3.3, LoadOhm: log("log10 load", 1.5, 6),
			Cell: Photoresistor{R10Ohm: log("log10 R10", 3, 5), Gamma: rapid.Float64Range(0.4, 1).Draw(t, "gamma")}},
	}
	if !c.ADC.Ratiometric {
		c.ADC.ReferenceV = rapid.Float64Range(1, 5).Draw(t, "reference")
	}
	if rapid.Bool().Draw(t, "dark") {
		c.Divider.Cell.DarkOhm = log("log10 dark", 5.5, 8)
	}
	if rapid.Bool().Draw(t, "input") {
		c.ADC.InputOhm = log("log10 input", 4, 8)
	}
	return c
}

// What the tap shows with the cell on top is what is missing from the supply with
// the cell at the bottom: with a ratiometric converter and an input that loads
// nothing the codes add up to 2^Bits, and both read the same.
func TestWiringsMirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawDivider(t)
		c.ADC = ADC{Bits: c.ADC.Bits, Ratiometric: true}
		bottom := *c.Divider
		c.Divider.Wiring, bottom.Wiring = CellOnTop, CellAtBottom
		mirrored := Chain{ADC: c.ADC, Divider: &bottom}
		up, err := c.Compile()
		if err != nil {
			t.Skip(err)
		}
		down, err := mirrored.Compile()
		if err != nil {
			t.Fatalf("readable on top only: %v", err)
		}
		// Not at the very ends: on top the last code is one short of full scale.
		counts := rapid.Float64Range(2, up.full-2).Draw(t, "counts")
		a, b := up.Lux(counts), down.Lux(up.full-counts)
		near := func(x, y float64) bool { return math.Abs(x-y) <= 1e-7*math.Max(math.Abs(x), math.Abs(y)) }
		if a.Status != b.Status || !near(a.Lux, b.Lux) || !near(a.RandomU, b.RandomU) || !near(a.LuxU, b.LuxU) {
			t.Fatalf("%g counts on top %+v, %g at the bottom %+v", counts, a, up.full-counts, b)
		}
	})
}
