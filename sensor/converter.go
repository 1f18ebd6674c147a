package sensor

import "math"

// A Converter is a Chain that has been checked and laid out for speed. It is
// safe for concurrent use.
type Converter struct {
	law interface {
		lux(v float64) float64     // light that makes a share of full scale, NaN where none does
		share(lux float64) float64 // its inverse
		// sensitivity is d log lux / d log of what the parts are uncertain in, as
		// one standard uncertainty of log lux common to all readings at this light.
		common(lux float64) float64
	}
	counts       float64 // codes of full scale
	top          float64 // greatest share that is ever logged
	offset, gain float64
	low, high    float64 // believable shares of full scale
	rising       bool    // counts rise with light
	readU        float64 // standard uncertainty of one logged value, counts
	maxLux       float64 // bound of the law
}

// Compile validates the chain and returns its converter.
func (c *Chain) Compile() (*Converter, error) {
	if err := c.Validate(); err != nil {
		return nil, err
	}
	if d := c.Digital; d != nil {
		return &Converter{
			law: digital{scale: d.LuxPerCount * d.MaxCounts, u: d.ScaleU}, counts: d.MaxCounts, top: 1, gain: 1,
			low: 0, high: 1 - 0.5/d.MaxCounts, rising: true, readU: math.Sqrt(1.0 / 12),
			maxLux: math.Inf(1),
		}, nil
	}
	a := c.ADC
	n := math.Max(1, float64(a.Averaged))
	rail := a.RailFraction
	if rail == 0 {
		rail = 0.02
	}
	// Rounding to a code is 1/sqrt 12 of it (GUM F.2.2.1); averaging divides both.
	out := &Converter{counts: a.counts(), top: 1 - 1/a.counts(), offset: a.OffsetCounts, gain: a.gain(), low: rail, high: 1 - rail, rising: true,
		readU: math.Sqrt((a.NoiseCounts*a.NoiseCounts + 1.0/12) / n), maxLux: math.Inf(1)}
	if d := c.Divider; d != nil {
		out.law = newDivider(*d, a)
		out.rising = d.CellOnTop
		out.maxLux = d.Cell.MaxLux
		if out.maxLux == 0 {
			out.maxLux = 200e3
		}
		return out, nil
	}
	t := newPhototransistor(*c.Phototransistor, a)
	out.law = t
	out.high = math.Min(out.high, 0.98*t.ceiling) // the last of the swing is no longer linear
	out.low = math.Min(rail, 1.5/out.counts)      // proportional to light: dark is near zero by right
	return out, nil
}

// Lux turns a logged value, in counts, into light. NaN gives NaN with status OK
// and is the caller's to drop.
func (c *Converter) Lux(counts float64) Reading {
	v := (counts - c.offset) / c.gain / c.counts
	switch {
	case v < c.low:
		return c.bound(c.low, !c.rising)
	case v > c.high:
		return c.bound(c.high, c.rising)
	}
	lux := c.law.lux(v)
	switch {
	case lux > c.maxLux:
		return Reading{Lux: c.maxLux, Status: Saturated}
	case lux <= 0 && v > 0 || math.IsInf(lux, 0):
		return Reading{Lux: 0, Status: TooDark}
	}
	// d lux / d count by a symmetric difference of one count: the laws are smooth
	// and a count is what a reading can be off by.
	h := 0.5 / c.counts / c.gain
	slope := math.Abs(c.law.lux(math.Min(v+h, 1-h)) - c.law.lux(math.Max(v-h, h)))
	r := Reading{Lux: lux, RandomU: slope * c.readU}
	r.LuxU = math.Hypot(r.RandomU, lux*c.law.common(lux))
	return r
}

// bound is the reading at a rail.
func (c *Converter) bound(share float64, bright bool) Reading {
	r := Reading{Lux: math.Min(c.law.lux(share), c.maxLux), Status: TooDark}
	if bright {
		r.Status = Saturated
	}
	if math.IsNaN(r.Lux) || r.Lux < 0 {
		r.Lux = 0
	}
	return r
}

// Counts is the value that a light would be logged as, not rounded, clipped at
// the converter's rails.
func (c *Converter) Counts(lux float64) float64 {
	v := math.Max(0, math.Min(c.top, c.law.share(math.Max(0, lux))))
	return v*c.counts*c.gain + c.offset
}

