package timescale

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// A reading to the microsecond comes back to the microsecond.
func TestRoundTrips(t *testing.T) {
	scales := []Scale{{}, FixedDeltaT(70), EspenakMeeus2006()}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(scales).Draw(t, "scale")
		near := rapid.SampledFrom(leaps[:]).Draw(t, "leap").from.Unix()
		seconds := rapid.OneOf(
			rapid.Int64Range(unixOfJ2000-4_200_000_000, unixOfJ2000+4_200_000_000),
			rapid.Int64Range(near-2, near+2)).Draw(t, "unix")
		utc := time.Unix(seconds, 1000*rapid.Int64Range(0, 999_999).Draw(t, "us")).UTC()
		if utc.Before(day(1972, 1, 1)) && !utc.Before(day(1971, 12, 31).Add(23*time.Hour)) {
			return // 1971 and 1972 overlap or gape there: see TestTurnOf1972
		}
		tt := s.TT(utc)
		off := s.UTC(tt).Sub(utc).Abs()
		allowed := time.Duration(0)
		if utc.Year() < 1972 {
			allowed = time.Microsecond // Delta T is added and taken away on the way
		}
		if off > allowed {
			t.Fatalf("%v came back as %v", utc, s.UTC(tt))
		}
	})
}

func TestUT1RoundTrip(t *testing.T) {
	scales := []Scale{{}, FixedDeltaT(70), EspenakMeeus2006()}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(scales).Draw(t, "scale")
		tt := TT(rapid.Float64Range(-1e11, 1e10).Draw(t, "tt"))
		back := s.FromUT1(s.UT1(tt))
		resolution := math.Nextafter(math.Abs(float64(tt)), math.Inf(1)) - math.Abs(float64(tt))
		if !(math.Abs(float64(back-tt)) <= 2*resolution+1e-9) {
			t.Fatalf("%v came back as %v", tt, back)
		}
	})
}

// On 1972-01-01 civil time turns from UT1 to UTC: Delta T was 42.227 s (Astronomical
// Almanac), TT - UTC is 42.184 s.
func TestTurnOf1972(t *testing.T) {
	var s Scale
	start := day(1972, 1, 1)
	after, before := s.TT(start), s.TT(start.Add(-time.Microsecond))
	if overlap := float64(before - after); !(math.Abs(overlap-0.043) <= 0.001) {
		t.Errorf("the scales overlap by %.4f s, want 0.043", overlap)
	}
	if got := s.UTC(after - 1e-3); !(got.Before(start) && start.Sub(got) < 50*time.Millisecond) {
		t.Errorf("a millisecond before UTC begins reads %v", got)
	}
}

// Before 1972 the civil reading is the Earth's.
func TestCivilTimeIsUT1Before1972(t *testing.T) {
	for _, s := range []Scale{{}, FixedDeltaT(12)} {
		noon := time.Date(1919, 5, 29, 13, 8, 0, 0, time.UTC)
		tt := s.TT(noon)
		if got := s.UT1(tt).Time(); got.Sub(noon).Abs() > time.Microsecond {
			t.Errorf("UT1 reads %v, want %v", got, noon)
		}
		if d := float64(tt) - secondsOf(noon) - s.DeltaT(tt).Seconds; !(math.Abs(d) < 1e-6) {
			t.Errorf("TT - civil time is off Delta T by %g s", d)
		}
	}
}

func TestOverride(t *testing.T) {
	s := FixedDeltaT(64.6)
	tt := FromJulianDate(2451401.5, 0.5)
	if d := s.DeltaT(tt); d.Seconds != 64.6 || d.SecondsU != 0 {
		t.Errorf("override gives %+v", d)
	}
	if got := float64(tt) - float64(s.UT1(tt)); !(math.Abs(got-64.6) < 1e-6) {
		t.Errorf("TT - UT1 = %.7f", got)
	}
	if a, b := s.UTC(tt), (Scale{}).UTC(tt); !a.Equal(b) {
		t.Errorf("the override moved UTC from %v to %v", b, a)
	}
}

// The label is certain as far as leap seconds are announced. Past that it may stay
// or follow the Earth, and the held reading is one end of that span.
func TestUTCU(t *testing.T) {
	var s Scale
	for _, d := range []time.Time{day(1919, 5, 29), day(1972, 1, 1), day(2024, 4, 8), leapsKnownTo.Add(-time.Second)} {
		if u := s.UTCU(s.TT(d)); u != 0 {
			t.Errorf("%v: %.3f s, want 0", d, u)
		}
	}
	last := 0.0
	for year := leapsKnownTo.Year(); year < 2150; year += 5 {
		tt := s.TT(leapsKnownTo.AddDate(year-leapsKnownTo.Year(), 7, 1))
		u, d := s.UTCU(tt), s.DeltaT(tt)
		if !(u > last) {
			t.Errorf("%d: %.3f s, no more than five years before", year, u)
		}
		last = u
		gap := s.UTC(tt).Sub(s.UT1(tt).Time()).Seconds() // the clocks' own distance
		if want := math.Hypot(gap, d.SecondsU) / math.Sqrt(3); !(math.Abs(u-want) <= 1e-5) {
			t.Errorf("%d: %.4f s, want %.4f", year, u, want)
		}
	}
	// A fixed Delta T says nothing about leap seconds but how far UT1 is.
	held := ttMinusTAI + float64(leaps[len(leaps)-1].tai)
	if u := FixedDeltaT(held + 60).UTCU(s.TT(day(2090, 9, 23))); !(math.Abs(u-60/math.Sqrt(3)) <= 1e-9) {
		t.Errorf("60 s from UT1: %.4f s, want %.4f", u, 60/math.Sqrt(3))
	}
}

func TestScalesCompare(t *testing.T) {
	if EspenakMeeus2006() != EspenakMeeus2006() || EspenakMeeus2006() == (Scale{}) {
		t.Error("the published scale does not compare")
	}
	if FixedDeltaT(64) != FixedDeltaT(64) || FixedDeltaT(64) == FixedDeltaT(65) || FixedDeltaT(0) == (Scale{}) {
		t.Error("scales do not compare by what they do")
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if FixedDeltaT(v) != (Scale{}) {
			t.Errorf("FixedDeltaT(%g) is not the built-in scale", v)
		}
	}
}

// No instant, however far or senseless, may panic.
func TestFarInstants(t *testing.T) {
	var s Scale
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300, 1e12} {
		if got := s.UTC(TT(v)); !got.IsZero() {
			t.Errorf("UTC(%g) = %v, want the zero time", v, got)
		}
		if got := UT1(v).Time(); !got.IsZero() {
			t.Errorf("UT1(%g) reads %v, want the zero time", v, got)
		}
		s.DeltaT(TT(v))
	}
}
