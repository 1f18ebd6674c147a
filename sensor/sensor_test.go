package sensor

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// bench is the example of common practice in testdata/references' source notes:
// 10 kohm at 10 lx, gamma 0.7, 1 kohm load, 3.3 V, 12 bit.
func bench(top bool) Chain {
	return Chain{
		ADC:     ADC{Bits: 12, ReferenceV: 3.3, RailFraction: 0.001},
		Divider: &Divider{SupplyV: 3.3, LoadOhm: 1000, CellOnTop: top, Cell: Photoresistor{R10Ohm: 10e3, Gamma: 0.7}},
	}
}

func compile(t testing.TB, c Chain) *Converter {
	t.Helper()
	out, err := c.Compile()
	require.NoError(t, err)
	return out
}

// Divider, photoresistor and 12-bit converter worked through by hand: code for
// light, and light per code.
func TestDividerWorkedExample(t *testing.T) {
	c := compile(t, bench(true))
	for _, r := range []struct{ lux, code, perCode float64 }{
		{10, 372, 0.0042},
		{1000, 2929, 0.0017},
		{10e3, 3794, 0.0051},
		{100e3, 4032, 0.0227},
	} {
		if got := c.Counts(r.lux); math.Floor(got) != r.code { // a converter cuts
			t.Errorf("%g lx: code %.2f, want %.0f", r.lux, got, r.code)
		}
		back := c.Lux(c.Counts(r.lux))
		if !(math.Abs(back.Lux/r.lux-1) < 1e-9) || back.Status != OK {
			t.Errorf("%g lx came back as %+v", r.lux, back)
		}
		perCode := back.RandomU * math.Sqrt(12) / back.Lux
		if !(math.Abs(perCode-r.perCode) <= 0.00006) {
			t.Errorf("%g lx: %.3f %% a code, want %.2f %%", r.lux, 100*perCode, 100*r.perCode)
		}
	}
}

func TestDividerVolts(t *testing.T) {
	c := compile(t, bench(true))
	for _, r := range []struct{ ohms, code float64 }{{20e3, 195}, {1e3, 2048}, {100, 3723.6}} {
		lux := 10 * math.Pow(10e3/r.ohms, 1/0.7)
		if got := c.Counts(lux); !(math.Abs(got-r.code) <= 0.6) {
			t.Errorf("%g ohm: code %.1f, want %.1f", r.ohms, got, r.code)
		}
	}
}

// Points read off a catalogue: resistance at 1 and 100 lx gives gamma.
func TestCataloguePoints(t *testing.T) {
	f, err := os.Open("../testdata/references/cds_catalogue_points.csv")
	require.NoError(t, err)
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Equal(t, []string{"set", "cell", "R_at_1_lx_kohm", "R_at_100_lx_kohm", "gamma"}, all[0])
	n := 0
	for _, r := range all[1:] {
		var v [3]float64
		for i := range v {
			v[i], err = strconv.ParseFloat(r[i+2], 64)
			require.NoError(t, err)
		}
		// k ohm at 1 lx, at 100 lx, gamma
		n++
		gamma := math.Log10(v[0]/v[1]) / 2
		cell := Photoresistor{R10Ohm: 1000 * math.Sqrt(v[0]*v[1]), Gamma: gamma}
		if got := cell.Resistance(1) / 1000; !(math.Abs(got/v[0]-1) < 1e-9) {
			t.Errorf("%v: %.3f kohm at 1 lx", r, got)
		}
		if !(math.Abs(gamma-v[2]) < 6e-5) {
			t.Errorf("%v: gamma %.5f, want %.4f", r, gamma, v[2])
		}
	}
	if n < 5 {
		t.Errorf("%d points", n)
	}
}

// Saturation of a phototransistor, E = (Vcc - Vsat)/(S R), Vcc 3.3 V, 0.4 V, 0.5 uA/lx.
func TestPhototransistorSaturation(t *testing.T) {
	for _, r := range []struct{ ohms, lux float64 }{{10e3, 580}, {1e3, 5800}, {220, 26364}, {100, 58000}, {58, 100000}} {
		c := compile(t, Chain{
			ADC:             ADC{Bits: 12, ReferenceV: 3.3},
			Phototransistor: &Phototransistor{SupplyV: 3.3, LoadOhm: r.ohms, AmperesPerLux: 0.5e-6, SaturationV: 0.4},
		})
		if got := c.Lux(c.Counts(r.lux * 1.5)); got.Status != Saturated || got.Lux > r.lux*1.0001 {
			t.Errorf("%g ohm in %g lx: %+v", r.ohms, 1.5*r.lux, got)
		}
		if got := c.Lux(c.Counts(r.lux * 0.9)); got.Status != OK || !(math.Abs(got.Lux/(0.9*r.lux)-1) < 1e-9) {
			t.Errorf("%g ohm in %g lx: %+v", r.ohms, 0.9*r.lux, got)
		}
	}
}

