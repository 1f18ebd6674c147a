package timescale

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/testdata/references"
)

func TestLeapSecondsAreThoseOfTheIERS(t *testing.T) {
	rows := references.Table(t, "leapseconds.csv") // IERS Bulletin C list
	if len(rows) != len(leaps) {
		t.Fatalf("%d rows, the list has %d", len(leaps), len(rows))
	}
	for i, r := range rows {
		from, err := time.Parse(time.DateOnly, r["effective_utc_date"])
		require.NoError(t, err)
		if !leaps[i].from.Equal(from) || float64(leaps[i].tai) != r.Number(t, "tai_minus_utc_s") {
			t.Errorf("row %d is %v %d, the list has %s %s", i, leaps[i].from, leaps[i].tai, r["effective_utc_date"], r["tai_minus_utc_s"])
		}
	}
}

func TestEdgesOfEveryLeapSecond(t *testing.T) {
	var s Scale
	for i, l := range leaps[1:] {
		before := s.TT(l.from.Add(-time.Second))
		after := s.TT(l.from)
		if got := float64(after - before); !(math.Abs(got-2) < 1e-6) {
			t.Errorf("%s: 23:59:59 to 00:00:00 took %.6f s, want 2 (one leap second)", l.from.Format(time.DateOnly), got)
		}
		// 23:59:60 cannot be held by a time.Time and reads as the next second.
		if got := s.UTC(before + 1.25); !got.Equal(l.from.Add(250 * time.Millisecond)) {
			t.Errorf("%s: 23:59:60.25 reads %v", l.from.Format(time.DateOnly), got)
		}
		if got, want := float64(s.TT(l.from.Add(-time.Nanosecond))-after), -1.0; !(math.Abs(got-want) < 1e-6) {
			t.Errorf("row %d: last nanosecond is %.9f s before, want %.0f", i, got, want)
		}
	}
	if s.UTCHeld(s.TT(leapsKnownTo.Add(-time.Millisecond))) || !s.UTCHeld(s.TT(leapsKnownTo)) {
		t.Error("UTCHeld does not turn at the end of the announced span")
	}
}

// TAI - UTC just before and just after each step; before the first there is none, and
// after the last it is held.
func TestTAIMinusUTC(t *testing.T) {
	var s Scale
	before, had := 0, false
	for _, r := range references.Table(t, "leapseconds.csv") {
		from, err := time.Parse(time.DateOnly, r["effective_utc_date"])
		require.NoError(t, err)
		want := int(r.Number(t, "tai_minus_utc_s"))
		step := s.TT(from)
		for _, c := range []struct {
			at   TT
			want int
			ok   bool
		}{{step - 1e-5, before, had}, {step, want, true}, {step + 1e-5, want, true}, {step + 86400, want, true}} {
			if got, ok := TAIMinusUTC(c.at); got != c.want || ok != c.ok {
				t.Errorf("%s, %+.5f s: %d %t, want %d %t (IERS)", r["effective_utc_date"], float64(c.at-step), got, ok, c.want, c.ok)
			}
		}
		before, had = want, true
	}
	if got, ok := TAIMinusUTC(s.TT(day(2090, 9, 23))); got != before || !ok {
		t.Errorf("in 2090 %d %t, want %d, held", got, ok, before)
	}
	if _, ok := TAIMinusUTC(TT(math.NaN())); ok {
		t.Error("no instant has a TAI - UTC")
	}
}

// TT - UTC as published beside each leap second, and the zone of the reading
// does not matter.
func TestTTMinusUTC(t *testing.T) {
	var s Scale
	east := time.FixedZone("UTC+5:30", 19800)
	for _, r := range references.Table(t, "leapseconds.csv") {
		from, err := time.Parse(time.DateOnly, r["effective_utc_date"])
		require.NoError(t, err)
		noon := from.Add(12 * time.Hour)
		got := float64(s.TT(noon)) - secondsOf(noon)
		if want := r.Number(t, "tt_minus_utc_s"); !(math.Abs(got-want) <= 1e-6) {
			t.Errorf("%s: TT - UTC %.6f s, want %.3f (IERS)", r["effective_utc_date"], got, want)
		}
		if s.TT(noon) != s.TT(noon.In(east)) {
			t.Errorf("%s: the same instant differs in another zone", r["effective_utc_date"])
		}
	}
}

// Past the table the last value is held, a century on still.
func TestHeldLeapSecond(t *testing.T) {
	var s Scale
	rows := references.Table(t, "leapseconds.csv")
	last := rows[len(rows)-1].Number(t, "tt_minus_utc_s")
	utc := day(2126, 7, 1)
	if got := float64(s.TT(utc)) - secondsOf(utc); !(math.Abs(got-last) <= 1e-6) {
		t.Errorf("TT - UTC %.6f s, want %.3f, held", got, last)
	}
	if !s.UTCHeld(s.TT(utc)) || s.UTCHeld(s.TT(day(2024, 4, 8))) || s.UTCHeld(s.TT(day(1950, 1, 1))) {
		t.Error("UTCHeld marks the wrong span")
	}
}
