package sensor

import (
	"fmt"
	"math"
	"slices"
)

// A law relates light to a reading v, a share of the converter's full scale.
type law interface {
	lux(v float64) light
	share(lux float64) float64 // unclipped inverse; lux from 0 to endlessLux
	rising() bool              // v rises with light
	maxLux() float64           // where the law ends
	// blur is the variance of the share in darkness and in endless light, by the
	// uncertain parts of the law.
	blur() (dark, endless float64)
}

// light is what a law makes of a reading.
type light struct {
	lux      float64
	slope    float64 // |d ln lux / dv|
	variance float64 // of ln lux, by the uncertain parts of the law
}

// A Converter is a Chain that has been checked and laid out for speed. It does
// not change with the Chain that it was made from and is safe for concurrent use.
type Converter struct {
	law law
	codeLine
	pieces     []codePiece // of a converter with a table, instead of the line
	last       float64     // greatest count that can be logged
	low, high  float64     // counts between which a reading is a number
	below, top Reading     // the bounds outside them
	readVar    float64     // of a count, by noise and rounding
	flatVar    float64     // of a count, common, the same at any count
	scaleVar   float64     // of ln v, common
	angular    AngularResponse
}

// Compile checks the chain and returns its converter. The error is that of
// Validate.
func (c *Chain) Compile() (*Converter, error) {
	if err := c.validate(); err != nil {
		return nil, err
	}
	out, err := c.part()
	if err == nil && c.Angular != nil {
		out.angular = *c.Angular
		out.angular.Points = slices.Clone(out.angular.Points)
	}
	return out, err
}

// part is the converter of a checked chain for light on the axis.
func (c *Chain) part() (*Converter, error) {
	if c.Digital != nil {
		return c.Digital.compile()
	}
	a := c.ADC
	out := &Converter{codeLine: newCodeLine(a.OffsetCounts, a.codes()*a.gain()), pieces: a.Table.pieces(), last: a.codes() - 1, scaleVar: square(a.GainLnU)}
	if !a.Ratiometric {
		out.scaleVar += square(a.ReferenceU / a.ReferenceV)
	}
	if c.Divider != nil {
		l := newDividerLaw(*c.Divider, a)
		out.law = &l
	} else {
		l := newTransistorLaw(*c.Phototransistor, a)
		out.law = &l
	}
	out.low, out.high = a.readable()
	// One count above darkness is the least that can be told from it.
	return out.finish(a.readU(), a.absoluteU(), 1)
}

func (d Digital) compile() (*Converter, error) {
	out := &Converter{law: &digitalLaw{d.LuxPerCount, square(d.LuxPerCountLnU)}, codeLine: newCodeLine(0, 1), last: d.MaxCounts}
	out.low, out.high = 0.5*d.step(), d.MaxCounts-0.5*d.step()
	return out.finish(math.Hypot(d.NoiseCounts, d.step()/math.Sqrt(12)), 0, 0)
}

// tellable is how many standard uncertainties a count must be away from what
// darkness and endless light would give, as with any detection limit (common
// practice, no source).
const tellable = 3

// finish narrows the readable counts to where the law holds and where light can be
// told from none, or from any amount, and works out the bounds at both ends. What
// counts for that is what all readings share: noise makes a reading uncertain, but
// to leave out those that it pulled down would make the mean of the others too bright.
func (c *Converter) finish(readU, flatU, least float64) (*Converter, error) {
	c.readVar, c.flatVar = square(readU), square(flatU)
	dark, bright, endless := c.unclipped(0), c.unclipped(c.law.maxLux()), c.unclipped(endlessLux)
	darkVar, endlessVar := c.law.blur()
	fromDark, fromEndless := math.Max(least, c.away(dark, darkVar)), c.away(endless, endlessVar)
	below, top := TooDark, Saturated
	if c.law.rising() {
		c.low, c.high = math.Max(c.low, dark+fromDark), math.Min(c.high, math.Min(bright, endless-fromEndless))
	} else {
		c.low, c.high = math.Max(c.low, math.Max(bright, endless+fromEndless)), math.Min(c.high, dark-fromDark)
		below, top = top, below
	}
	if !(c.low < c.high) {
		return nil, fmt.Errorf("%w: darkness is %.4g counts, %.4g lx is %.4g, and %.4g to %.4g are readable: try another load",
			ErrBlind, dark, c.law.maxLux(), bright, c.low, c.high)
	}
	c.below, c.top = c.bound(c.low, below), c.bound(c.high, top)
	return c, nil
}

// away is how far from a count one must be, counts, to be surely off it.
func (c *Converter) away(counts, lawVar float64) float64 {
	k := c.at(counts)
	return tellable * math.Sqrt(c.flatVar+square(counts-k.offset)*c.scaleVar+square(k.full)*lawVar)
}

// Lux turns a logged value, in counts, into light. A count in a dead zone, or
// beyond what the sensor can follow, gives a bound; NaN gives Missing.
func (c *Converter) Lux(counts float64) Reading {
	switch {
	case counts < c.low:
		return c.below
	case counts > c.high:
		return c.top
	case counts != counts: // NaN
		return Reading{Lux: math.NaN(), LuxU: math.NaN(), RandomU: math.NaN(), Status: Missing}
	}
	return c.number(counts)
}

// number is the reading of a count between low and high. The variances are of
// ln lux, first-order as GUM 5.1.2; a cause that acts in two places was added up
// inside its law before it was squared.
func (c *Converter) number(counts float64) Reading {
	k := c.at(counts)
	v := (counts - k.offset) * k.perCount
	l := c.law.lux(v)
	s := l.slope * l.slope
	perCount := s * k.perCount * k.perCount
	random := perCount * c.readVar
	all := random + perCount*c.flatVar + s*v*v*c.scaleVar + l.variance
	return Reading{Lux: l.lux, LuxU: l.lux * math.Sqrt(all), RandomU: l.lux * math.Sqrt(random)}
}

// bound is the reading at an end of the readable counts. No noise is in it: it
// is the same for every count beyond.
func (c *Converter) bound(counts float64, s Status) Reading {
	r := c.number(counts)
	return Reading{Lux: r.Lux, LuxU: r.CommonU(), Status: s}
}

// Counts is the value that a light of lux would be logged as, not rounded, and
// held within the codes that there are. Light below 0 is darkness; NaN gives NaN.
func (c *Converter) Counts(lux float64) float64 {
	return math.Min(math.Max(0, c.unclipped(lux)), c.last)
}

func (c *Converter) unclipped(lux float64) float64 {
	return c.counts(c.law.share(math.Min(math.Max(0, lux), endlessLux)))
}

// Range is the least and the greatest light that gives a number and not a bound, lx.
func (c *Converter) Range() (least, greatest float64) {
	return math.Min(c.below.Lux, c.top.Lux), math.Max(c.below.Lux, c.top.Lux)
}
