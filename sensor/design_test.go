package sensor

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestWidestSwing(t *testing.T) {
	for ratio, want := range map[float64]float64{1: 0, 10: 0.519494, 100: 0.818182, 1000: 0.938693, 1e4: 0.980198} { // (s-1)/(s+1) in six digits
		load, swing := WidestSwing(50, 50*ratio)
		if !(math.Abs(swing-want) <= 0.5e-6) || !(math.Abs(load-50*math.Sqrt(ratio)) <= 1e-9) {
			t.Errorf("ratio %g: %.1f ohm, %.7f, want %.6f", ratio, load, swing, want)
		}
		for _, other := range []float64{0.99 * load, 1.01 * load} { // Ohm's law, and no other is wider
			if got := other/(other+50) - other/(other+50*ratio); ratio > 1 && !(got < swing) {
				t.Errorf("ratio %g: %.1f ohm swings by %.7f, more", ratio, other, got)
			}
		}
	}
	for _, ends := range [][2]float64{{0, 1}, {-1, 1}, {2, 1}, {math.NaN(), 1}, {1, math.NaN()}} {
		if load, swing := WidestSwing(ends[0], ends[1]); !math.IsNaN(load) || !math.IsNaN(swing) {
			t.Errorf("%v: %g, %g, want NaN", ends, load, swing)
		}
	}
}

// The common circuit, 1 kohm and 12 bits: per cent of the light for one count.
func TestCountsPerOctave(t *testing.T) {
	for _, w := range []Wiring{CellOnTop, CellAtBottom} {
		conv := compile(t, bench(w))
		for lux, want := range map[float64]float64{10: 0.42, 1000: 0.17, 10e3: 0.51, 100e3: 2.27} { // d ln E/d count = (R_L+R)^2/(gamma R R_L 4096)
			if got := 100 * math.Ln2 / conv.CountsPerOctave(lux); !(math.Abs(got-want) <= 0.005) {
				t.Errorf("%s, %g lx: %.3f %% a count, want %.2f", w, lux, got, want)
			}
			const h = 1e-4 // of ln E; a difference of the counts themselves
			slope := math.Abs(conv.Counts(lux*math.Exp(h))-conv.Counts(lux*math.Exp(-h))) / (2 * h) * math.Ln2
			if got := conv.CountsPerOctave(lux); !(math.Abs(got/slope-1) <= 1e-6) {
				t.Errorf("%s, %g lx: %.4f counts per octave, by differences %.4f", w, lux, got, slope)
			}
		}
		for _, lux := range []float64{0, -1, 1e-9, 1e9, math.NaN()} {
			if got := conv.CountsPerOctave(lux); got != 0 {
				t.Errorf("%s, %g lx is a bound and has %g counts per octave", w, lux, got)
			}
		}
	}
}

// With dead zones out of the way the best of E192 is the closed form's neighbour,
// in both wirings, with the converter's input allowed for.
func TestDesignDivider(t *testing.T) {
	for _, input := range []float64{0, 1e6, 2e3} {
		for _, w := range []Wiring{CellOnTop, CellAtBottom} {
			c := bench(w)
			c.ADC.InputOhm, c.Divider.LoadOhm = input, 0
			d, err := c.Design(10, 10e3, DesignOptions{Series: E192})
			require.NoError(t, err)
			// The cell has 10 kohm at 10 lx and 10 kohm/1000^0.7 at 10 klx, by hand; a
			// cell at the bottom has the input beside it, a cell on top has it beside the load.
			g, least, greatest := conductance(input), 10e3, 10e3/math.Pow(1000, 0.7)
			want := math.Sqrt(least * greatest)
			if w == CellOnTop {
				want = 1 / (1/want - g)
			} else {
				want = 1 / math.Sqrt((1/least+g)*(1/greatest+g))
			}
			if !(math.Abs(d.One.IdealOhm/want-1) <= 1e-12) {
				t.Errorf("%s, input %g: ideal %.3f ohm, want %.3f", w, input, d.One.IdealOhm, want)
			}
			for _, other := range []float64{E192.Nearest(want), E192.Down(d.One.Ohms * 0.999), E192.Up(d.One.Ohms * 1.001)} {
				conv := compile(t, c.withLoad(other))
				if got := math.Min(conv.CountsPerOctave(10), conv.CountsPerOctave(10e3)); got > d.One.worst() {
					t.Errorf("%s, input %g: %g ohm has %.2f counts per octave, more than %g ohm's %.2f", w, input, other, got, d.One.Ohms, d.One.worst())
				}
			}
			if w == CellAtBottom && input == 2e3 {
				continue // beside so much conductance the swing's optimum is not the scale's
			}
			if d.One.Ohms != E192.Down(want) && d.One.Ohms != E192.Up(want) {
				t.Errorf("%s, input %g: %g ohm is no neighbour of %.1f", w, input, d.One.Ohms, want)
			}
			if ratio := d.One.CountsPerOctaveLeast / d.One.CountsPerOctaveGreatest; !(math.Abs(math.Log(ratio)) <= 0.013) { // a step of E192 is 1.2 %
				t.Errorf("%s, input %g: ends of %.1f and %.1f counts per octave", w, input, d.One.CountsPerOctaveLeast, d.One.CountsPerOctaveGreatest)
			}
			if input == 0 && !(math.Abs(d.One.Swing-0.836424) <= 1e-4) { // s = 1000^0.35: (s-1)/(s+1)
				t.Errorf("%s: swing %.6f", w, d.One.Swing)
			}
			if !d.Enough || d.Two != nil || c.Divider.LoadOhm != 0 {
				t.Errorf("%s: enough %v, two %v, chain's load %g", w, d.Enough, d.Two, c.Divider.LoadOhm)
			}
		}
	}
}

