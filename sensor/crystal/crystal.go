package crystal

import (
	"fmt"
	"math"
	"time"
)

// A Crystal is the part of a clock that swings, with what is known about it. Rates
// are in parts per million (ppm), positive where the clock gains; every ...U is a
// standard uncertainty in its quantity's unit (a printed tolerance a is a/sqrt 3).
// The zero value keeps perfect time. Safe to copy and share.
type Crystal struct {
	OffsetPPM  float64 // rate at the turnover temperature, [-1000, 1000]
	OffsetPPMU float64 // [0, 1000]
	TurnoverC  float64 // where it runs fastest, degrees Celsius, [-50, 100]
	TurnoverU  float64 // kelvin, [0, 50]
	Curvature  float64 // ppm lost per kelvin squared from the turnover, [0, 1]; 0 for a compensated clock
	CurvatureU float64 // [0, 1]
	AgeingPPM  float64 // by which the rate rises in 365.25 days, [-100, 100]
	AgeingPPMU float64 // [0, 100]
	// Measured is when the rate at the turnover was OffsetPPM, from which it ages.
	// The zero instant means whenever the clock is set.
	Measured time.Time
}

// TuningFork is the 32,768 Hz crystal of nearly every battery clock, as catalogues
// describe an unknown one: turnover 25 ± 5 degrees Celsius, 0.034 ± 0.006 ppm/K²
// (both from memory), offset 0 ± 20 ppm, ageing 0 ± 3 ppm in the first year (second-hand copies
// of data sheets), each tolerance taken as a rectangle.
func TuningFork() Crystal {
	return Crystal{
		OffsetPPMU: 20 / math.Sqrt(3),
		TurnoverC:  25, TurnoverU: 5 / math.Sqrt(3),
		Curvature: 0.034, CurvatureU: 0.006 / math.Sqrt(3),
		AgeingPPMU: 3 / math.Sqrt(3),
	}
}

// RatePPM is the crystal's rate, ppm, at tempC degrees Celsius before any ageing:
// OffsetPPM - Curvature (tempC - TurnoverC)².
func (c Crystal) RatePPM(tempC float64) float64 {
	d := tempC - c.TurnoverC
	return c.OffsetPPM - c.Curvature*d*d
}

// A RangeError says which field was out of range. Both ends are allowed.
type RangeError struct {
	Field    string  // type and field, as in Crystal.TurnoverC
	Value    float64 // in the field's own unit
	Min, Max float64 // in the same unit
}

// Error names the field, what it is, and the range in the field's own unit.
func (e *RangeError) Error() string {
	return fmt.Sprintf("crystal: %s is %g, want %g to %g", e.Field, e.Value, e.Min, e.Max)
}

type row struct {
	field           string
	value, min, max float64
}

// checked returns a *RangeError for the first row that is out of range, as NaN is.
func checked(rows ...row) error {
	for _, r := range rows {
		if !(r.value >= r.min && r.value <= r.max) {
			return &RangeError{Field: r.field, Value: r.value, Min: r.min, Max: r.max}
		}
	}
	return nil
}

func (c Crystal) validate() error {
	return checked(
		row{"Crystal.OffsetPPM", c.OffsetPPM, -1000, 1000},
		row{"Crystal.OffsetPPMU", c.OffsetPPMU, 0, 1000},
		row{"Crystal.TurnoverC", c.TurnoverC, -50, 100},
		row{"Crystal.TurnoverU", c.TurnoverU, 0, 50},
		row{"Crystal.Curvature", c.Curvature, 0, 1},
		row{"Crystal.CurvatureU", c.CurvatureU, 0, 1},
		row{"Crystal.AgeingPPM", c.AgeingPPM, -100, 100},
		row{"Crystal.AgeingPPMU", c.AgeingPPMU, 0, 100},
	)
}
