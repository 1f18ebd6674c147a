package fit

import "math"

// A turn makes light of a reading that falls as the light grows: the voltage over a
// photoresistor that hangs at the bottom of its divider. With the converter's full scale
// top, (top - v)/v is the load over the cell's resistance, which grows with the light as
// a power of it (Ohm's law). Nothing but the full scale has to be known, and that little
// only matters in the dark. The zero value leaves readings as they are.
type turn struct{ top float64 }

// fullScales are what readings of common converters end at: counts of 8 to 16 bits, and
// volts. Common practice, no source.
var fullScales = []float64{1.1, 1.8, 3.3, 5, 255, 1023, 4095, 16383, 65535}

// turned is the turn that suits the values.
func turned(values []float64) turn {
	var most float64
	for _, v := range values {
		most = math.Max(most, v)
	}
	for _, top := range fullScales {
		if most <= top {
			return turn{top}
		}
	}
	return turn{most * 1.001}
}

// read is the value that grows with light, and by how much it changes with the reading.
func (t turn) read(v float64) (value, slope float64) {
	if t.top == 0 {
		return v, 1
	}
	return (t.top - v) / v, t.top / (v * v)
}

// A state is what a reading is good for.
type state uint8

const (
	plain state = iota
	faint       // too close to nothing for a logarithm
	full        // at the end at which the light is greatest
)

// state of a reading, for a sensor of that resolution whose values stay at the least and
// the greatest of them where they are rails.
func (t turn) state(v, step, least, greatest float64) state {
	if t.top == 0 {
		switch {
		case v >= greatest:
			return full
		case v < darkSteps*step || v <= 0:
			return faint
		}
		return plain
	}
	switch {
	case v <= least || v < darkSteps*step || v <= 0:
		return full
	case t.top-v < darkSteps*step || v >= greatest:
		return faint
	}
	return plain
}