// 0.5 uA/lx, 3.3 V less 0.4 V, straight to 0.9 of that: 52.2 ohm for 100 klx, the
// published 58 ohm being for where it stops altogether.
func TestDesignTransistor(t *testing.T) {
	for _, r := range []struct{ greatest, ideal, ohms, saturates, density float64 }{
		{100e3, 52.2, 51, 2.61 / (0.5e-6 * 51), math.Log10(133300 * 0.5e-6 * 51 / 2.61)},
		{20e3, 261, 240, 21750, 0.787371}, // log10(133300/21750)
	} { // Ohm's law
		d, err := transistor(0).Design(1000, r.greatest, DesignOptions{})
		require.NoError(t, err)
		l := d.One
		if !d.Enough || l.Ohms != r.ohms || !(math.Abs(l.IdealOhm-r.ideal) <= 1e-9) {
			t.Errorf("%g lx: %g ohm (%.4f), enough %v, want %g (%g)", r.greatest, l.Ohms, l.IdealOhm, d.Enough, r.ohms, r.ideal)
		}
		if !(math.Abs(l.SaturatesLux/r.saturates-1) <= 1e-12) || !(math.Abs(l.SunDensity-r.density) <= 1e-6) {
			t.Errorf("%g lx: saturates at %.1f lx, density %.6f, want %.1f, %.6f", r.greatest, l.SaturatesLux, l.SunDensity, r.saturates, r.density)
		}
		// Behind the filter full Sun is at the end of the line.
		if got := compile(t, l.Chain).Lux(compile(t, l.Chain).Counts(0.999 * 133300 * math.Pow(10, -l.SunDensity))); got.Status != OK {
			t.Errorf("%g lx: full Sun behind the filter is %v", r.greatest, got.Status)
		}
	}
}

// Two sensors: each reads its half, and a walk in small steps finds the same handover.
func TestDesignTwo(t *testing.T) {
	usual := func(c Chain) Chain { c.ADC.DeadLow, c.ADC.DeadHigh = 0, 0; return c }
	dark := usual(bench(CellAtBottom))
	dark.Divider.Cell.DarkOhm = 2e5
	for name, r := range map[string]struct {
		chain           Chain
		least, greatest float64
		enough          bool
	}{
		"cell on top":                 {usual(bench(CellOnTop)), 1, 100e3, true},
		"cell at bottom, dark":        {dark, 1, 100e3, true},
		"transistor":                  {usual(transistor(1)), 100, 100e3, true},
		"transistor, too much to ask": {usual(transistor(1)), 1, 100e3, false},
		"transistor, far too much":    {usual(transistor(1)), 1e-3, 100e3, false},
	} {
		d, err := r.chain.Design(r.least, r.greatest, DesignOptions{})
		require.NoError(t, err, name)
		require.NotNil(t, d.Two, name)
		if d.Enough || d.Two.Enough != r.enough {
			t.Errorf("%s: one enough %v, two enough %v, want false, %v", name, d.Enough, d.Two.Enough, r.enough)
		}
		dim, bright := compile(t, d.Two.Dim.Chain), compile(t, d.Two.Bright.Chain)
		handover, worst := 0.0, math.Inf(1)
		const step = 1.001
		for lux := r.least * (1 + 1e-12); lux < r.greatest; lux *= step {
			a, b := dim.CountsPerOctave(lux), bright.CountsPerOctave(lux)
			if a > b {
				handover = lux
			}
			worst = math.Min(worst, math.Max(a, b))
		}
		if !(math.Abs(math.Log(d.Two.HandoverLux/handover)) <= math.Log(step)) {
			t.Errorf("%s: handover at %.2f lx, by a walk %.2f", name, d.Two.HandoverLux, handover)
		}
		if got := worst >= usualFineness; got != r.enough {
			t.Errorf("%s: the finer of both is nowhere below %.2f counts per octave: enough %v", name, worst, got)
		}
		if !(math.Abs(d.Two.CountsPerOctave-worst) <= 0.002*worst) {
			t.Errorf("%s: %.3f counts per octave at the coarsest, by a walk %.3f", name, d.Two.CountsPerOctave, worst)
		}
		asked, err := r.chain.Pair(r.least, r.greatest, DesignOptions{})
		require.NoError(t, err, name)
		require.Equal(t, d.Two, asked, name)
	}
}

