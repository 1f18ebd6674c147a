package fit_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/testdata/study"
)

// setForward moves the stamps after an instant of true time.
func setForward(s []fit.Sample, l *rehearsal.Log, utc time.Time, by float64) {
	at := utc.Add(secondsOf(l.Truth.Offset))
	for i := range s {
		if s[i].Time.After(at) {
			s[i].Time = s[i].Time.Add(secondsOf(by))
		}
	}
}

// A clock that is set in mid-eclipse by what looks like a pause: each half's offset is told,
// the one given is that of the predicted maximum, and what is dated by it is dated right.
func TestMovedClock(t *testing.T) {
	eclipses := study.Eclipses(t)
	for _, tt := range []struct {
		name    string
		depth   rehearsal.Depth
		seed    uint64
		cadence int     // s
		after   float64 // s after maximum
		by      float64 // s
		half    float64 // of either interval at most, s
	}{
		{"total, one a second", rehearsal.Total, 4, 1, 20, 10, 3},
		{"total, before maximum", rehearsal.Total, 3, 1, -30, 20, 3},
		{"total, one in ten seconds", rehearsal.Total, 3, 10, 10, 30, 7},
		{"total, five minutes", rehearsal.Total, 1, 5, 10, 300, 7},
		{"total, set back within the cadence", rehearsal.Total, 1, 60, 10, -25, 12},
		{"annular", rehearsal.Annular, 3, 5, -40, 60, 10},
		{"annular, one a minute", rehearsal.Annular, 3, 60, 30, 100, 15},
		{"deep partial", rehearsal.Deep, 0, 1, 100, 60, 10},
		{"shallow partial", rehearsal.Shallow, 0, 1, 600, 300, 150},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p, err := rehearsal.Class{Depth: tt.depth}.Draw(eclipses, tt.seed)
			require.NoError(t, err)
			p.Cadence = time.Duration(tt.cadence) * time.Second
			l, err := rehearsal.Make(context.Background(), p)
			require.NoError(t, err)
			s := samples(t, l, p.Chain)
			setForward(s, l, l.Truth.Max.Add(secondsOf(tt.after)), tt.by)
			r := clock(t, s, l)
			require.Len(t, r.Segments, 2, "%v: %v", r.CI95, r.Warnings)
			truth := [2]float64{l.Truth.Offset, l.Truth.Offset + tt.by}
			for i, k := range r.Segments {
				half := (k.Clock.CI95[1] - k.Clock.CI95[0]) / 2
				if !(k.Clock.CI95[0] <= truth[i] && truth[i] <= k.Clock.CI95[1] && half <= tt.half) {
					t.Errorf("half %d: %.2f s, %v, truth %.2f, half-width at most %g", i, k.Clock.Offset, k.Clock.CI95, truth[i], tt.half)
				}
			}
			if gap := r.Segments[1].From.Sub(r.Segments[0].To).Seconds(); !(math.Abs(gap-tt.by-float64(tt.cadence)) <= 1) {
				t.Errorf("%g s between the halves, want %g and a cadence", gap, tt.by)
			}
			at := 0
			if tt.after < 0 {
				at = 1
			}
			if !(r.Offset == r.Segments[at].Clock.Offset && r.CI95 == r.Segments[at].Clock.CI95) {
				t.Errorf("the offset is %.2f s, want that of half %d", r.Offset, at)
			}
			for _, q := range r.Points {
				i := 0
				if q.Stamp.After(r.Segments[0].To) {
					i = 1
				}
				if off := q.Stamp.Sub(q.UTC).Seconds() - r.Segments[i].Clock.Offset; !(math.Abs(off) <= 0.01) {
					t.Fatalf("the reading of stamp %v is dated %v, off by %g s", q.Stamp, q.UTC, off)
				}
			}
			if !strings.Contains(strings.Join(r.Warnings, "; "), "the clock was set") {
				t.Errorf("no word of it in %q", r.Warnings)
			}
		})
	}
}

