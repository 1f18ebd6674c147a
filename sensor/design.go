package sensor

import (
	"errors"
	"fmt"
	"math"
)

// ErrSeries says that a number is none of the seven series.
var ErrSeries = errors.New("sensor: no such series of preferred numbers: want E3, E6, E12, E24, E48, E96 or E192")

// DesignOptions are for Chain.Design. The zero value is recommended.
type DesignOptions struct {
	Series Series // in which loads are sold; 0 means E24
	// CountsPerOctave is the coarsest scale that will do, counts for a doubling of the
	// light, 1 to 1e6. 0 means 20, where one count is 3.5 % of the light (common
	// practice, no source).
	CountsPerOctave float64
	// SunLux is full Sun on the sensor, lx, 1 to 1e6; 0 means 133,300, what it is
	// outside the atmosphere (S. Darula, R. Kittler & C. Gueymard, Solar Energy 79
	// (2005) 559): the clearest day is below that.
	SunLux float64
}

const (
	usualFineness = 20      // counts per octave
	usualSun      = 133.3e3 // lx
	leastLoad     = 1       // ohms, as a Chain allows
	greatestLoad  = 1e9     // ohms
)

// Design chooses the load of a divider or a phototransistor for light from least
// to greatest lux, and says how well one sensor serves the range and whether two
// are needed. Whatever the chain has for LoadOhm is ignored, and the chain is not
// changed. least is 1e-6 lx or more, greatest at least twice that and at most 1e6.
//
// The best load is the preferred number with which the worse end of the range has
// most counts per octave. Where no load reads both ends it is the one that reads
// most octaves. Every number of the series from 1 ohm to 1 Gohm is tried, so that
// dead zones, reference, input resistance and dark resistance count.
//
// Errors are those of Validate, a *PartError for the arguments, ErrNoPart for a
// digital sensor, which has no load, ErrSeries, and ErrBlind where no load at all will do.
func (c Chain) Design(least, greatest float64, o DesignOptions) (Design, error) {
	trial := c.withLoad(1e3) // any; the others are tried later
	o, err := trial.asked(least, greatest, o)
	if err != nil {
		return Design{}, err
	}
	one, err := trial.bestLoad(least, greatest, o)
	if err != nil {
		return Design{}, err
	}
	d := Design{One: one, Enough: one.worst() >= o.CountsPerOctave}
	if !d.Enough {
		d.Two, err = trial.pair(least, greatest, o)
	}
	return d, err
}

// Pair is what two sensors of the kind can do, also where Design finds that one is
// enough. Arguments and errors are those of Design.
func (c Chain) Pair(least, greatest float64, o DesignOptions) (*Pair, error) {
	trial := c.withLoad(1e3) // any
	o, err := trial.asked(least, greatest, o)
	if err != nil {
		return nil, err
	}
	return trial.pair(least, greatest, o)
}

// pair halves the range. For a power law and for a straight line alike the two halves
// are equal on a logarithmic scale: any other cut makes one of them worse.
func (c Chain) pair(least, greatest float64, o DesignOptions) (*Pair, error) {
	middle := math.Sqrt(least) * math.Sqrt(greatest)
	dim, errDim := c.bestLoad(least, middle, o)
	bright, errBright := c.bestLoad(middle, greatest, o)
	if err := errors.Join(errDim, errBright); err != nil {
		return nil, err
	}
	return newPair(dim, bright, least, greatest, o.CountsPerOctave)
}

// asked checks what a design is asked for, and settles the options.
func (c Chain) asked(least, greatest float64, o DesignOptions) (DesignOptions, error) {
	if c.Divider == nil && c.Phototransistor == nil {
		return o, fmt.Errorf("%w: only a divider and a phototransistor have a load to choose", ErrNoPart)
	}
	o, err := o.settled()
	return o, errors.Join(err, c.validate(), checked([]row{
		{"design.least_lux", least, 1e-6, 1e6, "the darkest light that matters"},
		{"design.greatest_lux", greatest, 2 * least, 1e6, "the brightest light that matters"},
	}))
}

func (o DesignOptions) settled() (DesignOptions, error) {
	if o.Series == 0 {
		o.Series = E24
	}
	o.CountsPerOctave = orElse(o.CountsPerOctave, usualFineness)
	o.SunLux = orElse(o.SunLux, usualSun)
	var series error
	if !o.Series.Valid() {
		series = fmt.Errorf("%w: it is E%d", ErrSeries, o.Series)
	}
	return o, errors.Join(series, checked([]row{
		{"design.counts_per_octave", o.CountsPerOctave, 1, 1e6, ""},
		{"design.sun_lux", o.SunLux, 1, 1e6, ""},
	}))
}

