package sensor

import (
	"math"
	"testing"
)

// E = (Vcc - Vsat)/(S R) at Vcc 3.3 V, Vsat 0.4 V, S 0.5 uA/lx: the light at which
// the supply is used up. Above nine tenths of it a reading is a bound.
func TestPhototransistorSaturation(t *testing.T) {
	for _, r := range []struct{ ohms, lux, tol float64 }{
		{10e3, 580, 0.5}, {1e3, 5800, 0.5}, {220, 26364, 0.5}, {100, 58000, 0.5}, {58, 100000, 0.5},
	} { // source: closed form, computed
		c := compile(t, transistor(r.ohms))
		ceiling := c.Steps(c.Counts(r.lux * 2))
		if got := ceiling.Reading; got.Status != Saturated || !(math.Abs(got.Lux-0.9*r.lux) <= r.tol) {
			t.Errorf("%g ohm in %g lx: %+v, want at least %g", r.ohms, 2*r.lux, got, 0.9*r.lux)
		}
		if got := c.Counts(2*r.lux) * 3.3 / 4096; !(math.Abs(got-2.9) <= 1e-9) {
			t.Errorf("%g ohm: %.6f V of swing, want 2.9", r.ohms, got)
		}
		if got := c.Lux(c.Counts(0.89 * r.lux)); got.Status != OK || !(math.Abs(got.Lux-0.89*r.lux) <= r.tol) {
			t.Errorf("%g ohm in %g lx: %+v", r.ohms, 0.89*r.lux, got)
		}
	}
}

// The two catalogue points, 10 uA at 20 lx and 50 uA at 100 lx, into 10 kohm.
func TestPhototransistorCurrent(t *testing.T) {
	c := compile(t, transistor(10e3))
	for _, r := range []struct{ lux, amperes, volts float64 }{{20, 10e-6, 0.1}, {100, 50e-6, 0.5}} {
		s := c.Steps(c.Counts(r.lux))
		if !(math.Abs(s.Amperes-r.amperes) <= 1e-15 && math.Abs(s.Volts-r.volts) <= 1e-12) || s.Ohms != 0 {
			t.Errorf("%g lx: %+v, want %g A and %g V", r.lux, s, r.amperes, r.volts)
		}
	}
}

// The input takes its share of the current: V = S E (R in parallel with Rin).
func TestPhototransistorLoading(t *testing.T) {
	c := transistor(10e3)
	c.ADC.InputOhm = 90e3
	if got, want := compile(t, c).Counts(100), 4096*50e-6*9e3/3.3; !(math.Abs(got-want) <= 1e-9) {
		t.Errorf("%.6f counts, want %.6f", got, want)
	}
}

func TestDigital(t *testing.T) {
	c := compile(t, Chain{Digital: &Digital{LuxPerCount: 1, MaxCounts: 65535, LuxPerCountLnU: 0.1}})
	for _, r := range []struct {
		counts, lux, u, random float64
		status                 Status
	}{
		{0, 0.5, 0.05, 0, TooDark}, // half a step
		{100, 100, math.Hypot(10, 1/math.Sqrt(12)), 1 / math.Sqrt(12), OK},
		{65534, 65534, math.Hypot(6553.4, 1/math.Sqrt(12)), 1 / math.Sqrt(12), OK},
		{65535, 65534.5, 6553.45, 0, Saturated},
		{1e9, 65534.5, 6553.45, 0, Saturated},
	} { // source: the identity; JCGM 100 F.2.2.1 for rounding
		got := c.Lux(r.counts)
		if got.Status != r.status || !(math.Abs(got.Lux-r.lux) <= 1e-9 && math.Abs(got.LuxU-r.u) <= 1e-9 && math.Abs(got.RandomU-r.random) <= 1e-12) {
			t.Errorf("%g: %+v, want %+v", r.counts, got, r)
		}
	}
	if got := c.Steps(100); got.Volts != 0 || got.Ohms != 0 || got.Amperes != 0 || got.Reading != c.Lux(100) {
		t.Errorf("steps %+v of a sensor without any", got)
	}
}

// Current in darkness adds to the light's, and what is open about it is the least
// light that can be told: three standard uncertainties.
func TestPhototransistorDark(t *testing.T) {
	c := transistor(10e3)
	p := c.Phototransistor
	p.DarkAmperes, p.DarkAmperesU = 5e-6, 1e-6
	conv := compile(t, c)
	if got, want := conv.Counts(100), 4096*55e-6*1e4/3.3; !(math.Abs(got-want) <= 1e-9) {
		t.Errorf("100 lx: %.6f counts, want %.6f", got, want)
	}
	least, greatest := conv.Range()
	for _, r := range []struct {
		name           string
		got, want, tol float64
	}{ // Ohm's law; 0.5 uA a lux
		{"least", least, 3e-6 / 0.5e-6, 1e-9},
		{"greatest", greatest, (0.9*2.9/1e4 - 5e-6) / 0.5e-6, 1e-9},
		{"common part", conv.Lux(conv.Counts(100)).CommonU(), 2, 1e-9},
	} {
		if !(math.Abs(r.got-r.want) <= r.tol) {
			t.Errorf("%s: %.9f lx, want %.9f", r.name, r.got, r.want)
		}
	}
	// A load of 20 % moves the dark volts too: 0.2/sqrt 3 of 5 uA.
	p.DarkAmperesU, p.LoadTolerance = 0, 0.2
	if least, _ := compile(t, c).Range(); !(math.Abs(least-3*5e-6*0.2/math.Sqrt(3)/0.5e-6) <= 1e-9) {
		t.Errorf("least %.9f lx with a loose load", least)
	}
	// A supply that may be low by 0.3 V ends the line before nine tenths.
	p.DarkAmperesU, p.LoadTolerance, p.SupplyU = 0, 0, 0.3
	if _, greatest := compile(t, c).Range(); !(math.Abs(greatest-((2.9-0.9)/1e4-5e-6)/0.5e-6) <= 1e-9) {
		t.Errorf("greatest %.9f lx with a loose supply", greatest)
	}
}