// TestMovedIsCovered counts over clocks set by seconds to minutes in mid-eclipse, at maximum
// and at any moment, how often the interval holds one of the two offsets and how often those
// of the halves hold theirs: 92 % less three standard deviations of the count. Of such
// logs of a total eclipse with the step at maximum a fit that looks for none holds neither in three
// of four. NOONFALL_LOGS sets how many of each kind, NOONFALL_SEED the first seed.
func TestMovedIsCovered(t *testing.T) {
	n, first := study.Size(t, 4, 0, 0)
	eclipses := study.Eclipses(t)
	var all, held, halves, halvesHeld int
	for _, sky := range []rehearsal.Weather{rehearsal.Clear, rehearsal.Cumulus} {
		for _, depth := range []rehearsal.Depth{rehearsal.Total, rehearsal.Annular, rehearsal.Deep, rehearsal.Shallow} {
			c := rehearsal.Class{Depth: depth, Weather: sky}
			out := study.Each(n, first, func(seed uint64) (o movedTry) {
				o.err = o.try(c, eclipses, seed)
				return o
			})
			var k movedTally
			for i, o := range out {
				require.NoError(t, o.err, "%v, seed %d", c, first+i)
				k.add(&o)
			}
			t.Logf("| %-17v | %4d fitted | %4d hold one | %3d split | %3d of their halves held | missed: %v", c, k.fitted, k.held, k.split, k.halves, k.missed)
			all, held, halves, halvesHeld = all+k.fitted, held+k.held, halves+2*k.split, halvesHeld+k.halves
			if least := study.Least(k.fitted, 0.92, 3); !(float64(k.held) >= least) {
				t.Errorf("%v: %d of %d intervals hold an offset that the clock had, at least %.1f are wanted", c, k.held, k.fitted, least)
			}
		}
	}
	t.Logf("%d of %d hold one; %d of %d halves are held", held, all, halvesHeld, halves)
	if least := study.Least(halves, 0.92, 3); !(float64(halvesHeld) >= least) || halves == 0 {
		t.Errorf("%d of %d halves are held, at least %.1f are wanted", halvesHeld, halves, least)
	}
}

// A movedTry is a log whose clock is set in mid-eclipse.
type movedTry struct {
	what          string
	fitted, split bool
	held          bool
	halves        int // whose interval holds their offset
	err           error
}

func (o *movedTry) try(c rehearsal.Class, eclipses []*eclipse.Elements, seed uint64) error {
	rng := rand.New(rand.NewPCG(seed, 77))
	p, err := c.Draw(eclipses, seed)
	if err != nil {
		return err
	}
	p.Cadence = time.Duration([]int{1, 5, 10, 60}[rng.IntN(4)]) * time.Second
	by := []float64{5, 10, 20, 30, 60, 120, 300}[rng.IntN(7)]
	l, err := rehearsal.Make(context.Background(), p)
	if err != nil {
		return err
	}
	s, err := converted(l, p.Chain)
	if err != nil {
		return err
	}
	circ := l.Curve.Circumstances()
	at := circ.C1.UTC.Add(time.Duration(rng.Float64() * float64(circ.C4.UTC.Sub(circ.C1.UTC))))
	if rng.IntN(2) == 0 {
		at = circ.Max.UTC.Add(secondsOf(240 * (rng.Float64() - 0.5)))
	}
	setForward(s, l, at, by)
	r, err := fit.Clock(context.Background(), s, l.Curve, fit.Options{})
	if errors.As(err, new(*fit.Refusal)) {
		return nil
	} else if err != nil {
		return err
	}
	o.fitted = true
	holds := func(ci [2]float64, truth float64) bool { return ci[0] <= truth && truth <= ci[1] }
	before, after := l.Truth.Offset, l.Truth.Offset+by
	o.held = holds(r.CI95, before) || holds(r.CI95, after)
	if len(r.Segments) == 2 {
		o.split = true
		for i, truth := range []float64{before, after} {
			if holds(r.Segments[i].Clock.CI95, truth) {
				o.halves++
			}
		}
	}
	o.what = fmt.Sprintf("seed %d, %v, set by %g s: %.1f and %.1f of %.1f", seed, p.Cadence, by, r.Offset-before, r.Offset-after, (r.CI95[1]-r.CI95[0])/2)
	return nil
}

type movedTally struct {
	fitted, held, split, halves int
	missed                      []string
}

func (k *movedTally) add(o *movedTry) {
	if !o.fitted {
		return
	}
	k.fitted++
	k.halves += o.halves
	if o.split {
		k.split++
	}
	if o.held {
		k.held++
	} else {
		k.missed = append(k.missed, o.what)
	}
}

