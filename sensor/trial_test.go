package sensor

import (
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
)

// What Design says of the loads that it chooses Try says again.
func TestTryAgreesWithDesign(t *testing.T) {
	for _, c := range []Chain{bench(CellOnTop), bench(CellAtBottom), transistor(1)} {
		d, err := c.Design(1, 100e3, DesignOptions{Series: E12})
		require.NoError(t, err)
		got, err := c.Try(d.One.Ohms, 1, 100e3, DesignOptions{})
		require.NoError(t, err)
		want := d.One
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%+v, Design said %+v", got, want)
		}
	}
}

// The common circuit, 1 kohm and 12 bits: 10 kohm at 10 lx, gamma 0.7, and 2 % of
// dead zone at both ends, where the cell has 49 and 1/49 kohm.
func TestTryACommonLoad(t *testing.T) {
	c := bench(CellOnTop)
	c.ADC.DeadLow, c.ADC.DeadHigh = 0, 0
	l, err := c.Try(1000, 4, 100e3, DesignOptions{SunLux: 100e3})
	require.NoError(t, err)
	lux := func(ohms float64) float64 { return 10 * math.Pow(10e3/ohms, 1/0.7) } // by hand
	for _, r := range []struct {
		name      string
		got, want float64
	}{
		{"dark below", l.DarkLux, lux(49e3)},
		{"saturates above", l.SaturatesLux, lux(1e3 / 49)},
		{"density", l.SunDensity, math.Log10(100e3 / lux(1e3/49))},
		{"counts per octave at 4 lx", l.CountsPerOctaveLeast, 4096 * 0.7 * math.Ln2 * 0.05 * 0.95}, // gamma x (1-x), x = 205/4096
		{"counts per octave at 100 klx", l.CountsPerOctaveGreatest, 0},
	} {
		if !(math.Abs(r.got-r.want) <= 0.002*r.want) {
			t.Errorf("%s: %g, want %g", r.name, r.got, r.want)
		}
	}
	if l.Chain.Divider == c.Divider {
		t.Error("the chain that was given is shared")
	}
}

// A filter before the cell cannot be told from a smaller load.
func TestFilterIsASmallerLoad(t *testing.T) {
	const density = 0.8
	for name, r := range map[string]struct {
		chain Chain
		slope float64 // of ln current over ln light
	}{
		"cell on top":    {bench(CellOnTop), 0.7},
		"cell at bottom": {bench(CellAtBottom), 0.7},
		"transistor":     {transistor(1), 1},
	} {
		r.chain.ADC.DeadLow, r.chain.ADC.DeadHigh = 0, 0
		if d := r.chain.Divider; d != nil {
			d.Cell.MaxLux = 1e6 // the law's own end is no matter of the load
		}
		large, err := r.chain.Try(4700, 1, 100, DesignOptions{})
		require.NoError(t, err)
		small, err := r.chain.Try(4700/math.Pow(10, r.slope*density), 1, 100, DesignOptions{})
		require.NoError(t, err)
		dark, bright := large.Behind(density)
		if !(math.Abs(dark/small.DarkLux-1) <= 1e-9 && math.Abs(bright/small.SaturatesLux-1) <= 1e-9) {
			t.Errorf("%s: behind the filter %g to %g lx, with the small load %g to %g", name, dark, bright, small.DarkLux, small.SaturatesLux)
		}
	}
}

// The cell's heat by a walk over its ohms.
func TestStrain(t *testing.T) {
	c := bench(CellOnTop)
	for _, part := range []Chain{c, transistor(1)} {
		l, err := part.Try(100, 1, 1000, DesignOptions{})
		require.NoError(t, err)
		s, supply, most := l.Strain(), 3.3, 0.0
		for ohms := 1.0; ohms < 1e4; ohms *= 1.001 {
			most = math.Max(most, math.Pow(supply/(100+ohms), 2)*ohms)
		}
		if !(math.Abs(s.SensorW/most-1) <= 1e-6) || !(math.Abs(s.Amperes-0.033) <= 1e-12) || !(math.Abs(s.LoadW-0.1089) <= 1e-12) {
			t.Errorf("%+v, want 33 mA, %g W and 0.1089 W", s, most)
		}
	}
}

func TestTryRefuses(t *testing.T) {
	c := bench(CellOnTop)
	for name, r := range map[string]struct {
		chain       Chain
		ohms, least float64
		is          error
		field       string
	}{
		"digital":  {Chain{Digital: &Digital{LuxPerCount: 1, MaxCounts: 65535}}, 1e3, 1, ErrNoPart, ""},
		"no load":  {c, 0, 1, nil, "divider.load_ohm"},
		"negative": {c, -5, 1, nil, "divider.load_ohm"},
		"NaN":      {c, math.NaN(), 1, nil, "divider.load_ohm"},
		"light":    {c, 1e3, 100e3, nil, "design.greatest_lux"},
		"blind":    {Chain{ADC: ADC{Bits: 8, Ratiometric: true, InputOhm: 1e-3}, Divider: c.Divider}, 1e3, 1, ErrBlind, ""},
	} {
		_, err := r.chain.Try(r.ohms, r.least, 100e3, DesignOptions{})
		wantRefused(t, name, err, r.is, r.field)
	}
}
