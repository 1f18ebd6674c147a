package sensor

import "math"

// Try says of a load that somebody has soldered, or means to, what Design says of
// the one that it chooses. Whatever the chain has for LoadOhm is ignored, and the
// chain is not changed. Arguments and errors are those of Design; ohms is 1 to 1e9,
// and ErrBlind is for a load with which no light gives a number. Of the options
// only SunLux matters.
func (c Chain) Try(ohms, least, greatest float64, o DesignOptions) (Load, error) {
	trial := c.withLoad(ohms)
	o, err := trial.asked(least, greatest, o)
	if err != nil {
		return Load{}, err
	}
	conv, err := trial.Compile()
	if err != nil {
		return Load{}, err
	}
	l := trial.load(conv, ohms, least, greatest, o.SunLux)
	l.IdealOhm = trial.idealLoad(least, greatest)
	return l, nil
}

// Behind is the light, lx, from which and to which the sensor reads behind a filter
// of an optical density (a decimal logarithm, 0 or more): DarkLux and SaturatesLux
// times 10^density. A filter moves the range and makes it no wider. To a
// photoresistor without dark resistance it does what a load smaller by
// 10^(gamma density) does; to a phototransistor what one smaller by 10^density does.
func (l Load) Behind(density float64) (darkLux, saturatesLux float64) {
	dimmed := math.Pow(10, density)
	return l.DarkLux * dimmed, l.SaturatesLux * dimmed
}

// A Strain is the most that the parts must bear in any light, the converter's
// input left out.
type Strain struct {
	Amperes float64 // through sensor and load, where the sensor has no ohms left
	SensorW float64 // watts in the cell or transistor, where it has half of the supply; a cell bears about 0.1 W (from memory)
	LoadW   float64 // watts in the load, where the load has all of the supply
}

// Strain is Ohm's law: supply/load, supply^2/(4 load) and supply^2/load. The
// second is where a source gives most power, into what has as many volts as it keeps.
func (l Load) Strain() Strain {
	supply := 0.0
	if d := l.Chain.Divider; d != nil {
		supply = d.SupplyV
	}
	if p := l.Chain.Phototransistor; p != nil {
		supply = p.SupplyV
	}
	amperes := supply / l.Ohms
	return Strain{Amperes: amperes, SensorW: supply * amperes / 4, LoadW: supply * amperes}
}
