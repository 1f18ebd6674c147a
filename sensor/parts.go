package sensor

import (
	"errors"
	"fmt"
	"math"
)

// An ADC is an analogue-to-digital converter: code = V/Reference 2^Bits. The zero
// value is refused: Bits and ReferenceV must be set.
type ADC struct {
	Bits       int     `json:"bits"`        // 8 to 24
	ReferenceV float64 `json:"reference_v"` // full scale, volts
	// Ratiometric says that the reference is the divider's own supply, so that
	// its drift cancels.
	Ratiometric bool `json:"ratiometric,omitempty"`
	// OffsetCounts is subtracted from a code before anything else, and Gain, one
	// where zero, divides what is left.
	OffsetCounts float64 `json:"offset_counts,omitempty"`
	Gain         float64 `json:"gain,omitempty"`
	// RailFraction is the part of the range at either end that is not to be
	// believed; zero means 0.02 (common practice, no source: small converters have
	// dead zones of some tens of millivolts there).
	RailFraction float64 `json:"rail_fraction,omitempty"`
	// NoiseCounts is the standard deviation of one conversion beyond rounding.
	NoiseCounts float64 `json:"noise_counts,omitempty"`
	// Averaged is how many conversions are in one logged value; zero means one.
	Averaged int `json:"averaged,omitempty"`
	// InputOhm is the input's resistance to ground; zero means that it loads nothing.
	InputOhm float64 `json:"input_ohm,omitempty"`
}

// A Photoresistor is a cadmium sulphide cell: R10Ohm at 10 lx, falling with light
// as the power Gamma, in parallel with DarkOhm.
type Photoresistor struct {
	R10Ohm float64 `json:"r10_ohm"`
	Gamma  float64 `json:"gamma"` // 0.3 to 1.5; catalogues 0.5 to 0.9
	// DarkOhm is its resistance without light; zero means that it has none to speak of.
	DarkOhm float64 `json:"dark_ohm,omitempty"`
	// MaxLux is the light above which the power law is not to be believed; zero
	// means 200,000 lx, more than the Sun gives.
	MaxLux float64 `json:"max_lux,omitempty"`
	// Standard uncertainties: of the logarithm of R10Ohm, and of Gamma.
	R10U   float64 `json:"r10_u,omitempty"`
	GammaU float64 `json:"gamma_u,omitempty"`
}

// A Divider is a photoresistor and a load across a supply.
type Divider struct {
	SupplyV   float64       `json:"supply_v"`
	LoadOhm   float64       `json:"load_ohm"`
	CellOnTop bool          `json:"cell_on_top,omitempty"`
	Cell      Photoresistor `json:"cell"`
	// ToleranceFraction is the load's printed tolerance as a half-width, 0.05 for
	// 5 %; it enters as a rectangular distribution (GUM 4.3.7).
	ToleranceFraction float64 `json:"tolerance_fraction,omitempty"`
}

// A Phototransistor gives a current in proportion to light into a load.
type Phototransistor struct {
	SupplyV           float64 `json:"supply_v"`
	LoadOhm           float64 `json:"load_ohm"`
	AmperesPerLux     float64 `json:"amperes_per_lux"`
	SaturationV       float64 `json:"saturation_v,omitempty"`       // left across the transistor when it is fully on
	SensitivityU      float64 `json:"sensitivity_u,omitempty"`      // relative standard uncertainty of AmperesPerLux
	ToleranceFraction float64 `json:"tolerance_fraction,omitempty"` // of the load, half-width
}

// A Digital sensor reports lux itself, LuxPerCount a count.
type Digital struct {
	LuxPerCount float64 `json:"lux_per_count"`     // 1 for a sensor that prints lux
	MaxCounts   float64 `json:"max_counts"`        // its ceiling; a count there is a bound
	ScaleU      float64 `json:"scale_u,omitempty"` // relative standard uncertainty
}

// A Chain is everything between light and the number in the log: exactly one of
// Divider, Phototransistor and Digital, and the ADC for the first two.
type Chain struct {
	ADC             ADC              `json:"adc,omitzero"`
	Divider         *Divider         `json:"divider,omitempty"`
	Phototransistor *Phototransistor `json:"phototransistor,omitempty"`
	Digital         *Digital         `json:"digital,omitempty"`
}

