package fit_test

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/testdata/study"
)

// A stranger is a kind of log with a dip in it that is not this eclipse's: the samples of one
// rehearsed log or of its day after, moved or shaded so that they could be, and the log that
// they are laid over.
type stranger struct {
	name string
	make func(r *rand.Rand, eclipses []*eclipse.Elements, seed uint64) ([]fit.Sample, *rehearsal.Log, error)
	most float64 // of a hundred that may be fitted, give or take chance: the first two what 200 showed, and half as much again
}

func strangers() []stranger {
	return []stranger{
		{"another eclipse, within ten minutes", another(func(r *rand.Rand, move time.Duration) time.Duration {
			return move + time.Duration((2*r.Float64()-1)*float64(10*time.Minute))
		}), 43},
		{"another eclipse, at its own hour", another(func(_ *rand.Rand, move time.Duration) time.Duration {
			return move.Round(24 * time.Hour)
		}), 19},
		{"a round shadow", roundShadow, 15},
	}
}

// clearLog draws a log of any depth under a clear sky, of the eclipse's day or one near it.
func clearLog(r *rand.Rand, eclipses []*eclipse.Elements, seed uint64, day int) ([]fit.Sample, *rehearsal.Log, error) {
	depths := []rehearsal.Depth{rehearsal.Total, rehearsal.Annular, rehearsal.Deep, rehearsal.Shallow}
	p, err := rehearsal.Class{Depth: depths[r.IntN(len(depths))]}.Draw(eclipses, seed)
	if err != nil {
		return nil, nil, err
	}
	p.Day = day
	l, err := rehearsal.Make(context.Background(), p)
	if err != nil {
		return nil, nil, err
	}
	s, err := converted(l, p.Chain)
	for i := range s {
		s[i].Time = s[i].Time.AddDate(0, 0, -day)
	}
	return s, l, err
}

// another is the log of one eclipse over the prediction of another one, elsewhere.
func another(moved func(*rand.Rand, time.Duration) time.Duration) func(*rand.Rand, []*eclipse.Elements, uint64) ([]fit.Sample, *rehearsal.Log, error) {
	return func(r *rand.Rand, eclipses []*eclipse.Elements, seed uint64) ([]fit.Sample, *rehearsal.Log, error) {
		s, own, err := clearLog(r, eclipses, seed, 0)
		if err != nil {
			return nil, nil, err
		}
		_, other, err := clearLog(r, eclipses, seed+500000, 0)
		if err != nil {
			return nil, nil, err
		}
		move := moved(r, other.Truth.Max.Sub(own.Truth.Max))
		for i := range s {
			s[i].Time = s[i].Time.Add(move)
		}
		return s, other, nil
	}
}

// roundShadow is a day without an eclipse, and on it a shadow as round and about as long as
// the eclipse, within ten minutes of its time: a power of a cosine.
func roundShadow(r *rand.Rand, eclipses []*eclipse.Elements, seed uint64) ([]fit.Sample, *rehearsal.Log, error) {
	s, l, err := clearLog(r, eclipses, seed, 1)
	if err != nil {
		return nil, nil, err
	}
	c := l.Curve.Circumstances()
	half := c.C4.UTC.Sub(c.C1.UTC).Seconds() / 2 * (0.7 + 0.6*r.Float64())
	middle := l.Truth.Max.Add(time.Duration((2*r.Float64() - 1) * float64(10*time.Minute)))
	depth, power := 0.3+0.69*r.Float64(), 1+3*r.Float64()
	for i := range s {
		if x := s[i].Time.Sub(middle).Seconds() / half; math.Abs(x) < 1 {
			s[i].Value *= 1 - depth*math.Pow(math.Cos(x*math.Pi/2), power)
		}
	}
	return s, l, nil
}

// TestStrangers counts how much of what looks like an eclipse, and is not this one, is taken
// for it. NOONFALL_LOGS sets how many of each kind, NOONFALL_SEED the first seed; the ordinary
// test looks at twenty.
func TestStrangers(t *testing.T) {
	n, first := study.Size(t, 20, 0, 1000)
	eclipses := study.Eclipses(t)
	for _, kind := range strangers() {
		type tried struct {
			fitted bool
			reason fit.Reason
			err    error
		}
		all := study.Each(n, first, func(seed uint64) (out tried) {
			s, l, err := kind.make(rand.New(rand.NewPCG(seed, 78)), eclipses, seed)
			if err != nil {
				return tried{err: err}
			}
			_, err = fit.Clock(context.Background(), s, l.Curve, fit.Options{})
			var no *fit.Refusal
			switch {
			case errors.As(err, &no):
				out.reason = no.Reason
			case err != nil:
				out.err = err
			default:
				out.fitted = true
			}
			return out
		})
		fitted := 0
		why := map[fit.Reason]int{}
		for i, o := range all {
			switch {
			case o.err != nil:
				t.Errorf("%s, seed %d: %v", kind.name, first+i, o.err)
			case o.fitted:
				fitted++
			default:
				why[o.reason]++
			}
		}
		t.Logf("| %-36s | %4d | %3d fitted | %v", kind.name, n, fitted, why)
		if left := study.Least(n, 1-kind.most/100, 3); !(float64(n-fitted) >= left) {
			t.Errorf("%s: %d of %d are fitted, at least %.1f are to be refused", kind.name, fitted, n, left)
		}
	}
}
