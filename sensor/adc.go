package sensor

import "math"

// An ADC is an analogue-to-digital converter that rounds to the nearest of its
// 2^Bits codes:
//
//	counts = OffsetCounts + Gain 2^Bits V/reference
//
// A converter that cuts instead of rounding reads half a code low: give it an
// OffsetCounts of -0.5. A library that divides by 2^Bits-1 is matched by a Gain of
// 1-2^-Bits. One whose scale is bent has a Table instead of both. The zero value is refused: set Bits, and ReferenceV or Ratiometric.
type ADC struct {
	Bits int `json:"bits"` // 8 to 24
	// ReferenceV is the voltage of full scale, volts, 0.1 to 60. With Ratiometric
	// it may be left out; where it is given it must equal the supply.
	ReferenceV float64 `json:"reference_v,omitempty"`
	ReferenceU float64 `json:"reference_u_v,omitempty"` // standard uncertainty of ReferenceV, volts
	// Ratiometric says that the converter measures against the supply of the
	// sensor's circuit. A divider's reading then does not depend on the supply.
	Ratiometric bool `json:"ratiometric,omitempty"`
	// InputOhm is the resistance from the input to ground, ohms; 0 means that it
	// loads nothing.
	InputOhm float64 `json:"input_ohm,omitempty"`
	InputLnU float64 `json:"input_ln_u,omitempty"` // standard uncertainty of ln InputOhm

	OffsetCounts float64    `json:"offset_counts,omitempty"`   // what it logs at 0 V, below 0 if it needs some volts to leave 0
	OffsetU      float64    `json:"offset_u_counts,omitempty"` // standard uncertainty of OffsetCounts, counts
	Gain         float64    `json:"gain,omitempty"`            // 0.5 to 2; 0 means 1
	GainLnU      float64    `json:"gain_ln_u,omitempty"`       // standard uncertainty of ln Gain
	Table        *CodeTable `json:"table,omitempty"`           // instead of OffsetCounts and Gain where the scale is bent
	// NonlinearityCounts is the largest departure from the straight line, counts
	// (integral nonlinearity), or from the table. It enters as a rectangular distribution of that
	// half-width, GUM 4.3.7, common to all readings.
	NonlinearityCounts float64 `json:"nonlinearity_counts,omitempty"`

	// DeadLow and DeadHigh are the parts of full scale at the bottom and at the
	// top that are not to be believed; a count there is a bound. 0 means 0.02: small
	// converters have dead zones of tens of millivolts (from memory). A fraction of
	// less than a code leaves the end code alone, which is always a bound.
	DeadLow  float64 `json:"dead_low_fraction,omitempty"`
	DeadHigh float64 `json:"dead_high_fraction,omitempty"`

	NoiseCounts float64 `json:"noise_counts,omitempty"` // standard deviation of one conversion beyond rounding, counts
	// Averaged is the number of conversions averaged into one logged value; 0 means 1.
	Averaged int `json:"averaged,omitempty"`
	// LogStepCounts is the step to which the average was rounded for the log,
	// counts; 0 means that the log has digits enough.
	LogStepCounts float64 `json:"log_step_counts,omitempty"`
}

const (
	usualDeadFraction = 0.02 // codes within 2 % of either end; from memory
	dither            = 0.5  // counts of noise that make rounding errors independent; common practice, no source
)

// codes is the number of codes, 2^Bits.
func (a ADC) codes() float64 { return math.Ldexp(1, a.Bits) }

func (a ADC) gain() float64 { return orElse(a.Gain, 1) }

// readU is the standard uncertainty of one logged value by noise and rounding,
// counts. Rounding to a step is 1/sqrt 12 of it (GUM F.2.2.1; W. R. Bennett, Bell
// Syst. Tech. J. 27 (1948) 446). The mean of n readings has less noise by sqrt n,
// but less rounding only where the noise is enough to move the code about: a quiet
// input gives the same wrong code n times.
func (a ADC) readU() float64 {
	n := math.Max(1, float64(a.Averaged))
	rounding := 1.0 / 12
	if a.NoiseCounts >= dither {
		rounding /= n
	}
	return math.Sqrt(a.NoiseCounts*a.NoiseCounts/n + rounding + a.LogStepCounts*a.LogStepCounts/12)
}

// absoluteU is the common uncertainty of a count that does not grow with it, counts.
func (a ADC) absoluteU() float64 {
	return math.Hypot(a.OffsetU, a.NonlinearityCounts/math.Sqrt(3))
}

// readable is the span of counts between the dead zones. The end codes are out
// of it in any case: they stand for everything beyond.
func (a ADC) readable() (low, high float64) {
	n := a.codes()
	low = math.Max(0.5, orElse(a.DeadLow, usualDeadFraction)*n)
	high = math.Min(n-1.5, (1-orElse(a.DeadHigh, usualDeadFraction))*n)
	if a.Table != nil {
		points := a.Table.Points
		low, high = math.Max(low, points[0].Counts), math.Min(high, points[len(points)-1].Counts)
	}
	return low, high
}

func (a ADC) rows() []row {
	rows := []row{
		{"adc.bits", float64(a.Bits), 8, 24, "the converter's resolution"},
		{"adc.reference_u_v", a.ReferenceU, 0, 60, ""},
		{"adc.input_ohm", a.InputOhm, 0, 1e15, ""},
		{"adc.input_ln_u", a.InputLnU, 0, maxLnU, ""},
		{"adc.offset_counts", a.OffsetCounts, -1e6, 1e6, ""},
		{"adc.offset_u_counts", a.OffsetU, 0, 1e6, ""},
		{"adc.gain", a.gain(), 0.5, 2, ""},
		{"adc.gain_ln_u", a.GainLnU, 0, maxLnU, ""},
		{"adc.nonlinearity_counts", a.NonlinearityCounts, 0, 1e6, ""},
		{"adc.dead_low_fraction", a.DeadLow, 0, 0.45, ""},
		{"adc.dead_high_fraction", a.DeadHigh, 0, 0.45, ""},
		{"adc.noise_counts", a.NoiseCounts, 0, 1e6, ""},
		{"adc.averaged", float64(a.Averaged), 0, 1e6, ""},
		{"adc.log_step_counts", a.LogStepCounts, 0, 1e6, ""},
	}
	rows = append(rows, a.tableRows()...)
	if !a.Ratiometric {
		rows = append(rows, row{"adc.reference_v", a.ReferenceV, 0.1, 60, "the voltage of full scale, or ratiometric"})
	}
	return rows
}

// orElse is a setting whose zero means the usual value.
func orElse(v, usual float64) float64 {
	if v == 0 { // exactly: not set
		return usual
	}
	return v
}