// A PartError names the field of a part that cannot be.
type PartError struct {
	Field      string
	Value      float64
	Min, Max   float64
	Suggestion string
}

func (e *PartError) Error() string {
	return fmt.Sprintf("sensor: %s is %g, want %g to %g%s", e.Field, e.Value, e.Min, e.Max, e.Suggestion)
}

// ErrNoPart says that a Chain has no sensor, or more than one.
var ErrNoPart = errors.New("sensor: set exactly one of Divider, Phototransistor and Digital")

// within is one line of a validation.
type within struct {
	field    string
	value    float64
	min, max float64
}

func check(rows []within) error {
	var faults []error
	for _, r := range rows {
		if !(r.value >= r.min && r.value <= r.max) {
			faults = append(faults, &PartError{Field: r.field, Value: r.value, Min: r.min, Max: r.max})
		}
	}
	return errors.Join(faults...)
}

// Validate reports every field that cannot be; the errors are *PartError or
// ErrNoPart.
func (c *Chain) Validate() error {
	n := 0
	var rows []within
	if d := c.Divider; d != nil {
		n++
		rows = append(rows,
			within{"divider.supply_v", d.SupplyV, 0.5, 60},
			within{"divider.load_ohm", d.LoadOhm, 1, 1e9},
			within{"divider.tolerance_fraction", d.ToleranceFraction, 0, 0.5},
			within{"divider.cell.r10_ohm", d.Cell.R10Ohm, 10, 1e8},
			within{"divider.cell.gamma", d.Cell.Gamma, 0.3, 1.5},
			within{"divider.cell.dark_ohm", d.Cell.DarkOhm, 0, 1e12},
			within{"divider.cell.max_lux", d.Cell.MaxLux, 0, 1e6},
			within{"divider.cell.r10_u", d.Cell.R10U, 0, 2},
			within{"divider.cell.gamma_u", d.Cell.GammaU, 0, 0.5},
		)
	}
	if p := c.Phototransistor; p != nil {
		n++
		rows = append(rows,
			within{"phototransistor.supply_v", p.SupplyV, 0.5, 60},
			within{"phototransistor.load_ohm", p.LoadOhm, 1, 1e9},
			within{"phototransistor.amperes_per_lux", p.AmperesPerLux, 1e-12, 1},
			within{"phototransistor.saturation_v", p.SaturationV, 0, p.SupplyV},
			within{"phototransistor.sensitivity_u", p.SensitivityU, 0, 2},
			within{"phototransistor.tolerance_fraction", p.ToleranceFraction, 0, 0.5},
		)
	}
	if d := c.Digital; d != nil {
		n++
		rows = append(rows,
			within{"digital.lux_per_count", d.LuxPerCount, 1e-9, 1e6},
			within{"digital.max_counts", d.MaxCounts, 1, 1e12},
			within{"digital.scale_u", d.ScaleU, 0, 2},
		)
	}
	if n != 1 {
		return ErrNoPart
	}
	if c.Digital == nil {
		a := c.ADC
		rows = append(rows,
			within{"adc.bits", float64(a.Bits), 8, 24},
			within{"adc.reference_v", a.ReferenceV, 0.1, 60},
			within{"adc.offset_counts", a.OffsetCounts, -1e6, 1e6},
			within{"adc.gain", a.gain(), 0.5, 2},
			within{"adc.rail_fraction", a.RailFraction, 0, 0.4},
			within{"adc.noise_counts", a.NoiseCounts, 0, 1e6},
			within{"adc.averaged", float64(a.Averaged), 0, 1e6},
			within{"adc.input_ohm", a.InputOhm, 0, 1e15},
		)
	}
	return check(rows)
}

func (a ADC) gain() float64 {
	if a.Gain == 0 {
		return 1
	}
	return a.Gain
}

// Counts is the number of codes, 2^Bits.
func (a ADC) counts() float64 { return math.Ldexp(1, a.Bits) }