// divider is the law of a photoresistor in a divider.
type divider struct {
	top         bool
	load, input float64 // ohms; input 0 for none
	scale       float64 // volts of the supply over the reference
	cell        Photoresistor
	loadU       float64
	inverse     float64 // 1/gamma
}

func newDivider(d Divider, a ADC) divider {
	l := divider{top: d.CellOnTop, load: d.LoadOhm, input: a.InputOhm, cell: d.Cell, scale: 1,
		loadU: d.ToleranceFraction / math.Sqrt(3), inverse: 1 / d.Cell.Gamma}
	if !a.Ratiometric {
		l.scale = d.SupplyV / a.ReferenceV
	}
	return l
}

// parallel resistance; 0 stands for none there.
func parallel(r, with float64) float64 {
	if with == 0 {
		return r
	}
	return r * with / (r + with)
}

// lux by way of the cell's resistance.
func (d divider) lux(v float64) float64 { return d.light(d.ohms(v / d.scale)) }

// ohms is the cell's resistance at a share of the supply.
func (d divider) ohms(v float64) float64 {
	if d.top {
		return parallel(d.load, d.input) * (1/v - 1)
	}
	r := d.load * v / (1 - v) // cell and input in parallel
	if d.input > 0 {
		return 1 / (1/r - 1/d.input)
	}
	return r
}

// light inverts the power law, the dark resistance taken out first.
func (d divider) light(r float64) float64 {
	if !(r > 0) {
		if r == 0 {
			return math.Inf(1)
		}
		return 0
	}
	if d.cell.DarkOhm > 0 {
		if r >= d.cell.DarkOhm {
			return 0
		}
		r = 1 / (1/r - 1/d.cell.DarkOhm)
	}
	return 10 * math.Pow(d.cell.R10Ohm/r, d.inverse)
}

// share of the reference that a light makes.
func (d divider) share(lux float64) float64 {
	r := d.cell.Resistance(lux)
	if d.top {
		if math.IsInf(r, 1) {
			return 0
		}
		load := parallel(d.load, d.input)
		return d.scale * load / (load + r)
	}
	if math.IsInf(r, 1) {
		if d.input == 0 {
			return d.scale
		}
		r = d.input
	} else {
		r = parallel(r, d.input)
	}
	return d.scale * r / (d.load + r)
}

// common: the load and R10 scale the light by their own ratio over gamma, and
// gamma itself by the distance from 10 lx: d ln E = -(d gamma/gamma) ln(E/10).
func (d divider) common(lux float64) float64 {
	ln := math.Log(math.Max(lux, 1e-6) / 10)
	return math.Sqrt(d.loadU*d.loadU+d.cell.R10U*d.cell.R10U+d.cell.GammaU*d.cell.GammaU*ln*ln) * d.inverse
}

// Resistance of the cell in light, ohms; +Inf in perfect darkness of a cell
// without dark resistance.
func (p Photoresistor) Resistance(lux float64) float64 {
	r := p.R10Ohm * math.Pow(lux/10, -p.Gamma)
	if p.DarkOhm == 0 {
		return r
	}
	if math.IsInf(r, 1) {
		return p.DarkOhm
	}
	return parallel(r, p.DarkOhm)
}

// phototransistor is its law: a straight line up to a ceiling.
type phototransistor struct {
	perLux  float64 // share of the reference a lux
	ceiling float64 // share at which the supply is used up
	u       float64
}

func newPhototransistor(p Phototransistor, a ADC) phototransistor {
	load := parallel(p.LoadOhm, a.InputOhm)
	reference := a.ReferenceV
	if a.Ratiometric {
		reference = p.SupplyV
	}
	return phototransistor{
		perLux: p.AmperesPerLux * load / reference, ceiling: (p.SupplyV - p.SaturationV) / reference,
		u: math.Hypot(p.SensitivityU, p.ToleranceFraction/math.Sqrt(3)),
	}
}

func (p phototransistor) lux(v float64) float64     { return v / p.perLux }
func (p phototransistor) share(lux float64) float64 { return math.Min(lux*p.perLux, p.ceiling) }
func (p phototransistor) common(float64) float64    { return p.u }

// digital is the identity with a ceiling.
type digital struct{ scale, u float64 }

func (d digital) lux(v float64) float64     { return v * d.scale }
func (d digital) share(lux float64) float64 { return lux / d.scale }
func (d digital) common(float64) float64    { return d.u }