// withLoad is the chain with another load, sharing nothing that is changed.
func (c Chain) withLoad(ohms float64) Chain {
	if c.Divider != nil {
		d := *c.Divider
		d.LoadOhm = ohms
		c.Divider = &d
	}
	if c.Phototransistor != nil {
		p := *c.Phototransistor
		p.LoadOhm = ohms
		c.Phototransistor = &p
	}
	return c
}

// bestLoad tries them all. A score above 0 is the worse end's counts per octave,
// below 0 the octaves that are not read.
func (c Chain) bestLoad(least, greatest float64, o DesignOptions) (Load, error) {
	best, score := Load{}, math.Inf(-1)
	err := ErrBlind
	for ohms := range o.Series.Range(leastLoad, greatestLoad) {
		chain := c.withLoad(ohms)
		conv, fault := chain.Compile()
		if fault != nil {
			err = fault
			continue
		}
		l := chain.load(conv, ohms, least, greatest, o.SunLux)
		s := l.worst()
		if s == 0 {
			s = -unread(l.DarkLux, l.SaturatesLux, least, greatest)
		}
		if s > score {
			best, score = l, s
		}
	}
	if best.Ohms == 0 {
		return Load{}, err
	}
	best.IdealOhm = c.idealLoad(least, greatest)
	return best, nil
}

// unread is how many octaves of least to greatest lie outside dark to saturates.
func unread(dark, saturates, least, greatest float64) float64 {
	read := math.Log2(math.Min(saturates, greatest)) - math.Log2(math.Max(dark, least))
	return math.Log2(greatest/least) - math.Max(0, read)
}

func (c Chain) load(conv *Converter, ohms, least, greatest, sun float64) Load {
	l := Load{
		Ohms: ohms, Chain: c, Swing: math.Abs(conv.law.share(greatest) - conv.law.share(least)),
		CountsPerOctaveLeast: conv.CountsPerOctave(least), CountsPerOctaveGreatest: conv.CountsPerOctave(greatest),
	}
	l.DarkLux, l.SaturatesLux = conv.Range()
	l.SunDensity = math.Max(0, math.Log10(sun/l.SaturatesLux))
	return l
}

// idealLoad allows for the converter's input, which lies beside a load to ground:
// the load must be larger; +Inf where the input alone is too small already.
func (c Chain) idealLoad(least, greatest float64) float64 {
	input := conductance(c.ADC.InputOhm)
	if c.Phototransistor != nil {
		p := *c.Phototransistor
		volts := (p.SupplyV - p.SaturationV) * orElse(p.LinearFraction, usualLinearFraction)
		return 1 / math.Max(0, (p.AmperesPerLux*greatest+p.DarkAmperes)/volts-input)
	}
	l := newDividerLaw(*c.Divider, c.ADC) // a cell at the bottom has the input in its dark conductance
	at := func(lux float64) float64 { return 1 / (math.Pow(lux/lawLux, l.gamma)/l.r10 + l.dark) }
	load, _ := WidestSwing(at(greatest), at(least))
	if !l.top {
		return load
	}
	return 1 / math.Max(0, 1/load-input)
}

// newPair finds the light where the finer scale changes from the dim sensor to the
// bright one, by halving on a logarithmic scale. It changes once: the dim one
// flattens or ends while the bright one still steepens.
func newPair(dim, bright Load, least, greatest, fineness float64) (*Pair, error) {
	p := &Pair{Dim: dim, Bright: bright}
	d, errDim := dim.Chain.Compile()
	b, errBright := bright.Chain.Compile()
	if err := errors.Join(errDim, errBright); err != nil {
		return nil, err
	}
	// Below the dim one's own darkness neither has a scale.
	low, high := math.Log(math.Max(least, dim.DarkLux)), math.Log(greatest)
	for range 60 { // to the last bit of 14 decades
		middle := 0.5 * (low + high)
		if lux := math.Exp(middle); d.CountsPerOctave(lux) > b.CountsPerOctave(lux) {
			low = middle
		} else {
			high = middle
		}
	}
	p.HandoverLux = math.Exp(0.5 * (low + high))
	// Just above the handover the bright one serves, just below it the dim one.
	p.CountsPerOctave = min(d.CountsPerOctave(least), b.CountsPerOctave(greatest),
		d.CountsPerOctave(math.Exp(low)), b.CountsPerOctave(math.Exp(high)))
	p.Enough = p.CountsPerOctave >= fineness
	return p, nil
}
