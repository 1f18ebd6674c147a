package air

import (
	"math"
	"time"
)

// A Thermometer follows the air with a first-order lag: tau dS/dt = air - S. The
// zero value follows at once. Safe to copy and share.
type Thermometer struct {
	// Tau is the time constant, 0 to 6 h: 63.2 % of a step is shown after it. A bare
	// chip in moving air has 10 to 60 s, one in a closed box 5 to 30 min (from memory).
	Tau time.Duration
	// TauU is the standard uncertainty of Tau, 0 to 6 h. It is one unknown for a whole log.
	TauU time.Duration
}

// A Sample is a temperature at an instant.
type Sample struct {
	Time time.Time // of the reading
	C    float64   // degrees Celsius, [-100, 150]
	// U is the standard uncertainty, kelvin, [0, 50], that is this sample's own: noise
	// and rounding (step/sqrt 12). What a calibration leaves open is the same in all
	// samples, passes through unchanged and is for the caller to add.
	U float64
}

// A Value is a temperature worked out from many samples.
type Value struct {
	Time time.Time // that of the sample
	C    float64   // degrees Celsius; NaN where Alone
	// RandomU is the standard uncertainty, kelvin, that the samples' own U make.
	// Neighbouring values share samples: their errors are correlated within a window.
	RandomU float64
	// TauPart is what C would change by, kelvin, with its sign, if Tau were larger by
	// TauU. It is one cause for the whole series: add or subtract it as C is added or
	// subtracted, and square at the end. A drop of C has the drop of TauPart.
	TauPart float64
	// Alone marks a sample with too few neighbours to know a slope from.
	Alone bool
}

// U is the combined standard uncertainty of C, kelvin.
func (v Value) U() float64 { return math.Hypot(v.RandomU, v.TauPart) }

const longestTau = 6 * time.Hour

func (m Thermometer) validate() error {
	for _, r := range []struct {
		field string
		value time.Duration
	}{{"Thermometer.Tau", m.Tau}, {"Thermometer.TauU", m.TauU}} {
		if err := within(r.field, r.value.Seconds(), 0, longestTau.Seconds(), "s"); err != nil {
			return err
		}
	}
	return nil
}

// maxSpan keeps differences of instants well inside a time.Duration, s.
const maxSpan = 100 * 366 * 86400.0

// seconds checks a series and returns its times, s after the first.
func seconds(series []Sample) ([]float64, error) {
	ts := make([]float64, len(series))
	for i, s := range series {
		if err := within("Sample.C", s.C, -100, 150, "degrees Celsius"); err != nil {
			return nil, err
		}
		if err := within("Sample.U", s.U, 0, 50, "kelvin"); err != nil {
			return nil, err
		}
		ts[i] = s.Time.Sub(series[0].Time).Seconds()
		if i > 0 && !(ts[i] > ts[i-1]) {
			return nil, &OrderError{Index: i}
		}
		if err := within("length of the series", ts[i], 0, maxSpan, "s"); err != nil {
			return nil, err
		}
	}
	return ts, nil
}

// Sine says what the thermometer makes of a temperature that swings with a period:
// the fraction of the swing that is left, and how late it comes,
//
//	gain = 1/sqrt(1 + w² tau²)    delay = atan(w tau)/w    w = 2 pi/period
//
// An eclipse is about a swing of two hours. A period that is not positive has gain 0 and delay 0.
func (m Thermometer) Sine(period time.Duration) (gain float64, delay time.Duration) {
	if period <= 0 {
		return 0, 0
	}
	ω := 2 * math.Pi / period.Seconds()
	ωτ := ω * m.Tau.Seconds()
	return 1 / math.Hypot(1, ωτ), time.Duration(math.Atan(ωτ) / ω * float64(time.Second))
}
