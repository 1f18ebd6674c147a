package timescale

import (
	"math"
	"time"
)

// A TT is an instant of Terrestrial Time: seconds past J2000.0, which is
// 2000-01-01T12:00:00 TT. Its seconds are SI seconds, never skipped or repeated,
// so that differences are true intervals. The zero value is J2000.0 itself.
//
// A float64 holds it to half a microsecond for 136 years either side of 2000,
// and ordinary comparison and subtraction are the right tools.
type TT float64

// A UT1 is a reading of the turning Earth: seconds past 2000-01-01T12:00:00 UT1.
// A UT1 day is one mean turn of the Earth under the mean Sun; its seconds are
// not exactly SI seconds. Almanacs print it as "UT".
type UT1 float64

const (
	secondsPerDay     = 86400.0
	daysPerCentury    = 36525.0   // Julian century, by definition
	daysPerYear       = 365.25    // Julian year, by definition
	julianDateOfJ2000 = 2451545.0 // by definition
	unixOfJ2000       = 946728000 // 2000-01-01T12:00:00 read as a Unix time
	ttMinusTAI        = 32.184    // s, IAU 1991 Recommendation IV, by definition
)

// farthest bounds the instants that can be printed, in seconds from J2000.0:
// some ten thousand years, well past every table here and inside time.Time.
const farthest = 3.2e11

// JulianDate returns the instant as a Julian Date (TT), days. One float64 holds
// a Julian Date to 40 microseconds only; use it for almanac formulae, not for clocks.
func (t TT) JulianDate() float64 { return julianDateOfJ2000 + float64(t)/secondsPerDay }

// Centuries returns Julian centuries (36525 days) of TT past J2000.0, the
// argument of the IAU precession and nutation series.
func (t TT) Centuries() float64 { return float64(t) / (daysPerCentury * secondsPerDay) }

// year returns the Julian epoch-like year that Delta T tables run on: 2000.0 is
// 2000-01-01T00:00, and a year has 365.25 days.
func (t TT) year() float64 { return 2000 + (float64(t)/secondsPerDay+0.5)/daysPerYear }

// FromJulianDate returns the instant of a Julian Date (TT) given in two parts,
// days; any split will do, day whole or half and fraction the rest keeps all digits.
func FromJulianDate(day, fraction float64) TT {
	return TT((day-julianDateOfJ2000)*secondsPerDay + fraction*secondsPerDay)
}

// Time returns the UT1 reading as a [time.Time] in the UTC location, rounded to
// a microsecond, so that it prints the way almanacs print "UT". It is not UTC:
// the two differ by up to 0.9 s. A reading more than ten thousand years from
// 2000, or not a number, gives the zero time.Time.
func (u UT1) Time() time.Time { return clockReading(float64(u)) }

// clockReading turns seconds past a clock's 2000-01-01T12:00:00 into its reading.
func clockReading(seconds float64) time.Time {
	if !(math.Abs(seconds) <= farthest) {
		return time.Time{}
	}
	whole := math.Floor(seconds)
	µs := math.Round((seconds - whole) * 1e6)
	return time.Unix(unixOfJ2000+int64(whole), int64(µs)*1000).UTC()
}

// secondsOf is the inverse of clockReading.
func secondsOf(reading time.Time) float64 {
	return float64(reading.Unix()-unixOfJ2000) + float64(reading.Nanosecond())*1e-9
}
