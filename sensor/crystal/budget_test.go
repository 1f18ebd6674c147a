package crystal

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// At a constant temperature all grows in proportion: the deadline is a division.
func TestDeadlineByDivision(t *testing.T) {
	exact := Crystal{TurnoverC: 25, Curvature: 0.034}
	spread := Crystal{OffsetPPMU: 10}
	for _, r := range []struct {
		name    string
		k       Crystal
		temp    float64
		budget  Budget
		seconds float64
		source  string
	}{
		{"exact and cold", exact, -10, Budget{Seconds: 1}, 1 / 41.65e-6, "rtc_drift.csv, -41.650 ppm"},
		{"two sigma", spread, 25, Budget{Seconds: 1}, 1 / 20e-6, "2 times 10 ppm"},
		{"one sigma", spread, 25, Budget{Seconds: 1, Coverage: 1}, 1 / 10e-6, "10 ppm"},
		{"a setting of 0.3 s", spread, 25, Budget{Seconds: 1, SetU: 0.3}, 0.4 / 10e-6, "0.3, 0.4, 0.5: 2 times 0.5 s"},
	} {
		c := newClock(t, r.k, Constant(r.temp))
		want := time.Duration(r.seconds * 1e9)
		again, err := c.SetAgainBy(noon, r.budget)
		require.NoError(t, err)
		from, err := c.SetFrom(noon, r.budget)
		require.NoError(t, err)
		for _, g := range []struct {
			what string
			d    Deadline
			got  time.Duration
		}{{"SetAgainBy", again, again.At.Sub(noon)}, {"SetFrom", from, noon.Sub(from.At)}} {
			// Never late, and early by less than the least step: a millionth of ten years.
			if g.d.Verdict != By || !(g.got <= want+time.Microsecond && want-g.got <= 316*time.Second) {
				t.Errorf("%s, %s: %v %v, want %v (%s)", r.name, g.what, g.d.Verdict, g.got, want, r.source)
			}
		}
	}
}

func TestNoDeadline(t *testing.T) {
	perfect := newClock(t, Crystal{}, Constant(20))
	for _, r := range []struct {
		c    *Clock
		b    Budget
		want Verdict
	}{
		{perfect, Budget{Seconds: 1}, Always},
		{perfect, Budget{Seconds: 1, SetU: 0.51}, Never}, // twice 0.51 s is more than 1 s
		{newClock(t, TuningFork(), Constant(20)), Budget{Seconds: 0.5, SetU: 0.3}, Never},
		{newClock(t, Crystal{OffsetPPM: 1}, Constant(20)), Budget{Seconds: 400}, Always}, // 316 s in ten years
	} {
		for name, f := range map[string]func(time.Time, Budget) (Deadline, error){"SetAgainBy": r.c.SetAgainBy, "SetFrom": r.c.SetFrom} {
			got, err := f(noon, r.b)
			require.NoError(t, err)
			if got.Verdict != r.want {
				t.Errorf("%s %+v: %v %v, want %v", name, r.b, got.Verdict, got.At, r.want)
			}
		}
	}
}

// What a search says is held against every minute of the history.
func TestDeadlineAgainstEveryMinute(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := days(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 2)), 60)
		k := Crystal{
			OffsetPPM: rapid.Float64Range(-20, 20).Draw(t, "offset"), OffsetPPMU: rapid.Float64Range(0, 5).Draw(t, "u"),
			TurnoverC: 25, TurnoverU: 2, Curvature: 0.034,
		}
		b := Budget{Seconds: rapid.Float64Range(0.05, 2).Draw(t, "budget"), SetU: 0.01}
		c := newClock(t, k, h)
		last := h.Points[59].Time
		inside := func(set, at time.Time) bool {
			d := drift(t, c, set, at)
			return math.Abs(d.Seconds)+2*math.Hypot(d.SecondsU, b.SetU) <= b.Seconds
		}
		again, err := c.SetAgainBy(noon, b)
		require.NoError(t, err)
		from, err := c.SetFrom(last, b)
		require.NoError(t, err)
		for x := noon; x.Before(again.At); x = x.Add(time.Minute) {
			if !inside(noon, x) {
				t.Fatalf("outside at %v, set again by %v", x, again.At)
			}
		}
		for x := last; x.After(from.At); x = x.Add(-time.Minute) {
			if !inside(x, last) {
				t.Fatalf("outside if set at %v, set from %v", x, from.At)
			}
		}
		if next := again.At.Add(2 * time.Second); again.Verdict == By && next.Before(last) && inside(noon, next) {
			t.Errorf("set again by %v is too cautious", again.At)
		}
		if next := from.At.Add(-2 * time.Second); from.Verdict == By && next.After(noon) && inside(next, last) {
			t.Errorf("set from %v is too cautious", from.At)
		}
	})
}
