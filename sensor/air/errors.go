package air

import "fmt"

// A RangeError says which quantity was outside the range for which a formula holds.
type RangeError struct {
	Field    string  // what was given, or what would have come out
	Value    float64 // what it was
	Min, Max float64 // in the unit of the field; both ends are allowed
	Unit     string  // of Value, Min and Max
}

// Error names the quantity, what it is, and the range with its unit.
func (e *RangeError) Error() string {
	return fmt.Sprintf("air: %s is %g %s, want %g to %g %s", e.Field, e.Value, e.Unit, e.Min, e.Max, e.Unit)
}

// An OrderError says which sample is not later than the one before it. Sort the
// series, and drop or average the samples that share an instant.
type OrderError struct {
	Index int // of the later sample in the slice, from 0
}

// Error names the sample and what to do.
func (e *OrderError) Error() string {
	return fmt.Sprintf("air: sample %d is not later than the one before it: sort the series and merge equal times", e.Index)
}

// within returns a *RangeError unless min <= v <= max, which NaN never is.
func within(field string, v, min, max float64, unit string) error {
	if v >= min && v <= max {
		return nil
	}
	return &RangeError{Field: field, Value: v, Min: min, Max: max, Unit: unit}
}
