package sensor

import (
	"fmt"
	"math"
)

// A Status tells a number from a bound. The zero value is a number.
type Status uint8

// The statuses.
const (
	OK        Status = iota
	TooDark          // the light is at most Reading.Lux
	Saturated        // the light is at least Reading.Lux
	Missing          // there was no count (NaN); Reading.Lux is NaN
)

var statusNames = [...]string{OK: "ok", TooDark: "too dark", Saturated: "saturated", Missing: "missing"}

// String is one of "ok", "too dark", "saturated" and "missing".
func (s Status) String() string {
	if int(s) < len(statusNames) {
		return statusNames[s]
	}
	return fmt.Sprintf("status %d", uint8(s))
}

// A Reading is one logged value turned into light.
//
// Both uncertainties are standard ones (68 %, not 95 %). What lies behind a
// RandomU is new with every reading, so that a mean of many is better than one;
// what lies behind the rest of LuxU is the same for a whole log, so that it is not.
type Reading struct {
	Lux     float64 // illuminance, lx; a bound, 0 or more, where Status is TooDark or Saturated
	LuxU    float64 // lx, all causes; of the bound itself where Lux is one
	RandomU float64 // lx, the part that is this reading's own: noise and rounding; 0 for a bound
	Status  Status
}

// CommonU is the part of LuxU, lx, that all readings of one logger share: what
// its parts' tolerances and its calibration leave open.
func (r Reading) CommonU() float64 {
	return math.Sqrt(math.Max(0, (r.LuxU-r.RandomU)*(r.LuxU+r.RandomU)))
}

// scaled is the reading of factor times the light, the factor having a standard
// uncertainty of its logarithm that is the same for a whole log.
func (r Reading) scaled(factor, lnU float64) Reading {
	r.Lux, r.RandomU = r.Lux*factor, r.RandomU*factor
	r.LuxU = math.Hypot(r.LuxU*factor, r.Lux*lnU)
	return r
}

// Interval is the light from k standard uncertainties below to k above, lx, never
// below 0: what to print where LuxU is more than a quarter of Lux and the spread
// is lopsided. What all readings share acts as a factor, noise as a sum:
//
//	high = Lux + hypot(Lux (exp(k CommonU/Lux) - 1), k RandomU)
//	low  = Lux - hypot(Lux (1 - exp(-k CommonU/Lux)), k RandomU)
//
// A TooDark reading reaches from 0, a Saturated one to +Inf; a Missing one has NaN
// at both ends.
func (r Reading) Interval(k float64) (low, high float64) {
	common := 0.0
	if r.Lux > 0 {
		common = k * r.CommonU() / r.Lux
	}
	low = math.Max(0, r.Lux-math.Hypot(r.Lux*math.Expm1(-common), k*r.RandomU))
	high = r.Lux + math.Hypot(r.Lux*math.Expm1(common), k*r.RandomU)
	switch r.Status {
	case TooDark:
		return 0, high
	case Saturated:
		return low, math.Inf(1)
	}
	return low, high
}
