package sensor

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// bench is the circuit of common practice: 10 kohm at 10 lx, gamma 0.7, load
// 1 kohm, 3.3 V, 12 bit, no dead zones.
func bench(w Wiring) Chain {
	return Chain{
		ADC: ADC{Bits: 12, Ratiometric: true, DeadLow: 1e-9, DeadHigh: 1e-9},
		Divider: &Divider{Wiring: w, SupplyV: 3.3, LoadOhm: 1000,
			Cell: Photoresistor{R10Ohm: 10e3, Gamma: 0.7}},
	}
}

// transistor is the generic one: 0.5 uA/lx, 3.3 V, 0.4 V when fully on.
func transistor(load float64) Chain {
	return Chain{
		ADC:             ADC{Bits: 12, ReferenceV: 3.3, DeadLow: 1e-9, DeadHigh: 1e-9},
		Phototransistor: &Phototransistor{SupplyV: 3.3, LoadOhm: load, AmperesPerLux: 0.5e-6, SaturationV: 0.4},
	}
}

// real is a divider with everything set that can be.
func real(w Wiring) Chain {
	return Chain{
		ADC: ADC{Bits: 12, ReferenceV: 2.5, ReferenceU: 0.01, InputOhm: 2e5, InputLnU: 0.3, OffsetCounts: -12, OffsetU: 2,
			Gain: 0.99, GainLnU: 0.002, NonlinearityCounts: 3, NoiseCounts: 2, Averaged: 20, LogStepCounts: 1},
		Divider: &Divider{Wiring: w, SupplyV: 3.3, SupplyU: 0.03, LoadOhm: 4700, LoadTolerance: 0.05,
			Cell: Photoresistor{R10Ohm: 14e3, R10LnU: 0.2, Gamma: 0.65, GammaU: 0.03, R10GammaR: -0.6, DarkOhm: 1e6, DarkLnU: 0.4, MaxLux: 120e3}},
	}
}

func compile(t testing.TB, c Chain) *Converter {
	t.Helper()
	out, err := c.Compile()
	require.NoError(t, err)
	return out
}

// chains is one of each circuit, in range from twilight to the Sun or not.
func chains() map[string]Chain {
	loadedTransistor := transistor(470)
	loadedTransistor.ADC.InputOhm, loadedTransistor.ADC.Ratiometric = 1e5, true
	loadedTransistor.Phototransistor.AmperesPerLuxLnU = 0.3
	bent := real(CellAtBottom)
	bent.ADC.OffsetCounts, bent.ADC.Gain, bent.ADC.Table = 0, 0, bentTable()
	dark := transistor(10e3)
	dark.Phototransistor.DarkAmperes, dark.Phototransistor.DarkAmperesU = 2e-6, 2e-7
	dark.Angular = &AngularResponse{Points: []AnglePoint{{0, 1}, {30, 0.8}, {70, 0.2}}, LnU: 0.1}
	return map[string]Chain{
		"on top":             bench(CellOnTop),
		"at bottom":          bench(CellAtBottom),
		"on top, real":       real(CellOnTop),
		"at bottom, real":    real(CellAtBottom),
		"transistor":         transistor(58),
		"transistor, loaded": loadedTransistor,
		"transistor, dark":   dark,
		"a bent converter":   bent,
		"lux":                {Digital: &Digital{LuxPerCount: 1, MaxCounts: 120000, StepCounts: 0.01}},
		"counts of lux":      {Digital: &Digital{LuxPerCount: 0.8, MaxCounts: 65535, LuxPerCountLnU: 0.1, NoiseCounts: 1}},
	}
}

