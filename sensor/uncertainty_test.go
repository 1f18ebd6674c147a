package sensor

import (
	"math"
	"testing"
)

// cause is one uncertain part of a chain: how to move it by k standard uncertainties.
type cause struct {
	name string
	move func(c *Chain, k float64)
}

func adcCauses() []cause {
	return []cause{
		{"reference", func(c *Chain, k float64) { c.ADC.ReferenceV += k * c.ADC.ReferenceU }},
		{"input", func(c *Chain, k float64) { c.ADC.InputOhm *= math.Exp(k * c.ADC.InputLnU) }},
		{"offset", func(c *Chain, k float64) { c.ADC.OffsetCounts += k * c.ADC.OffsetU }},
		{"nonlinearity", func(c *Chain, k float64) { c.ADC.OffsetCounts += k * c.ADC.NonlinearityCounts / math.Sqrt(3) }},
		{"gain", func(c *Chain, k float64) { c.ADC.Gain *= math.Exp(k * c.ADC.GainLnU) }},
	}
}

func dividerCauses() []cause {
	return append(adcCauses(),
		cause{"supply", func(c *Chain, k float64) {
			c.Divider.SupplyV += k * c.Divider.SupplyU
			if c.ADC.Ratiometric {
				c.ADC.ReferenceV = c.Divider.SupplyV
			}
		}},
		cause{"load", func(c *Chain, k float64) {
			c.Divider.LoadOhm *= math.Exp(k * c.Divider.LoadTolerance / math.Sqrt(3))
		}},
		cause{"R10", func(c *Chain, k float64) { c.Divider.Cell.R10Ohm *= math.Exp(k * c.Divider.Cell.R10LnU) }},
		cause{"gamma", func(c *Chain, k float64) { c.Divider.Cell.Gamma += k * c.Divider.Cell.GammaU }},
		cause{"dark", func(c *Chain, k float64) { c.Divider.Cell.DarkOhm *= math.Exp(k * c.Divider.Cell.DarkLnU) }},
	)
}

func transistorCauses() []cause {
	return append(adcCauses(),
		cause{"supply", func(c *Chain, k float64) {
			c.Phototransistor.SupplyV += k * c.Phototransistor.SupplyU
			if c.ADC.Ratiometric {
				c.ADC.ReferenceV = c.Phototransistor.SupplyV
			}
		}},
		cause{"load", func(c *Chain, k float64) {
			c.Phototransistor.LoadOhm *= math.Exp(k * c.Phototransistor.LoadTolerance / math.Sqrt(3))
		}},
		cause{"sensitivity", func(c *Chain, k float64) {
			c.Phototransistor.AmperesPerLux *= math.Exp(k * c.Phototransistor.AmperesPerLuxLnU)
		}},
		cause{"dark", func(c *Chain, k float64) { c.Phototransistor.DarkAmperes += k * c.Phototransistor.DarkAmperesU }},
	)
}

// correlation of two causes, by name in either order.
func (c *Chain) correlation(a, b string) float64 {
	both := map[string]float64{}
	if d := c.Divider; d != nil {
		both["R10 gamma"], both["R10 dark"], both["gamma dark"] = d.Cell.R10GammaR, d.Cell.R10DarkR, d.Cell.GammaDarkR
	} else {
		both["sensitivity dark"] = c.Phototransistor.DarkR
	}
	return both[a+" "+b] + both[b+" "+a]
}

