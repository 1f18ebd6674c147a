package sensor

import "math"

// Steps are the links of the chain for one logged value, for a person who follows
// it with a meter. Where the reading is a bound they are those of the bound; where
// it is Missing they are NaN. A Digital sensor has none: they are 0.
type Steps struct {
	Volts   float64 // at the converter's input
	Ohms    float64 // of the photoresistor, its dark resistance included; 0 for a phototransistor
	Amperes float64 // through the photoresistor or the phototransistor
	Reading Reading // what comes out of them
}

// Steps is Lux with all that lies between.
func (c *Converter) Steps(counts float64) Steps {
	s := Steps{Reading: c.Lux(counts)}
	held := math.Min(math.Max(counts, c.low), c.high) // NaN stays
	k := c.at(held)
	v := (held - k.offset) * k.perCount
	if p, ok := c.law.(interface {
		parts(v float64) (volts, ohms, amperes float64)
	}); ok {
		s.Volts, s.Ohms, s.Amperes = p.parts(v)
	}
	return s
}

func (l *dividerLaw) parts(v float64) (volts, ohms, amperes float64) {
	x := v * l.perSupply
	volts = x * l.supply
	if l.top {
		ohms, amperes = l.load*(1-x)/x, volts/l.load
		return volts, ohms, amperes
	}
	ohms = 1 / ((1-x)/(x*l.load) - l.input)
	return volts, ohms, volts / ohms
}

func (l *transistorLaw) parts(v float64) (volts, ohms, amperes float64) {
	volts = v * l.reference
	return volts, 0, volts / l.load
}
