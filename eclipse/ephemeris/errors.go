package ephemeris

import (
	"errors"
	"fmt"
)

// ErrNoEclipse is returned by [Find] when the new Moon next to the instant that
// was asked for passes clear of the Sun everywhere on Earth.
var ErrNoEclipse = errors.New("ephemeris: no solar eclipse at the nearest new Moon")

// A RangeError says which quantity was out of which range.
type RangeError struct {
	Field    string  // such as "Options.Span, hours"
	Value    float64 // what was found
	Min, Max float64 // what was wanted, ends included
}

// Error names the quantity, what it is and what was wanted.
func (e *RangeError) Error() string {
	return fmt.Sprintf("ephemeris: %s is %v, want %v to %v", e.Field, e.Value, e.Min, e.Max)
}

// within returns nil if min <= value <= max, which is false for NaN.
func within(field string, value, min, max float64) error {
	if value >= min && value <= max {
		return nil
	}
	return &RangeError{Field: field, Value: value, Min: min, Max: max}
}