// Every field is refused by its JSON path; a sound chain with the one thing
// changed is the row.
func TestRefusals(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, tt := range []struct {
		name  string
		of    Chain
		spoil func(*Chain)
		want  string // in the error's text
	}{
		{"nothing set", bench(CellOnTop), func(c *Chain) { *c = Chain{} }, "set exactly one of divider, phototransistor and digital"},
		{"two sensors", bench(CellOnTop), func(c *Chain) { c.Digital = &Digital{LuxPerCount: 1, MaxCounts: 100} }, "set exactly one"},
		{"empty divider", bench(CellOnTop), func(c *Chain) { c.Divider = &Divider{} }, "divider.load_ohm is 0, want 1 to 1e+09: set the fixed resistor"},
		{"no wiring", bench(CellOnTop), func(c *Chain) { c.Divider.Wiring = "" }, `neither "cell-on-top" nor "cell-at-bottom": it is ""`},
		{"other wiring", bench(CellOnTop), func(c *Chain) { c.Divider.Wiring = "top" }, `it is "top"`},
		{"no bits", bench(CellOnTop), func(c *Chain) { c.ADC.Bits = 0 }, "adc.bits is 0, want 8 to 24: set"},
		{"no reference", bench(CellOnTop), func(c *Chain) { c.ADC.Ratiometric = false }, "adc.reference_v is 0"},
		{"reference is not the supply", bench(CellOnTop), func(c *Chain) { c.ADC.ReferenceV = 1.1 }, "adc.reference_v is 1.1, want 3.3 to 3.3"},
		{"zero ohms", bench(CellOnTop), func(c *Chain) { c.Divider.LoadOhm = 0 }, "divider.load_ohm is 0"},
		{"negative ohms", bench(CellOnTop), func(c *Chain) { c.Divider.LoadOhm = -1000 }, "divider.load_ohm is -1000"},
		{"NaN ohms", bench(CellOnTop), func(c *Chain) { c.Divider.LoadOhm = nan }, "divider.load_ohm is NaN"},
		{"infinite ohms", bench(CellOnTop), func(c *Chain) { c.Divider.LoadOhm = inf }, "divider.load_ohm is +Inf"},
		{"no supply", bench(CellOnTop), func(c *Chain) { c.Divider.SupplyV = 0 }, "divider.supply_v is 0"},
		{"NaN supply", bench(CellOnTop), func(c *Chain) { c.Divider.SupplyV = nan }, "divider.supply_v is NaN"},
		{"no R10", bench(CellOnTop), func(c *Chain) { c.Divider.Cell.R10Ohm = 0 }, "divider.cell.r10_ohm is 0"},
		{"NaN R10", bench(CellOnTop), func(c *Chain) { c.Divider.Cell.R10Ohm = nan }, "divider.cell.r10_ohm is NaN"},
		{"negative gamma", bench(CellOnTop), func(c *Chain) { c.Divider.Cell.Gamma = -0.7 }, "divider.cell.gamma is -0.7"},
		{"NaN gamma", bench(CellOnTop), func(c *Chain) { c.Divider.Cell.Gamma = nan }, "divider.cell.gamma is NaN"},
		{"negative dark", bench(CellOnTop), func(c *Chain) { c.Divider.Cell.DarkOhm = -1 }, "divider.cell.dark_ohm is -1"},
		{"NaN max", bench(CellOnTop), func(c *Chain) { c.Divider.Cell.MaxLux = nan }, "divider.cell.max_lux is NaN"},
		{"correlation", bench(CellOnTop), func(c *Chain) { c.Divider.Cell.R10GammaR = 1.1 }, "divider.cell.r10_gamma_r is 1.1"},
		{"negative U", bench(CellOnTop), func(c *Chain) { c.Divider.Cell.GammaU = -0.1 }, "divider.cell.gamma_u is -0.1"},
		{"NaN U", bench(CellOnTop), func(c *Chain) { c.Divider.Cell.R10LnU = nan }, "divider.cell.r10_ln_u is NaN"},
		{"tolerance in percent", bench(CellOnTop), func(c *Chain) { c.Divider.LoadTolerance = 5 }, "divider.load_tolerance_fraction is 5"},
		{"NaN input", bench(CellOnTop), func(c *Chain) { c.ADC.InputOhm = nan }, "adc.input_ohm is NaN"},
		{"negative input", bench(CellOnTop), func(c *Chain) { c.ADC.InputOhm = -1 }, "adc.input_ohm is -1"},
		{"infinite offset", bench(CellOnTop), func(c *Chain) { c.ADC.OffsetCounts = inf }, "adc.offset_counts is +Inf"},
		{"negative gain", bench(CellOnTop), func(c *Chain) { c.ADC.Gain = -1 }, "adc.gain is -1"},
		{"all dead", bench(CellOnTop), func(c *Chain) { c.ADC.DeadLow = 0.5 }, "adc.dead_low_fraction is 0.5"},
		{"NaN noise", bench(CellOnTop), func(c *Chain) { c.ADC.NoiseCounts = nan }, "adc.noise_counts is NaN"},
		{"negative mean", bench(CellOnTop), func(c *Chain) { c.ADC.Averaged = -1 }, "adc.averaged is -1"},
		{"no current", transistor(1000), func(c *Chain) { c.Phototransistor.AmperesPerLux = 0 }, "phototransistor.amperes_per_lux is 0"},
		{"infinite load", transistor(1000), func(c *Chain) { c.Phototransistor.LoadOhm = inf }, "phototransistor.load_ohm is +Inf"},
		{"no swing", transistor(1000), func(c *Chain) { c.Phototransistor.SaturationV = 3.3 }, "phototransistor.saturation_v is 3.3"},
		{"no scale", chains()["lux"], func(c *Chain) { c.Digital.LuxPerCount = 0 }, "digital.lux_per_count is 0"},
		{"no ceiling", chains()["lux"], func(c *Chain) { c.Digital.MaxCounts = inf }, "digital.max_counts is +Inf"},
		{"dark amperes", transistor(1000), func(c *Chain) { c.Phototransistor.DarkAmperes = -1e-9 }, "phototransistor.dark_amperes is -1e-09"},
		{"all dark current", transistor(1e6), func(c *Chain) { c.Phototransistor.DarkAmperes = 5e-6 }, "no light gives a readable count"},
		{"correlations", bench(CellOnTop), func(c *Chain) {
			c.Divider.Cell.R10GammaR, c.Divider.Cell.R10DarkR, c.Divider.Cell.GammaDarkR = 0.9, 0.9, -0.9
		}, "divider.cell's correlations' determinant is -2.888"}, // 1 - 3 0.81 - 2 0.729
		{"table of nothing", bench(CellOnTop), func(c *Chain) { c.ADC.Table = &CodeTable{} }, "adc.table.points, how many is 0, want 2"},
		{"table that falls", bench(CellOnTop), func(c *Chain) { c.ADC.Table = &CodeTable{[]CodePoint{{9, 0}, {8, 1}}} }, "adc.table.points[1].counts is 8, want 10"},
		{"table that stands", bench(CellOnTop), func(c *Chain) { c.ADC.Table = &CodeTable{[]CodePoint{{9, 0.1}, {99, 0.1}}} }, "adc.table.points[1].share is 0.1"},
		{"NaN in a table", bench(CellOnTop), func(c *Chain) { c.ADC.Table = &CodeTable{[]CodePoint{{9, nan}, {99, 0.1}}} }, "adc.table.points[0].share is NaN"},
		{"table and gain", bench(CellOnTop), func(c *Chain) { c.ADC.Gain, c.ADC.Table = 1.01, bentTable() }, "adc.gain beside adc.table is 1.01"},
		{"table and offset", bench(CellOnTop), func(c *Chain) { c.ADC.OffsetCounts, c.ADC.Table = 1, bentTable() }, "adc.offset_counts beside adc.table is 1"},
		{"half angle", bench(CellOnTop), func(c *Chain) { c.Angular = &AngularResponse{HalfAngleDeg: 90} }, "angular.half_angle_deg is 90"},
		{"curve not from 0", bench(CellOnTop), func(c *Chain) { c.Angular = &AngularResponse{Points: []AnglePoint{{5, 1}}} }, "angular.points[0].off_axis_deg is 5"},
		{"curve not of 1", bench(CellOnTop), func(c *Chain) { c.Angular = &AngularResponse{Points: []AnglePoint{{0, 2}}} }, "angular.points[0].response is 2"},
		{"curve that turns", bench(CellOnTop), func(c *Chain) { c.Angular = &AngularResponse{Points: []AnglePoint{{0, 1}, {20, 1}, {10, 1}}} }, "angular.points[2].off_axis_deg is 10"},
		{"curve and half angle", bench(CellOnTop), func(c *Chain) { c.Angular = &AngularResponse{HalfAngleDeg: 30, Points: []AnglePoint{{0, 1}}} }, "angular.half_angle_deg beside angular.points is 30"},
		{"blind", bench(CellOnTop), func(c *Chain) { c.Divider.LoadOhm, c.Divider.Cell.R10Ohm = 1, 1e8 }, "no light gives a readable count: darkness is"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := tt.of
			tt.spoil(&c)
			conv, err := c.Compile()
			if err == nil || !strings.Contains(err.Error(), tt.want) || conv != nil {
				t.Fatalf("refused with %v, want %q in it", err, tt.want)
			}
			part := (*PartError)(nil)
			if !errors.As(err, &part) && !errors.Is(err, ErrNoPart) && !errors.Is(err, ErrWiring) && !errors.Is(err, ErrBlind) {
				t.Errorf("%T cannot be matched", err)
			}
			if second := c.Validate(); fmt.Sprint(second) != err.Error() {
				t.Errorf("Validate says %v, Compile %v", second, err)
			}
		})
	}
}

// All faults come at once.
func TestRefusalsTogether(t *testing.T) {
	c := bench("")
	c.Divider.LoadOhm, c.ADC.Bits = 0, 99
	err := c.Validate()
	for _, want := range []string{"divider.load_ohm", "adc.bits", "divider.wiring"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %s in it", err, want)
		}
	}
}

func TestChainJSON(t *testing.T) {
	for name, c := range chains() {
		data, err := json.Marshal(c)
		require.NoError(t, err)
		d := json.NewDecoder(strings.NewReader(string(data)))
		d.DisallowUnknownFields()
		var back Chain
		require.NoError(t, d.Decode(&back), "%s", data)
		require.Equal(t, c, back, name)
	}
}

// A converter outlives changes to the chain that it came from.
func TestConverterKeepsItsParts(t *testing.T) {
	c := real(CellOnTop)
	conv := compile(t, c)
	before := conv.Lux(1500)
	*c.Divider = Divider{}
	if after := conv.Lux(1500); after != before {
		t.Errorf("%+v became %+v", before, after)
	}
}
