package sensor

import "math"

// WidestSwing is the load of a divider whose tap moves most while the cell goes
// from leastOhm to greatestOhm, ohms, and how far it moves, as a part of the supply:
//
//	load = sqrt(least greatest), swing = (s - 1)/(s + 1), s = sqrt(greatest/least)
//
// The derivative of load/(load+least) - load/(load+greatest) is zero there. For a
// cell without dark resistance both ends then have equally many volts per octave of
// light, and with any other load the worse end has fewer. NaN unless 0 < leastOhm <= greatestOhm.
func WidestSwing(leastOhm, greatestOhm float64) (loadOhm, swing float64) {
	if !(leastOhm > 0 && leastOhm <= greatestOhm) {
		return math.NaN(), math.NaN()
	}
	s := math.Sqrt(greatestOhm / leastOhm)
	return math.Sqrt(leastOhm) * math.Sqrt(greatestOhm), (s - 1) / (s + 1)
}

// CountsPerOctave is how many counts a doubling of the light is worth at lux, by
// the slope there: the fineness of the scale. One count is then ln 2 over it, of
// the light: 0.7 % at 100. It is 0 where the light gives a bound and no number.
func (c *Converter) CountsPerOctave(lux float64) float64 {
	counts := c.unclipped(lux)
	// A rounding of the counts themselves does not put an end of the range outside it.
	const slack = 1e-9
	if !(lux > 0 && counts >= c.low-slack && counts <= c.high+slack) {
		return 0
	}
	k := c.at(counts)
	return k.full * math.Ln2 / c.law.lux((counts-k.offset)*k.perCount).slope
}

// A Load is a resistor that was chosen, and what the circuit does with it.
type Load struct {
	Ohms float64 // the preferred number
	// IdealOhm is what it would be if any resistor were sold: WidestSwing's for a
	// photoresistor; for a phototransistor the one with which the brightest light
	// asked for ends the straight line. Dead zones, an absolute reference or conductance in
	// darkness may want another.
	IdealOhm float64
	Swing    float64 // of the converter's full scale, between the ends of the light asked for; above 1 it is clipped

	CountsPerOctaveLeast    float64 // at the least light asked for; 0: too dark
	CountsPerOctaveGreatest float64 // at the greatest light asked for; 0: saturated

	DarkLux      float64 // lx, below which it is TooDark
	SaturatesLux float64 // lx, above which it is Saturated
	// SunDensity is the optical density, a decimal logarithm, of the filter that
	// brings full Sun down to SaturatesLux; 0 where none is needed. It must hold for all the
	// colours that the sensor sees, and silicon sees infrared. No such filter is for eyes.
	SunDensity float64

	Chain Chain // the chain that was given, with this load
}

// worst is the finer scale's lesser end.
func (l Load) worst() float64 {
	return math.Min(l.CountsPerOctaveLeast, l.CountsPerOctaveGreatest)
}

// A Pair is two sensors of one kind with different loads that share a range.
type Pair struct {
	Dim, Bright Load // chosen for the parts below and above the range's geometric mean
	// HandoverLux is the light above which the bright one has more counts per octave.
	// Both can be read from Bright.DarkLux to Dim.SaturatesLux.
	HandoverLux float64
	// CountsPerOctave is that of the one in use where it is least: at an end of the range
	// or beside the handover. 0 means that neither reads some of it.
	CountsPerOctave float64
	Enough          bool // whether the two read all of it as finely as was asked
}

// A Design is the answer to Chain.Design.
type Design struct {
	One    Load
	Enough bool  // whether One reads the whole range as finely as was asked
	Two    *Pair // what two sensors can do; nil where One is enough
}
