package crystal

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.org/noonfall/testdata/references"
)

var noon = time.Date(2026, 8, 12, 12, 0, 0, 0, time.UTC)

const day = 24 * time.Hour

func newClock(t require.TestingT, c Crystal, h History) *Clock {
	clock, err := New(c, h)
	require.NoError(t, err)
	return clock
}

func drift(t require.TestingT, c *Clock, set, at time.Time) Drift {
	d, err := c.Drift(set, at)
	require.NoError(t, err)
	return d
}

func TestPublishedRows(t *testing.T) {
	rows := references.Table(t, "rtc_drift.csv")
	require.Len(t, rows, 24)
	for _, row := range rows {
		temp, offset, rate := row.Number(t, "temperature_degC"), row.Number(t, "offset_at_25C_ppm"), row.Number(t, "rate_ppm")
		k := TuningFork()
		k.OffsetPPM, k.AgeingPPMU = offset, 0
		c := newClock(t, k, Constant(temp))
		oneDay, month := drift(t, c, noon, noon.Add(day)), drift(t, c, noon, noon.Add(30*day))
		for _, r := range []struct {
			what           string
			got, want, tol float64 // half the last printed digit, and a hair for a tie
		}{
			{"rate", k.RatePPM(temp), rate, 0.5e-3},
			{"mean rate", month.Seconds / (30 * day).Seconds() / ppm, rate, 0.5e-3},
			{"a day", oneDay.Seconds, row.Number(t, "seconds_per_day"), 0.5e-4},
			{"30 days", month.Seconds, row.Number(t, "seconds_per_30_days"), 0.5e-2},
		} {
			if !(math.Abs(r.got-r.want) <= r.tol+1e-9) {
				t.Errorf("%g degrees, %g ppm, %s: %.5f, want %.5f (rtc_drift.csv)", temp, offset, r.what, r.got, r.want)
			}
		}
	}
}

// days is a history of hot days and cold nights, at uneven steps.
func days(rng *rand.Rand, n int) History {
	var h History
	for i, x := 0, 0.0; i < n; i, x = i+1, x+600+3000*rng.Float64() {
		h.Points = append(h.Points, Point{noon.Add(time.Duration(x * 1e9)), 15 + 20*math.Cos(x/86400*2*math.Pi) + rng.Float64()})
	}
	return h
}

// The second method: the sum of small steps.
func TestDriftIsTheSumOfSmallSteps(t *testing.T) {
	h := days(rand.New(rand.NewPCG(1, 2)), 200)
	k := TuningFork()
	k.OffsetPPM, k.AgeingPPM, k.Measured = 7, 30, noon.Add(-300*day)
	c := newClock(t, k, h)
	set, at := noon.Add(5*time.Hour+123*time.Second), h.Points[150].Time.Add(77*time.Second)
	sum, i := 0.0, 0
	for x := set.Add(500 * time.Millisecond); x.Before(at); x = x.Add(time.Second) {
		for !h.Points[i+1].Time.After(x) {
			i++
		}
		a, b := h.Points[i], h.Points[i+1]
		temp := a.C + (b.C-a.C)*x.Sub(a.Time).Seconds()/b.Time.Sub(a.Time).Seconds()
		sum += 1e-6 * (k.RatePPM(temp) + 30*x.Sub(k.Measured).Hours()/24/365.25)
	}
	if got := drift(t, c, set, at).Seconds; !(math.Abs(got-sum) <= 1e-6*math.Abs(sum)) {
		t.Errorf("%.9f s, want %.9f by steps of a second", got, sum)
	}
}

// 200,000 forks whose parameters are drawn from the stated uncertainties: the root
// mean square about the nominal drift is SecondsU. With so many it is known to
// 1/sqrt(2 n), 0.16 %; heavier tails make that some times more.
func TestSpreadOfRandomForks(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, r := range []struct {
		name string
		k    Crystal
		temp float64
	}{
		{"a cold month", TuningFork(), -10},
		{"at the turnover", Crystal{TurnoverC: 25, TurnoverU: 5 / math.Sqrt(3), Curvature: 0.034, CurvatureU: 0.0035}, 25},
		{"curvature alone", Crystal{TurnoverC: 25, Curvature: 0.034, CurvatureU: 0.0035}, 0},
		{"turnover alone", Crystal{TurnoverC: 25, TurnoverU: 3, Curvature: 0.034}, 30},
	} {
		h := Constant(r.temp)
		h.U = 1
		at := noon.Add(30 * day)
		nominal := drift(t, newClock(t, r.k, h), noon, at)
		sum := 0.0
		const n = 200_000
		for range n {
			ppm := r.k.OffsetPPMU * rng.NormFloat64()
			d := r.temp + h.U*rng.NormFloat64() - r.k.TurnoverC - r.k.TurnoverU*rng.NormFloat64()
			ppm -= (r.k.Curvature + r.k.CurvatureU*rng.NormFloat64()) * d * d
			ppm += r.k.AgeingPPMU * rng.NormFloat64() * 15 / 365.25
			e := ppm*30*0.0864 - nominal.Seconds
			sum += e * e
		}
		if got := nominal.SecondsU / math.Sqrt(sum/n); !(math.Abs(got-1) <= 0.01) {
			t.Errorf("%s: SecondsU is %.4f of the spread of %d forks", r.name, got, n)
		}
	}
}