// An input of 1 Mohm across a load of 1 kohm makes the cell look 0.1 % larger
// where it is ignored.
func TestLoading(t *testing.T) {
	loaded := bench(true)
	loaded.ADC.InputOhm = 1e6
	counts := compile(t, loaded).Counts(500)
	plain := compile(t, bench(true))
	r := func(lux float64) float64 { return 10e3 * math.Pow(lux/10, -0.7) }
	if got := r(plain.Lux(counts).Lux)/r(500) - 1; !(math.Abs(got-0.001) < 1e-6) {
		t.Errorf("cell looks %.4f %% larger, want 0.1 %%", 100*got)
	}
	if got := compile(t, loaded).Lux(counts).Lux; !(math.Abs(got-500) < 1e-6) {
		t.Errorf("%.6f lx, want 500", got)
	}
}

// A load with a tolerance of 5 % is a rectangular distribution: 5/sqrt 3 % in
// ohms and that over gamma in light, the same for all readings.
func TestCommonUncertainty(t *testing.T) {
	c := bench(true)
	c.Divider.ToleranceFraction = 0.05
	conv := compile(t, c)
	for _, lux := range []float64{10, 100, 1000} {
		r := conv.Lux(conv.Counts(lux))
		common := math.Sqrt(r.LuxU*r.LuxU-r.RandomU*r.RandomU) / r.Lux
		if want := 0.05 / math.Sqrt(3) / 0.7; !(math.Abs(common-want) < 1e-9) {
			t.Errorf("%g lx: common part %.5f, want %.5f", lux, common, want)
		}
	}
	// Gamma off by 0.05 of 0.65 shifts 100 klx, reckoned from 10 lx, by a factor 2.03.
	c = bench(true)
	c.Divider.Cell.Gamma, c.Divider.Cell.GammaU = 0.65, 0.05
	got := compile(t, c).law.common(100e3)
	if !(math.Abs(math.Exp(got)-2.03) < 0.01) {
		t.Errorf("factor %.3f, want 2.03", math.Exp(got))
	}
}

// Averaging divides rounding and noise by the root of the number.
func TestAveraging(t *testing.T) {
	one, many := bench(true), bench(true)
	many.ADC.Averaged = 16
	a, b := compile(t, one), compile(t, many)
	if got := a.Lux(2000).RandomU / b.Lux(2000).RandomU; !(math.Abs(got-4) < 1e-9) {
		t.Errorf("ratio %g, want 4", got)
	}
}

func TestBoundsAtTheRails(t *testing.T) {
	for _, top := range []bool{true, false} {
		c := bench(top)
		c.ADC.RailFraction = 0.02
		conv := compile(t, c)
		lo, hi := conv.Lux(3), conv.Lux(4093)
		if !top {
			lo, hi = hi, lo
		}
		if lo.Status != TooDark || hi.Status != Saturated || !(lo.Lux < hi.Lux) {
			t.Errorf("cell on top %v: rails read %+v and %+v", top, lo, hi)
		}
	}
}

func chains() []Chain {
	dark := bench(true)
	dark.Divider.Cell.DarkOhm = 1e6
	dark.ADC.InputOhm = 1e6
	bottom := bench(false)
	bottom.Divider.Cell.DarkOhm = 2e6
	bottom.ADC.InputOhm = 1e7
	return []Chain{
		bench(true), bench(false), dark, bottom,
		{ADC: ADC{Bits: 16, ReferenceV: 5, Ratiometric: true, OffsetCounts: 40, Gain: 1.01}, Divider: bench(true).Divider},
		{ADC: ADC{Bits: 10, ReferenceV: 3.3}, Phototransistor: &Phototransistor{SupplyV: 3.3, LoadOhm: 470, AmperesPerLux: 0.5e-6, SaturationV: 0.3}},
		{Digital: &Digital{LuxPerCount: 1, MaxCounts: 120000}},
		{Digital: &Digital{LuxPerCount: 0.8, MaxCounts: 65535, ScaleU: 0.1}},
	}
}