// Where one is enough, two may still be asked for, and are finer.
func TestPairWhereOneIsEnough(t *testing.T) {
	c := bench(CellOnTop)
	d, err := c.Design(10, 1000, DesignOptions{})
	require.NoError(t, err)
	p, err := c.Pair(10, 1000, DesignOptions{})
	require.NoError(t, err)
	if !d.Enough || d.Two != nil || !p.Enough || !(p.CountsPerOctave > d.One.worst()) || !(p.HandoverLux > 10 && p.HandoverLux < 1000) {
		t.Errorf("one %+v, two %+v", d.One, p)
	}
	// This transistor's scale is coarsest just above the handover, where only the bright one reads.
	fine := Chain{ADC: ADC{Bits: 16, Ratiometric: true}, Phototransistor: &Phototransistor{SupplyV: 5, AmperesPerLux: 0.5e-6, SaturationV: 0.4}}
	two, err := fine.Pair(1000, 20e3, DesignOptions{Series: E12})
	require.NoError(t, err)
	bright := compile(t, two.Bright.Chain)
	above := bright.CountsPerOctave(two.HandoverLux * (1 + 1e-9))
	if !(math.Abs(two.CountsPerOctave/above-1) <= 1e-6) || !(above < two.Dim.CountsPerOctaveLeast) {
		t.Errorf("%g counts per octave, just above the handover %g, at the dim end %g", two.CountsPerOctave, above, two.Dim.CountsPerOctaveLeast)
	}
	var part *PartError
	if _, err := c.Pair(100, 150, DesignOptions{}); !errors.As(err, &part) || part.Field != "design.greatest_lux" {
		t.Errorf("no range: %v", err)
	}
	if _, err := (Chain{Digital: &Digital{LuxPerCount: 1, MaxCounts: 65535}}).Pair(1, 100, DesignOptions{}); !errors.Is(err, ErrNoPart) {
		t.Errorf("digital: %v", err)
	}
}

func TestDesignRefuses(t *testing.T) {
	c := bench(CellOnTop)
	for name, r := range map[string]struct {
		chain           Chain
		least, greatest float64
		o               DesignOptions
		is              error
		field           string
	}{
		"digital":      {Chain{Digital: &Digital{LuxPerCount: 1, MaxCounts: 65535}}, 1, 100, DesignOptions{}, ErrNoPart, ""},
		"nothing":      {Chain{}, 1, 100, DesignOptions{}, ErrNoPart, ""},
		"no darkness":  {c, 0, 100, DesignOptions{}, nil, "design.least_lux"},
		"NaN":          {c, math.NaN(), 100, DesignOptions{}, nil, "design.least_lux"},
		"no range":     {c, 100, 150, DesignOptions{}, nil, "design.greatest_lux"},
		"NaN above":    {c, 100, math.NaN(), DesignOptions{}, nil, "design.greatest_lux"},
		"fineness":     {c, 1, 100, DesignOptions{CountsPerOctave: -1}, nil, "design.counts_per_octave"},
		"Sun":          {c, 1, 100, DesignOptions{SunLux: math.Inf(1)}, nil, "design.sun_lux"},
		"series":       {c, 1, 100, DesignOptions{Series: 7}, ErrSeries, ""},
		"part":         {Chain{ADC: c.ADC, Divider: &Divider{Wiring: CellOnTop, SupplyV: 3.3}}, 1, 100, DesignOptions{}, nil, "divider.cell.r10_ohm"},
		"input shorts": {Chain{ADC: ADC{Bits: 8, Ratiometric: true, InputOhm: 1e-3}, Divider: c.Divider}, 1, 100, DesignOptions{}, ErrBlind, ""},
	} {
		_, err := r.chain.Design(r.least, r.greatest, r.o)
		wantRefused(t, name, err, r.is, r.field)
	}
}