// Every hand-made derivative against differences of the whole chain: move one
// part, compile again, read the same count.
func TestCommonUncertainty(t *testing.T) {
	ratiometric := func(c Chain) Chain {
		c.ADC.Ratiometric, c.ADC.ReferenceV, c.ADC.ReferenceU = true, 3.3, 0
		return c
	}
	photo := transistor(20e3) // large beside the input, so that the input is felt
	photo.ADC = real(CellOnTop).ADC
	p := photo.Phototransistor
	p.LoadTolerance, p.AmperesPerLuxLnU, p.SupplyU = 0.05, 0.02, 0.03
	p.DarkAmperes, p.DarkAmperesU, p.DarkR = 4e-6, 5e-7, -0.7
	calibrated := func(w Wiring) Chain {
		c := real(w)
		c.Divider.Cell.R10DarkR, c.Divider.Cell.GammaDarkR = 0.5, -0.4
		return c
	}
	// Bent by 2 % of full scale; offset and nonlinearity then move the input and not
	// the output.
	bent := calibrated(CellOnTop)
	bent.ADC.OffsetCounts, bent.ADC.Gain, bent.ADC.OffsetU, bent.ADC.NonlinearityCounts, bent.ADC.GainLnU = 0, 0, 0, 0, 0
	bent.ADC.Table = bentTable()
	for _, tt := range []struct {
		name   string
		chain  Chain
		causes []cause
	}{
		{"on top, fixed reference", real(CellOnTop), dividerCauses()},
		{"at bottom, fixed reference", real(CellAtBottom), dividerCauses()},
		{"on top, ratiometric", ratiometric(real(CellOnTop)), dividerCauses()},
		{"at bottom, ratiometric", ratiometric(real(CellAtBottom)), dividerCauses()},
		{"on top, one calibration", calibrated(CellOnTop), dividerCauses()},
		{"at bottom, one calibration", ratiometric(calibrated(CellAtBottom)), dividerCauses()},
		{"on top, a table", bent, dividerCauses()},
		{"transistor, fixed reference", photo, transistorCauses()},
		{"transistor, ratiometric", ratiometric(photo), transistorCauses()},
	} {
		t.Run(tt.name, func(t *testing.T) {
			conv := compile(t, tt.chain)
			for i := 1; i < 10; i++ {
				counts := conv.low + float64(i)/10*(conv.high-conv.low)
				one := make([]float64, len(tt.causes))
				for i := range one {
					one[i] = 1
				}
				log := func(k []float64) float64 {
					c := tt.chain
					if d := c.Divider; d != nil {
						moved := *d
						c.Divider = &moved
					} else {
						moved := *c.Phototransistor
						c.Phototransistor = &moved
					}
					if t := c.ADC.Table; t != nil {
						c.ADC.Table = &CodeTable{append([]CodePoint(nil), t.Points...)}
					}
					for i, cause := range tt.causes {
						cause.move(&c, k[i])
					}
					return math.Log(compile(t, c).number(counts).Lux)
				}
				want := propagate(log, make([]float64, len(one)), one, func(i, j int) float64 {
					return tt.chain.correlation(tt.causes[i].name, tt.causes[j].name)
				})
				r := conv.Lux(counts)
				if got := r.CommonU() / r.Lux; r.Status != OK || !(math.Abs(got/want-1) <= 1e-6) { // differences leave about 1e-9
					t.Errorf("%g counts, %.4g lx: common part %.9f, want %.9f", counts, r.Lux, got, want)
				}
			}
		})
	}
}

// RandomU is the slope of light over counts times the uncertainty of a count.
func TestRandomUncertainty(t *testing.T) {
	for name, c := range chains() {
		conv := compile(t, c)
		for i := 1; i < 10; i++ {
			counts := conv.low + float64(i)/10*(conv.high-conv.low)
			u := math.Sqrt(conv.readVar)
			// A wide step and a scale: a count's own uncertainty is lost in a double's digits.
			wide := (conv.high - conv.low) / 1000
			want := u / wide * propagate(func(x []float64) float64 { return conv.number(x[0]).Lux }, []float64{counts}, []float64{wide}, nil)
			if got := conv.Lux(counts).RandomU; !(math.Abs(got/want-1) <= 1e-6) {
				t.Errorf("%s, %g counts: %.9g lx, want %.9g", name, counts, got, want)
			}
		}
	}
}

// Single causes whose effect is known in closed form.
func TestSingleCauses(t *testing.T) {
	relative := func(c Chain, lux float64) float64 {
		conv := compile(t, c)
		r := conv.Lux(conv.Counts(lux))
		return r.CommonU() / r.Lux
	}
	tolerance := bench(CellOnTop)
	tolerance.Divider.LoadTolerance = 0.05
	gamma := bench(CellOnTop)
	gamma.Divider.Cell.Gamma, gamma.Divider.Cell.GammaU = 0.65, 0.05
	supply := bench(CellOnTop)
	supply.Divider.SupplyU = 0.1
	for _, tt := range []struct {
		name           string
		chain          Chain
		lux, want, tol float64
		source         string
	}{
		{"load of 5 %", tolerance, 10, 0.05 / math.Sqrt(3) / 0.7, 1e-9, "dR/R = dRL/RL, 5/gamma % of light; a/sqrt 3, JCGM 100 eq. 7"},
		{"load of 5 %", tolerance, 10e3, 0.05 / math.Sqrt(3) / 0.7, 1e-9, "the same at any light"},
		{"gamma", gamma, 100e3, math.Log(2.03), 0.0025, "0.05 of 0.65 shifts 100 klx by 2.03 = exp(0.0769 x 9.21)"},
		{"gamma at its pivot", gamma, 10, 0, 1e-9, "no shift at 10 lx"},
		{"supply, ratiometric", supply, 100, 0, 1e-9, "supply drift cancels"},
	} {
		if got := relative(tt.chain, tt.lux); !(math.Abs(got-tt.want) <= tt.tol) {
			t.Errorf("%s at %g lx: %.6f, want %.6f ± %g (%s)", tt.name, tt.lux, got, tt.want, tt.tol, tt.source)
		}
	}
}