func TestRoundTrip(t *testing.T) {
	var convs []*Converter
	for _, c := range chains() {
		convs = append(convs, compile(t, c))
	}
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(convs).Draw(t, "chain")
		lux := math.Pow(10, rapid.Float64Range(-1, 5.1).Draw(t, "log lux"))
		r := c.Lux(c.Counts(lux))
		switch r.Status {
		case OK:
			if !(math.Abs(r.Lux/lux-1) < 1e-6) {
				t.Fatalf("%g lx came back as %g", lux, r.Lux)
			}
			if !(r.LuxU >= r.RandomU && r.RandomU > 0) {
				t.Fatalf("uncertainties %+v", r)
			}
		case TooDark:
			if !(lux <= r.Lux*1.000001) {
				t.Fatalf("%g lx reads as at most %g", lux, r.Lux)
			}
		case Saturated:
			if !(lux >= r.Lux*0.999999) {
				t.Fatalf("%g lx reads as at least %g", lux, r.Lux)
			}
		}
	})
}

func TestMonotone(t *testing.T) {
	for i, c := range chains() {
		conv := compile(t, c)
		last := -1.0
		for k := 0.0; k < conv.counts; k += conv.counts / 500 {
			r := conv.Lux(conv.offset + k*conv.gain)
			if !conv.rising {
				r = conv.Lux(conv.offset + (conv.counts-1-k)*conv.gain)
			}
			if !(r.Lux >= last) {
				t.Errorf("chain %d: light falls to %g at count %g", i, r.Lux, k)
			}
			last = r.Lux
		}
	}
}

func TestRefusals(t *testing.T) {
	for name, c := range map[string]Chain{
		"nothing":       {},
		"two sensors":   {Digital: &Digital{LuxPerCount: 1, MaxCounts: 100}, Phototransistor: &Phototransistor{}},
		"no load":       {ADC: ADC{Bits: 12, ReferenceV: 3.3}, Divider: &Divider{SupplyV: 3.3, Cell: Photoresistor{R10Ohm: 1e4, Gamma: 0.7}}},
		"gamma NaN":     {ADC: ADC{Bits: 12, ReferenceV: 3.3}, Divider: &Divider{SupplyV: 3.3, LoadOhm: 1e3, Cell: Photoresistor{R10Ohm: 1e4, Gamma: math.NaN()}}},
		"no bits":       {ADC: ADC{ReferenceV: 3.3}, Divider: bench(true).Divider},
		"infinite load": {ADC: ADC{Bits: 12, ReferenceV: 3.3}, Phototransistor: &Phototransistor{SupplyV: 3.3, LoadOhm: math.Inf(1), AmperesPerLux: 1e-6}},
	} {
		_, err := c.Compile()
		var part *PartError
		if !errors.As(err, &part) && !errors.Is(err, ErrNoPart) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestChainJSON(t *testing.T) {
	for _, c := range chains() {
		data, err := json.Marshal(c)
		require.NoError(t, err)
		var back Chain
		require.NoError(t, json.Unmarshal(data, &back))
		a, b := compile(t, c), compile(t, back)
		if x, y := a.Lux(a.Counts(300)), b.Lux(b.Counts(300)); x != y {
			t.Errorf("%s: %+v and %+v", data, x, y)
		}
	}
}

func FuzzChain(f *testing.F) {
	f.Add(1000.0, 1e4, 0.7, 2000.0, true, 0.0, 0.0)
	f.Add(47.0, 2e4, 0.6, 4095.0, false, 1e6, 1e6)
	f.Fuzz(func(t *testing.T, load, r10, gamma, counts float64, top bool, dark, input float64) {
		c := bench(top)
		c.Divider.LoadOhm, c.Divider.Cell.R10Ohm, c.Divider.Cell.Gamma = load, r10, gamma
		c.Divider.Cell.DarkOhm, c.ADC.InputOhm = dark, input
		conv, err := c.Compile()
		if err != nil || math.IsNaN(counts) {
			return
		}
		r := conv.Lux(counts)
		if math.IsNaN(r.Lux) || r.Lux < 0 || r.Status == OK && !(r.LuxU >= 0) {
			t.Fatalf("%g counts of %+v read %+v", counts, c, r)
		}
	})
}

func BenchmarkConvert(b *testing.B) {
	c := bench(true)
	c.Divider.ToleranceFraction, c.Divider.Cell.DarkOhm = 0.05, 1e6
	conv := compile(b, c)
	rng := rand.New(rand.NewPCG(1, 2))
	var counts [4096]float64
	for i := range counts {
		counts[i] = 100 + 3800*rng.Float64()
	}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		conv.Lux(counts[i&4095])
		i++
	}
}
