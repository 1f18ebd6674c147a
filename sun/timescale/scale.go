package timescale

import (
	"math"
	"time"
)

// A Scale converts between the clocks. The zero value is the one to use: leap
// seconds of the IERS and the built-in Delta T. Scales are comparable with ==,
// and safe to copy and to share.
type Scale struct {
	fixed  bool
	deltaT float64 // s, where fixed
}

// FixedDeltaT returns a Scale whose Delta T is the given number of seconds at
// every instant, with no uncertainty: that of a bulletin, say, to reproduce its
// tables. Leap seconds stay as they are, but civil times before 1972, being UT1,
// follow the override. A value that is not finite overrides nothing: the
// built-in Delta T is kept.
func FixedDeltaT(seconds float64) Scale {
	if math.IsNaN(seconds) || math.IsInf(seconds, 0) {
		return Scale{}
	}
	return Scale{fixed: true, deltaT: seconds}
}

// DeltaT returns TT - UT1 at an instant, with its standard uncertainty and source.
func (s Scale) DeltaT(t TT) DeltaT {
	if s.fixed {
		return DeltaT{Seconds: s.deltaT, Source: "given by the caller"}
	}
	return builtinDeltaT(t)
}

// UT1 returns the Earth's reading at an instant: TT - Delta T.
func (s Scale) UT1(t TT) UT1 { return UT1(float64(t) - s.DeltaT(t).Seconds) }

// FromUT1 returns the instant at which the Earth reads u.
func (s Scale) FromUT1(u UT1) TT {
	t := TT(u)
	// Delta T changes by less than 2e-6 s a second anywhere within ten thousand
	// years, so each step gains six digits; three leave nothing to gain.
	for range 3 {
		t = TT(float64(u) + s.DeltaT(t).Seconds)
	}
	return t
}

// TT returns the instant of a civil reading. From 1972 the reading is UTC; any
// other location is converted first. Before 1972 civil time is taken as UT1,
// which the national clocks then followed to a few tenths of a second. After the
// last announced leap second its value is held (see [Scale.UTCHeld]).
//
// On 1972-01-01 the two differ by 0.043 s: the last 0.043 s of 1971 name the
// same instants as the first 0.043 s of 1972.
func (s Scale) TT(utc time.Time) TT {
	l, ok := leapOn(utc)
	if !ok {
		return s.FromUT1(UT1(secondsOf(utc)))
	}
	return l.tt(utc)
}

// UTC returns the civil reading of an instant, rounded to a microsecond: UTC
// from 1972, UT1 before, and after the last announced leap second its value is
// held. A leap second itself, 23:59:60, reads as 00:00:00 of the day that
// follows, since a time.Time cannot hold it. An instant more than ten thousand
// years from 2000, or not a number, gives the zero time.Time.
func (s Scale) UTC(t TT) time.Time {
	if !(math.Abs(float64(t)) <= farthest) {
		return time.Time{}
	}
	l, ok := leapAt(t)
	if !ok {
		return s.UT1(t).Time()
	}
	return l.utc(t)
}

// UTCHeld reports whether an instant lies past the span for which leap seconds
// are announced, so that [Scale.UTC] may be a second or more off the UTC that
// will be. UT1 is the safer label there.
func (s Scale) UTCHeld(t TT) bool { return t >= leaps[len(leaps)-1].tt(leapsKnownTo) }
