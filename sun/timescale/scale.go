package timescale

import (
	"math"
	"time"
)

// A Scale converts between the clocks. The zero value is the one to use: leap
// seconds of the IERS and the built-in Delta T. Scales are comparable with ==,
// and safe to copy and to share.
type Scale struct {
	model  model
	deltaT float64 // s, where fixed
}

// A model says where a Scale has its Delta T from.
type model uint8

const (
	builtin model = iota
	fixed
	published
)

// FixedDeltaT returns a Scale whose Delta T is the given number of seconds at
// every instant, with no uncertainty: that of a bulletin, say, to reproduce its
// tables. Leap seconds stay as they are, but civil times before 1972, being UT1,
// follow the override. A value that is not finite overrides nothing: the
// built-in Delta T is kept.
func FixedDeltaT(seconds float64) Scale {
	if math.IsNaN(seconds) || math.IsInf(seconds, 0) {
		return Scale{}
	}
	return Scale{model: fixed, deltaT: seconds}
}

// EspenakMeeus2006 returns a Scale whose Delta T is that of the expressions in
// NASA/TP-2006-214141 at every instant, what was observed since notwithstanding:
// to reproduce what was computed with them, such as catalogues and path tables of
// future eclipses. At 2026.6 they run 6.3 s ahead of the Earth. As published they
// have steps of up to 0.26 s where their pieces meet.
func EspenakMeeus2006() Scale { return Scale{model: published} }

// DeltaT returns TT - UT1 at an instant, with its standard uncertainty and source.
func (s Scale) DeltaT(t TT) DeltaT {
	switch s.model {
	case fixed:
		return DeltaT{Seconds: s.deltaT, Source: "given by the caller"}
	case published:
		return publishedDeltaT(t)
	default:
		return builtinDeltaT(t)
	}
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
	l := leapOn(utc)
	if l == nil {
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
	l := leapAt(t)
	if l == nil {
		return s.UT1(t).Time()
	}
	return l.utc(t)
}

// UTCHeld reports whether an instant lies past the span for which leap seconds
// are announced, so that [Scale.UTC] may be a second or more off the UTC that
// will be. UT1 is the safer label there.
func (s Scale) UTCHeld(t TT) bool { return t >= leaps[len(leaps)-1].tt(leapsKnownTo) }

// UTCU is the standard uncertainty of [Scale.UTC] as a label, s: how far the civil
// clocks of the day may stand from it at one and the same instant. It is zero
// where leap seconds are announced, and before 1972 by definition.
//
// Past them nobody knows. If leap seconds go on as before, UTC will keep within a
// second of UT1; if they end, as the General Conference on Weights and Measures
// (2022, Resolution 4) wants them to by 2035, it will stay near what is held. The
// truth is taken to be anywhere between the held reading and UT1, with equal chance
// (GUM, JCGM 100:2008, 4.3.7), the held reading being one end: a third of the mean
// square of the distance, the forecast's own uncertainty included. It is 0.06 s
// in August 2027 and a minute in 2090.
//
// This is the label's alone. That the Earth's turn is uncertain moves the instant
// of a contact as well: see DeltaT.SecondsU, which adds to this in quadrature.
func (s Scale) UTCU(t TT) float64 {
	if !s.UTCHeld(t) {
		return 0
	}
	d := s.DeltaT(t)
	gap := d.Seconds - ttMinusTAI - float64(leaps[len(leaps)-1].tai)
	return math.Sqrt((gap*gap + d.SecondsU*d.SecondsU) / 3)
}

// TAIMinusUTC returns the whole seconds by which International Atomic Time is
// ahead of UTC at an instant, 10 in January 1972, 37 since 2017. Before 1972, when
// it was no whole number and civil time is taken as UT1, there is none and ok is
// false. Past the announced span it is the last value, held (see [Scale.UTCHeld]).
// In a leap second itself, 23:59:60, it is still the value of the day that ends.
func TAIMinusUTC(t TT) (seconds int, ok bool) {
	l := leapAt(t)
	if l == nil {
		return 0, false
	}
	return l.tai, true
}
