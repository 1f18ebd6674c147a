package sensor

import (
	"errors"
	"fmt"
)

// A Chain is everything between light and the number in the log: exactly one of
// Divider, Phototransistor and Digital, and for the first two the ADC. It is plain
// data, to be kept as JSON beside the log; Compile turns it into a Converter. The
// zero value is refused.
type Chain struct {
	ADC             ADC              `json:"adc,omitzero"`
	Divider         *Divider         `json:"divider,omitempty"`
	Phototransistor *Phototransistor `json:"phototransistor,omitempty"`
	Digital         *Digital         `json:"digital,omitempty"`
	Angular         *AngularResponse `json:"angular,omitempty"` // for Converter.LuxFrom; nil is a cosine receiver
}

// What a Chain is refused for, beside the fields that a PartError names.
var (
	// ErrNoPart says that a chain has no sensor, or more than one.
	ErrNoPart = errors.New("sensor: set exactly one of divider, phototransistor and digital")
	// ErrWiring says that it was not told on which side of the divider the cell is.
	ErrWiring = errors.New(`sensor: divider.wiring is neither "cell-on-top" nor "cell-at-bottom"`)
	// ErrBlind says that no light would give a count that can be believed.
	ErrBlind = errors.New("sensor: no light gives a readable count")
)

// A PartError names a field that cannot be, by its JSON path in the Chain.
type PartError struct {
	Field    string  // as in divider.load_ohm
	Value    float64 // what was found, in the field's own unit
	Min, Max float64 // what is allowed, ends included
	Hint     string  // what to set, where the field must be set
}

// Error names the field, what it is and what is allowed.
func (e *PartError) Error() string {
	hint := ""
	if e.Hint != "" && e.Value == 0 {
		hint = ": set " + e.Hint
	}
	return fmt.Sprintf("sensor: %s is %g, want %g to %g%s", e.Field, e.Value, e.Min, e.Max, hint)
}

// Validate reports everything that is wrong with the chain at once: for each
// field a *PartError, and ErrNoPart, ErrWiring or ErrBlind.
func (c *Chain) Validate() error {
	_, err := c.Compile()
	return err
}

// row is one line of a validation; the range is written so that NaN is out of it.
type row struct {
	field    string
	value    float64
	min, max float64
	hint     string
}

func checked(rows []row) error {
	var faults []error
	for _, r := range rows {
		if !(r.value >= r.min && r.value <= r.max) {
			faults = append(faults, &PartError{Field: r.field, Value: r.value, Min: r.min, Max: r.max, Hint: r.hint})
		}
	}
	return errors.Join(faults...)
}

// maxLnU is the largest uncertainty of a logarithm that still says anything: a
// factor of e either way. Propagation is linear and fails long before.
const maxLnU = 1

// validate checks the fields one by one and then those that must agree.
func (c *Chain) validate() error {
	parts := 0
	var rows []row
	var wiring error
	if c.Divider != nil {
		parts++
		rows = append(rows, c.Divider.rows()...)
		rows = append(rows, c.ADC.supplied("divider", c.Divider.SupplyV)...)
		wiring = c.Divider.wired()
	}
	if c.Phototransistor != nil {
		parts++
		rows = append(rows, c.Phototransistor.rows()...)
		rows = append(rows, c.ADC.supplied("phototransistor", c.Phototransistor.SupplyV)...)
	}
	if c.Digital != nil {
		parts++
		rows = append(rows, c.Digital.rows()...)
	} else {
		rows = append(rows, c.ADC.rows()...)
	}
	if parts != 1 {
		return ErrNoPart
	}
	if c.Angular != nil {
		rows = append(rows, c.Angular.rows()...)
	}
	return errors.Join(checked(rows), wiring)
}

// supplied adds that a ratiometric converter's reference is the supply.
func (a ADC) supplied(part string, volts float64) []row {
	rows := []row{{part + ".supply_v", volts, 0.5, 60, "the voltage across the circuit"}}
	if a.Ratiometric && a.ReferenceV != 0 {
		rows = append(rows, row{"adc.reference_v", a.ReferenceV, volts, volts, ""})
	}
	return rows
}