// Shared causes grow with the time, not with its root, and parts of an interval add.
func TestPartsOfAnInterval(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := TuningFork()
		k.OffsetPPM = rapid.Float64Range(-50, 50).Draw(t, "offset")
		k.AgeingPPM = rapid.Float64Range(-5, 5).Draw(t, "ageing")
		k.Measured = noon
		h := days(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 2)), 50)
		c := newClock(t, k, h)
		span := h.Points[49].Time.Sub(noon)
		cut := noon.Add(time.Duration(rapid.Float64Range(0, 1).Draw(t, "cut") * float64(span)))
		whole, a, b := drift(t, c, noon, noon.Add(span)), drift(t, c, noon, cut), drift(t, c, cut, noon.Add(span))
		if !(math.Abs(whole.Seconds-a.Seconds-b.Seconds) <= 1e-9) {
			t.Errorf("%g s, but its parts %g and %g", whole.Seconds, a.Seconds, b.Seconds)
		}
		if !(math.Abs(whole.OffsetU-a.OffsetU-b.OffsetU) <= 1e-9) {
			t.Errorf("offset: u %g s, but its parts %g and %g", whole.OffsetU, a.OffsetU, b.OffsetU)
		}
		if !(whole.SecondsU <= a.SecondsU+b.SecondsU+1e-9) {
			t.Errorf("u %g s, more than its parts %g and %g together", whole.SecondsU, a.SecondsU, b.SecondsU)
		}
	})
}

// Mirrored about the turnover a history makes the same drift.
func TestColdIsAsBadAsHeat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(-60, 60).Draw(t, "from the turnover")
		a := drift(t, newClock(t, TuningFork(), Constant(25+d)), noon, noon.Add(day))
		b := drift(t, newClock(t, TuningFork(), Constant(25-d)), noon, noon.Add(day))
		if !(math.Abs(a.Seconds-b.Seconds) <= 1e-9 && math.Abs(a.SecondsU-b.SecondsU) <= 1e-9) {
			t.Errorf("%+v against %+v", a, b)
		}
	})
}

func TestRefusals(t *testing.T) {
	fork := TuningFork()
	two := []Point{{noon, 20}, {noon.Add(day), 20}}
	for _, r := range []struct {
		field string
		k     Crystal
		h     History
	}{
		{"Crystal.OffsetPPM", Crystal{OffsetPPM: math.NaN()}, Constant(0)},
		{"Crystal.OffsetPPMU", Crystal{OffsetPPMU: -1}, Constant(0)},
		{"Crystal.Curvature", Crystal{Curvature: -0.034}, Constant(0)},
		{"Crystal.TurnoverC", Crystal{TurnoverC: math.Inf(1)}, Constant(0)},
		{"Point.C", fork, Constant(math.NaN())},
		{"History.U", fork, History{Points: two, U: -1}},
		{"length of the history, s", fork, History{Points: []Point{{noon, 1}, {noon.AddDate(101, 0, 0), 1}}}},
	} {
		_, err := New(r.k, r.h)
		e, ok := errors.AsType[*RangeError](err)
		if !ok || e.Field != r.field {
			t.Errorf("%s: %v", r.field, err)
		}
	}
	if _, err := New(fork, History{}); !errors.Is(err, ErrNoHistory) {
		t.Errorf("no points: %v", err)
	}
	_, err := New(fork, History{Points: []Point{{noon, 1}, {noon, 2}}})
	if e, ok := errors.AsType[*OrderError](err); !ok || e.Index != 1 {
		t.Errorf("two points at once: %v", err)
	}
	c := newClock(t, fork, History{Points: two})
	_, err = c.Drift(noon, noon.Add(day+time.Second))
	if e, ok := errors.AsType[*SpanError](err); !ok || !e.Last.Equal(noon.Add(day)) {
		t.Errorf("past the history: %v", err)
	}
	if _, err = c.Drift(noon.Add(time.Hour), noon); err == nil {
		t.Error("an instant before the setting was taken")
	}
	if _, err = c.SetFrom(noon.Add(-time.Hour), Budget{Seconds: 1}); err == nil {
		t.Error("a deadline outside the history was given")
	}
	if _, err = c.SetFrom(noon, Budget{}); err == nil {
		t.Error("a zero budget was taken")
	}
	if _, err = newClock(t, fork, Constant(1)).Drift(noon, noon.AddDate(400, 0, 0)); err == nil {
		t.Error("400 years were taken")
	}
}
