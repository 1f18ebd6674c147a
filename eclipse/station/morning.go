package station

import (
	"errors"
	"fmt"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sensor"
	"example.org/noonfall/sun"
)

// A MorningSample is one reading of a clear morning. A plain slice of them is all
// that [FitMorning] wants.
type MorningSample struct {
	Time time.Time // true UTC: a minute of clock error is a fifth of a degree of the Sun
	// Value is what follows a power of the light, above 0: ohms of a photoresistor,
	// amperes, or counts of what has its zero at darkness.
	Value    float64
	ValueLnU float64       // standard uncertainty of ln Value by noise and rounding; 0 where not known
	Status   sensor.Status // sensor.OK for a number; bounds are left out
}

// MorningOptions tunes a calibration by the Sun's climb. The zero value is
// recommended for a sensor that lies flat.
type MorningOptions struct {
	// Surface is how the sensor lies; FacesSun says that it is kept square to the
	// Sun instead, all morning.
	Surface  sun.Surface
	FacesSun bool
	// LeanU is the standard uncertainty of how the sensor lies, degrees either way,
	// up to 5. Zero means 1, by eye and a spirit level (common practice, no source).
	LeanU float64
	// ModelLnU is the standard uncertainty of the logarithm of the clear-sky model's
	// level, up to 1. Zero means 0.19: a third either way (package sun), taken as a
	// rectangular distribution (GUM 4.3.7). No number of minutes beats it down.
	ModelLnU float64
	// Exponent is the power with which the reading follows the light, where it is
	// known: 1 for what is linear. Zero fits it. From -5 to 5.
	Exponent float64
	// MinAlt is the apparent altitude from which minutes are used, degrees, 3 to 60.
	// Zero means 10, below which the model is not to be believed.
	MinAlt float64
	// Day is the calendar day of the morning at the site, by the Sun. Zero means the
	// day with most minutes in the log.
	Day time.Time
	// Elements are used for an eclipse of that day instead of the catalogue's.
	Elements *eclipse.Elements
}

// Reasons for which a morning is refused, looked for in this order.
const (
	SunTooLow      = "Sun too low"       // night, afternoon, or hardly risen
	EclipseGoingOn = "eclipse going on"  // what is left of the morning is eclipsed
	NoUsableLight  = "no usable light"   // nothing that is a number above 0
	SaturatedLight = "saturated"         // at the sensor's ceiling nearly all along
	FlatSensor     = "flat sensor"       // one value, or none that follows the light
	ShortClimb     = "climb too short"   // too few minutes or too small a range of air mass
	CloudyMorning  = "cloud"             // scatter or dips that no clear sky makes
	VagueMorning   = "too vague to tell" // exponent and extinction cannot be told apart
)

func refuse(reason, format string, args ...any) error {
	return &Refusal{Reason: reason, Detail: fmt.Sprintf(format, args...)}
}

// A MorningFit is what a clear morning says about a sensor, and about the air.
type MorningFit struct {
	// Calibration is the sensor's law against lux. The model's spread is in LnValueU,
	// Residuals are those of the minutes used, in their order, and ChiSquare is that
	// of the five-minute means.
	sensor.Calibration
	// Extinction of the middle of the morning, natural logarithm an air mass, and how
	// it drifted, an hour.
	Extinction, ExtinctionU float64
	Drift, DriftU           float64 // of the extinction, an hour, and its standard uncertainty
	// Told is the part of the extinction's prior variance that the light took away:
	// near 0 the extinction is only what is usual, and the exponent rests on it.
	Told float64
	// Sky is the sky's light over the model's, a factor; Lean how the sensor was found
	// to lean, degrees east and north.
	Sky, SkyU float64
	Lean      [2]float64
	LeanU     [2]float64 // standard uncertainties of both, degrees
	// Covariance is that of LnValue, Slope and Extinction, in this order.
	Covariance [3][3]float64
	// ModelLnU is the part of the lux's uncertainty that all minutes share.
	ModelLnU float64
	// MinuteLnU is the scatter of a minute and SlowLnU that of the slow departures
	// from the model, both as parts of the light.
	MinuteLnU, SlowLnU float64

	Minutes []MorningMinute // all of the morning with the Sun above MinAlt
	Used    int             // minutes that the fit rests on
	From    time.Time       // of the minutes used
	To      time.Time       // the last of them
	AirMass [2]float64      // least and greatest of the minutes used
	Lux     [2]float64      // likewise, by the model
	// Warnings are for a person to read.
	Warnings []string
}

// A MorningMinute is the mean of a minute of the log.
type MorningMinute struct {
	Time    time.Time // middle of its samples
	Alt     float64   // of the Sun, apparent, degrees
	AirMass float64
	Value   float64 // geometric mean
	Fate    Fate    // used, or why not
	// Lux is the model's light on the sensor with the air that was found. Residual is
	// by how much the reading, turned into light, is above it, a natural logarithm.
	Lux, Residual float64
	// Beam is the reading turned into light, less the model's sky, as it would fall on
	// a surface that faces the Sun: ln Beam against AirMass is Langley's line. NaN
	// where no beam is left.
	Beam float64
}

// A Fate says what became of a minute.
type Fate uint8

// The fates.
const (
	UsedMinute      Fate = iota
	SaturatedMinute      // a sample of it is at the sensor's ceiling
	DarkMinute           // a sample of it is a bound from above, or no number
	EclipsedMinute       // between first and fourth contact
	ShadedMinute         // darker, or brighter, than a clear sky can be there
)

var fates = [...]string{"used", "saturated", "dark", "eclipsed", "shaded"}

// String is one of "used", "saturated", "dark", "eclipsed" and "shaded".
func (f Fate) String() string {
	if int(f) < len(fates) {
		return fates[f]
	}
	return fmt.Sprintf("fate %d", uint8(f))
}

// FitMorning calibrates a sensor by the Sun's climb through a clear sky: see the
// package comment for the method and for what it cannot tell. The samples may come
// in any order. The error is a *Refusal where the data cannot tell; anything else is
// bad input.
func FitMorning(samples []MorningSample, site sun.Site, o MorningOptions) (*MorningFit, error) {
	o, err := o.filled()
	if err != nil {
		return nil, err
	}
	m, err := newMorning(samples, site, o)
	if err != nil {
		return nil, err
	}
	if err := m.enough(); err != nil {
		return nil, err
	}
	start, err := m.firstLine()
	if err != nil {
		return nil, err
	}
	start, err = m.clear(start)
	if err != nil {
		return nil, err
	}
	return m.fit(start)
}

// filled puts the recommended values for zeros, and refuses what cannot be.
func (o MorningOptions) filled() (MorningOptions, error) {
	for _, d := range []struct {
		at    *float64
		usual float64
	}{{&o.LeanU, 1}, {&o.ModelLnU, 0.19}, {&o.MinAlt, 10}} {
		if *d.at == 0 { // exactly: not set
			*d.at = d.usual
		}
	}
	faults := []error{o.Surface.Validate()}
	for _, r := range []struct {
		name            string
		value, min, max float64
	}{
		{"LeanU", o.LeanU, 0, 5}, {"ModelLnU", o.ModelLnU, 0, 1}, {"Exponent", o.Exponent, -5, 5}, {"MinAlt", o.MinAlt, 3, 60},
	} {
		if !(r.value >= r.min && r.value <= r.max) {
			faults = append(faults, fmt.Errorf("station: MorningOptions.%s is %g, want %g to %g", r.name, r.value, r.min, r.max))
		}
	}
	return o, errors.Join(faults...)
}
