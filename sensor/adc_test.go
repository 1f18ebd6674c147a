package sensor

import (
	"math"
	"math/rand/v2"
	"testing"
)

// 3.3 V, 12 bit: a step of 0.805664 mV, rounding of 0.232575 mV.
func TestRounding(t *testing.T) {
	a := ADC{Bits: 12, ReferenceV: 3.3}
	step := 1e3 * a.ReferenceV / a.codes()
	if !(math.Abs(step-0.805664) <= 0.5e-6) {
		t.Errorf("step %.7f mV, want 0.805664", step)
	}
	if got := step * a.readU(); !(math.Abs(got-0.232575) <= 0.5e-6) {
		t.Errorf("rounding %.7f mV, want 0.232575 (Bennett 1948: q/sqrt 12)", got)
	}
}

// Averaging divides noise by sqrt n, and rounding too if there is noise enough to
// dither it; otherwise every one of the n readings is wrong by the same part of a code.
func TestAveraging(t *testing.T) {
	for _, r := range []struct {
		name string
		adc  ADC
		want float64 // counts
	}{
		{"one", ADC{}, math.Sqrt(1. / 12)},
		{"quiet", ADC{Averaged: 16}, math.Sqrt(1. / 12)},
		{"hardly noisy", ADC{Averaged: 16, NoiseCounts: 0.4}, math.Sqrt(0.16/16 + 1./12)},
		{"noisy", ADC{Averaged: 16, NoiseCounts: 2}, math.Sqrt((4 + 1./12) / 16)},
		{"rounded again", ADC{Averaged: 16, NoiseCounts: 2, LogStepCounts: 1}, math.Sqrt((4+1./12)/16 + 1./12)},
	} { // source: sigma/sqrt n, JCGM 100 4.2.3; dither at about half a code, common practice
		if got := r.adc.readU(); !(math.Abs(got-r.want) <= 1e-12) {
			t.Errorf("%s: %.6f counts, want %.6f", r.name, got, r.want)
		}
	}
}

// A sine that fills the scale over the noise of ideal rounding: 6.0206 N + 1.7609 dB.
func TestRoundingAgainstASine(t *testing.T) {
	for bits, want := range map[int]float64{8: 49.93, 10: 61.97, 12: 74.01, 16: 98.09} { // W. R. Bennett (1948); computed to these digits
		a := ADC{Bits: bits}
		if got := 20 * math.Log10(a.codes()/math.Sqrt(8)/a.readU()); !(math.Abs(got-want) <= 0.005) {
			t.Errorf("%d bits: %.4f dB, want %.2f", bits, got, want)
		}
	}
}

// What readU says of averages holds for simulated ones: 4^k conversions give k
// bits where the noise dithers. Where it does not the mean of the squares is still a
// twelfth over all inputs, and readU is on the safe side at the dithering limit.
func TestAveragesSimulated(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	const trials = 4000 // a standard deviation to 1.1 %
	for _, r := range []struct {
		noise      float64
		n          int
		least, top float64 // scatter over readU
	}{
		{0, 16, 0.95, 1.05}, {0.5, 1, 0.95, 1.05}, {0.5, 16, 0.95, 1.05}, {0.5, 256, 0.95, 1.06}, {2, 64, 0.95, 1.05},
		{0.3, 16, 0.3, 1}, // half a count is where the noise is said to help; it begins before
	} {
		a := ADC{Averaged: r.n, NoiseCounts: r.noise}
		squares := 0.0
		for range trials {
			input, sum := 100*rng.Float64(), 0.0
			for range r.n {
				sum += math.Round(input + r.noise*rng.NormFloat64())
			}
			squares += square(sum/float64(r.n)-input) / trials
		}
		if got := math.Sqrt(squares) / a.readU(); !(got >= r.least && got <= r.top) {
			t.Errorf("noise %g, %d averaged: scatter is %.3f of what is said", r.noise, r.n, got)
		}
	}
}

// A converter that cuts reads half a code low, a library that divides by 2^N-1
// reads high by a part in 2^N; both are undone by what ADC's comment says.
func TestConventions(t *testing.T) {
	c := bench(CellOnTop)
	exact := compile(t, c)
	c.ADC.OffsetCounts = -0.5
	if a, b := exact.Lux(1000.5).Lux, compile(t, c).Lux(1000).Lux; !(math.Abs(a/b-1) <= 1e-12) {
		t.Errorf("cut: %.12g and %.12g lx", a, b)
	}
	c.ADC.OffsetCounts, c.ADC.Gain = 0, 1-math.Exp2(-12)
	if a, b := exact.Lux(1000*4096./4095).Lux, compile(t, c).Lux(1000).Lux; !(math.Abs(a/b-1) <= 1e-12) {
		t.Errorf("2^N-1: %.12g and %.12g lx", a, b)
	}
}

func TestDeadZones(t *testing.T) {
	for _, tt := range []struct {
		name             string
		low, high        float64
		dead, live, last float64 // counts: dead below, first and last believed
	}{
		{"usual 2 %", 0, 0, 81, 82, 4014},
		{"three tenths of a volt", 0.1, 0.05, 409, 410, 3891},
		{"end codes only", 1e-9, 1e-9, 0, 1, 4094},
	} { // source: 4096 times the fractions
		for _, w := range []Wiring{CellOnTop, CellAtBottom} {
			c := bench(w)
			c.ADC.DeadLow, c.ADC.DeadHigh = tt.low, tt.high
			c.Divider.Cell.MaxLux, c.Divider.LoadOhm = 1e6, 1e5 // so that the cell is not what ends it
			conv := compile(t, c)
			atLow, atHigh := TooDark, Saturated
			if w == CellAtBottom {
				atLow, atHigh = atHigh, atLow
			}
			for counts, want := range map[float64]Status{-5: atLow, tt.dead: atLow, tt.live: OK, 2000: OK, tt.last: OK, tt.last + 1: atHigh, 4095: atHigh, 9999: atHigh} {
				if got := conv.Lux(counts); got.Status != want {
					t.Errorf("%s %s: %g counts %v, want %v", tt.name, w, counts, got.Status, want)
				}
			}
		}
	}
}