// TestPausesAreNoSteps has logs of every class whose clock was never moved: as they are, with
// one pause of seconds to ten minutes about maximum, with four anywhere, and with the habit of
// a pause in a hundred readings. Fewer than one in two hundred may be split, give or take
// chance, of those without a pause none may be warned of, and the intervals hold the truth in
// 92 % less three standard deviations of the count. NOONFALL_LOGS sets how many of each
// class, NOONFALL_SEED the first seed.
func TestPausesAreNoSteps(t *testing.T) {
	n, first := study.Size(t, 1, 0, 0)
	eclipses := study.Eclipses(t)
	for _, kind := range []struct {
		name  string
		pause func(rng *rand.Rand, l *rehearsal.Log, s []fit.Sample) []fit.Sample
	}{{"none", nil}, {"one", onePause}, {"four", fourPauses}, {"a habit", habit}} {
		var fitted, covered, split, doubted int
		for _, c := range studied() {
			for _, o := range study.Each(n, first, func(seed uint64) pauseTry { return tryPause(c, eclipses, seed, kind.pause) }) {
				require.NoError(t, o.err, "%v", c)
				if !o.fitted {
					continue
				}
				fitted++
				for count, is := range map[*int]bool{&covered: o.covered, &split: o.split, &doubted: o.doubted} {
					if is {
						*count++
					}
				}
			}
		}
		t.Logf("| %-8s | %4d fitted | %4d covered | %d split | %d of which the light does not rule it out", kind.name, fitted, covered, split, doubted)
		if most := float64(fitted)/200 + 3*math.Sqrt(float64(fitted)/200); !(float64(split) <= most) {
			t.Errorf("%s: %d of %d are split", kind.name, split, fitted)
		}
		if kind.pause == nil && split+doubted > 0 {
			t.Errorf("%s: %d are split and %d doubted, though every interval is as usual", kind.name, split, doubted)
		}
		if least := study.Least(fitted, 0.92, 3); !(float64(covered) >= least) {
			t.Errorf("%s: %d of %d intervals hold the truth, at least %.1f are wanted", kind.name, covered, fitted, least)
		}
	}
}

// A pauseTry is a log whose clock was never moved.
type pauseTry struct {
	fitted, covered, split, doubted bool
	err                             error
}

func tryPause(c rehearsal.Class, eclipses []*eclipse.Elements, seed uint64, pause func(*rand.Rand, *rehearsal.Log, []fit.Sample) []fit.Sample) (o pauseTry) {
	p, err := c.Draw(eclipses, seed)
	if err != nil {
		return pauseTry{err: err}
	}
	l, err := rehearsal.Make(context.Background(), p)
	if err != nil {
		return pauseTry{err: err}
	}
	s, err := converted(l, p.Chain)
	if err != nil {
		return pauseTry{err: err}
	}
	if pause != nil {
		s = pause(rand.New(rand.NewPCG(seed, 99)), l, s)
	}
	r, err := fit.Clock(context.Background(), s, l.Curve, fit.Options{})
	if errors.As(err, new(*fit.Refusal)) {
		return pauseTry{}
	} else if err != nil {
		return pauseTry{err: err}
	}
	return pauseTry{fitted: true, covered: r.CI95[0] <= l.Truth.Offset && l.Truth.Offset <= r.CI95[1],
		split: len(r.Segments) > 0, doubted: strings.Contains(strings.Join(r.Warnings, "; "), "than usual")}
}

// without leaves out what was taken for so many seconds from each of the stamps given.
func without(s []fit.Sample, from []time.Time, seconds []float64) (kept []fit.Sample) {
	for _, v := range s {
		lost := false
		for i, t := range from {
			d := v.Time.Sub(t).Seconds()
			lost = lost || d > 0 && d < seconds[i]
		}
		if !lost {
			kept = append(kept, v)
		}
	}
	return kept
}

func onePause(rng *rand.Rand, l *rehearsal.Log, s []fit.Sample) []fit.Sample {
	long := []float64{10, 20, 30, 60, 120, 300, 600}[rng.IntN(7)]
	at := l.Truth.Max.Add(secondsOf(l.Truth.Offset + 400*(rng.Float64()-0.5) - long/2))
	return without(s, []time.Time{at}, []float64{long})
}

func fourPauses(rng *rand.Rand, l *rehearsal.Log, s []fit.Sample) []fit.Sample {
	circ := l.Curve.Circumstances()
	at, long := make([]time.Time, 4), make([]float64, 4)
	for i := range at {
		at[i] = circ.C1.UTC.Add(time.Duration(rng.Float64() * float64(circ.C4.UTC.Sub(circ.C1.UTC))))
		long[i] = 10 + 200*rng.Float64()*rng.Float64()
	}
	return without(s, at, long)
}

// habit misses one to five readings, one time in a hundred.
func habit(rng *rand.Rand, _ *rehearsal.Log, s []fit.Sample) (kept []fit.Sample) {
	skip := 0
	for _, v := range s {
		if skip == 0 && rng.Float64() < 0.01 {
			skip = 1 + rng.IntN(5)
		}
		if skip > 0 {
			skip--
			continue
		}
		kept = append(kept, v)
	}
	return kept
}
