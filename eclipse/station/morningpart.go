package station

import (
	"fmt"
	"math"

	"example.org/noonfall/sensor"
)

// A Part is the part of a chain that a calibration is of, with all else in the chain
// as it was described: what stands between its value and the log's counts. The zero
// value is no part: make one with [NewPart]. Safe for concurrent use.
type Part struct {
	chain     sensor.Chain
	converter *sensor.Converter
}

// NewPart takes a chain whose photoresistor, transistor or scale is only roughly
// known, a catalogue's will do. The error is that of sensor.Chain.Compile.
func NewPart(c sensor.Chain) (*Part, error) {
	converter, err := c.Compile()
	if err != nil {
		return nil, err
	}
	return &Part{chain: c, converter: converter}, nil
}

// Value is what light alone did to the part when the log took down its counts: ohms
// of a photoresistor and amperes of a phototransistor, less those of darkness, or counts
// of a digital sensor. Its uncertainty is that of noise and rounding alone. Lux is not
// set; where the status is not sensor.OK the value is that of the bound.
func (p *Part) Value(counts float64) (sensor.KnownLight, sensor.Status) {
	s := p.converter.Steps(counts)
	random := s.Reading.RandomU / s.Reading.Lux // of ln lux
	k := sensor.KnownLight{Value: counts, ValueLnU: random}
	switch {
	case p.chain.Divider != nil:
		cell := p.chain.Divider.Cell
		cell.DarkOhm = 0
		k.Value, k.ValueLnU = cell.Ohms(s.Reading.Lux), random*cell.Gamma
	case p.chain.Phototransistor != nil:
		k.Value = s.Amperes - p.chain.Phototransistor.DarkAmperes
	}
	if !(k.ValueLnU <= 1) { // next to darkness
		k.ValueLnU = 1
	}
	return k, s.Reading.Status
}

// Unit is that of Value.
func (p *Part) Unit() string {
	switch {
	case p.chain.Divider != nil:
		return "ohm"
	case p.chain.Phototransistor != nil:
		return "A"
	}
	return "counts"
}

// Calibrated is the chain with what a calibration in Value's unit found. The load's
// tolerance is taken out of it: an error of the load went into every value, and comes
// out again with every count. A part that is linear is calibrated with an exponent of
// 1; one that was fitted is held there ([sensor.Calibration.Held]) if it is within three
// of its uncertainties, and refused if not.
func (p *Part) Calibrated(c sensor.Calibration) (sensor.Chain, error) {
	out := p.chain
	if out.Divider != nil {
		c.Dark = 0 // the chain's own was taken out of each value
		cell, err := c.Photoresistor()
		if err != nil {
			return sensor.Chain{}, err
		}
		d := *out.Divider
		cell.DarkOhm, cell.DarkLnU, cell.MaxLux = d.Cell.DarkOhm, d.Cell.DarkLnU, d.Cell.MaxLux
		d.Cell, d.LoadTolerance = cell, 0
		out.Divider = &d
		return out, out.Validate()
	}
	if !(math.Abs(c.Slope-1) <= math.Max(1e-9, 3*c.SlopeU)) {
		return sensor.Chain{}, fmt.Errorf("station: the chain's part is linear and the calibration's exponent is %.3g, u %.2g: calibrate it with an exponent of 1", c.Slope, c.SlopeU)
	}
	c = c.Held(1)
	perLux := math.Exp(c.LnValue) / sensorLux
	if out.Phototransistor != nil {
		t := *out.Phototransistor
		t.AmperesPerLux, t.AmperesPerLuxLnU, t.DarkR, t.LoadTolerance = perLux, c.LnValueU, 0, 0
		out.Phototransistor = &t
		return out, out.Validate()
	}
	if out.Digital == nil {
		return sensor.Chain{}, fmt.Errorf("station: of this chain's part no calibration is known")
	}
	d := *out.Digital
	d.LuxPerCount, d.LuxPerCountLnU = 1/perLux, c.LnValueU
	out.Digital = &d
	return out, out.Validate()
}
