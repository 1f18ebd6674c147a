package dips

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// The constant ofWhite, by draws: how far a window of white noise lies above both its sides.
func TestUpper(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	var up []float64
	for range 2_000_000 {
		if d := rng.NormFloat64() - max(rng.NormFloat64(), rng.NormFloat64()); d > 0 {
			up = append(up, d/math.Sqrt2)
		}
	}
	slices.Sort(up)
	if got := up[int(upper*float64(len(up)))]; !(math.Abs(got-ofWhite) <= 0.003) {
		t.Errorf("%.4f, want %g", got, ofWhite)
	}
}

// The area of a lamp that a straight edge has covered, by counting points.
func TestCovered(t *testing.T) {
	for x := -0.2; x < 1.3; x += 0.1 {
		in, all := 0, 0
		for i := range 1000 {
			for j := range 1000 {
				a, b := (float64(i)+0.5)/500-1, (float64(j)+0.5)/500-1
				if a*a+b*b < 1 {
					all++
					if a < 2*x-1 {
						in++
					}
				}
			}
		}
		if want := float64(in) / float64(all); !(math.Abs(covered(x)-want) <= 0.002) {
			t.Errorf("covered(%.1f) = %.4f, by points %.4f", x, covered(x), want)
		}
	}
}

// one is a quiet log with one deep passage from 95 to 105 s.
func one() []Sample {
	b := newBench(1)
	return b.log(200, []pass{{least: 100, speed: 0.4, ball: 1.2, impact: 0.3}}, nil)
}

func find(t *testing.T, s []Sample, o Options) *Result {
	t.Helper()
	r, err := Find(context.Background(), s, o)
	require.NoError(t, err)
	return r
}

// Order, lost readings, readings twice and another zone change nothing.
func TestAnyOrder(t *testing.T) {
	log := one()
	want := find(t, log, Options{})
	require.Len(t, want.Dips, 1)
	mixed := slices.Clone(log)
	rng := rand.New(rand.NewPCG(3, 4))
	for i := range mixed {
		mixed[i].Time = mixed[i].Time.In(time.FixedZone("", 3600))
	}
	mixed = append(mixed, mixed[50:60]...)
	for i := range 20 {
		mixed = append(mixed, Sample{Time: log[i].Time.Add(time.Millisecond), Counts: []float64{math.NaN(), math.Inf(1), -1e200}[i%3]})
	}
	rng.Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
	got := find(t, mixed, Options{})
	require.Len(t, got.Dips, 1)
	if d, w := got.Dips[0], want.Dips[0]; !d.Start.Equal(w.Start) || !d.End.Equal(w.End) || d.Depth != w.Depth || got.Skipped != 20 {
		t.Errorf("%+v, want %+v; %d skipped", d, w, got.Skipped)
	}
}

// Counts scaled give the same dip; counts turned over too, with darkness told.
func TestScaleAndSense(t *testing.T) {
	log := one()
	want := find(t, log, Options{}).Dips[0]
	for _, tt := range []struct {
		name        string
		scale, zero float64
		o           Options
		sense       Sense
	}{
		{"a thousandth", 1e-3, 0, Options{}, Falling},
		{"an offset", 1, 500, Options{Dark: 500}, Falling},
		{"turned over", -1, 4095, Options{Dark: 4095}, Rising},
		{"turned over and told", -1, 4095, Options{Dark: 4095, Sense: Rising}, Rising},
	} {
		other := slices.Clone(log)
		for i := range other {
			other[i].Counts = tt.zero + tt.scale*other[i].Counts
		}
		r := find(t, other, tt.o)
		if len(r.Dips) != 1 || r.Sense != tt.sense {
			t.Errorf("%s: %d dips, %v", tt.name, len(r.Dips), r.Sense)
			continue
		}
		d := r.Dips[0]
		off := d.Least.Sub(want.Least).Abs() + d.Start.Sub(want.Start).Abs() + d.End.Sub(want.End).Abs()
		if !(math.Abs(d.Depth-want.Depth) <= 1e-4 && off <= 20*time.Millisecond) {
			t.Errorf("%s: %+v, want %+v", tt.name, d, want)
		}
	}
	if r := find(t, log, Options{Sense: Rising}); len(r.Dips) != 0 {
		t.Errorf("looked for the other way: %+v", r.Dips)
	}
}

// What stands out and is no ball's passage has a reason.
func TestAside(t *testing.T) {
	hold := func(from, to, level float64) func(float64) float64 {
		return func(t float64) float64 {
			if t >= from && t < to {
				return level
			}
			return 1
		}
	}
	gone := func(from, to int) func([]Sample) []Sample {
		return func(s []Sample) []Sample { return slices.Delete(s, from, to) }
	}
	ball := []pass{{least: 300, speed: 0.05, ball: 1.2, impact: 0.3}} // 87 s
	for _, tt := range []struct {
		name   string
		passes []pass
		lamp   func(float64) float64
		change func([]Sample) []Sample
		o      Options
		want   Reason
	}{
		{"off and on", nil, hold(200, 300, 0), nil, Options{}, Switched},
		{"somebody stays before it", nil, hold(200, 300, 0.7), nil, Options{}, Switched},
		{"down, and half up", nil, func(t float64) float64 { return min(hold(200, 260, 0.2)(t), hold(260, 1e9, 0.7)(t)) }, nil, Options{}, Step},
		{"its end is not in the log", ball, nil, gone(302, 600), Options{}, Cut},
		{"the log begins in it", ball, nil, gone(0, 300), Options{}, Cut},
		{"too long", ball, nil, nil, Options{Longest: 30 * time.Second}, Long},
		{"too short", ball, nil, nil, Options{Shortest: 80 * time.Second}, Short},
	} {
		b := newBench(5)
		b.noise = 0.003
		log := b.log(600, tt.passes, tt.lamp)
		if tt.change != nil {
			log = tt.change(log)
		}
		r := find(t, log, tt.o)
		var got []Reason
		for _, a := range r.Aside {
			got = append(got, a.Reason)
		}
		if len(r.Dips) != 0 || len(got) > 0 && !slices.Contains(got, tt.want) {
			t.Errorf("%s: %+v, aside %v, want %v", tt.name, r.Dips, got, tt.want)
		}
	}
}

// A passage of which a quarter is missing is found, with an edge as uncertain as the gap.
func TestGapAtAnEdge(t *testing.T) {
	b := newBench(6)
	log := b.log(600, []pass{{least: 300, speed: 0.05, ball: 1.2, impact: 0.3}}, nil)
	r := find(t, slices.Delete(log, 330, 350), Options{})
	require.Len(t, r.Dips, 1)
	start, end := pass{least: 300, speed: 0.05, ball: 1.2, impact: 0.3}.contacts()
	d := r.Dips[0]
	for _, x := range []struct {
		got  time.Time
		u    time.Duration
		want float64
	}{{d.Start, d.StartU, start}, {d.End, d.EndU, end}} {
		if off := x.got.Sub(benchDay).Seconds() - x.want; !(math.Abs(off) <= 3*x.u.Seconds()) {
			t.Errorf("%.1f s off, u %v", off, x.u)
		}
	}
	if d.EndU <= d.StartU {
		t.Errorf("end beside a gap %v, start %v", d.EndU, d.StartU)
	}
}

func TestErrors(t *testing.T) {
	log := one()
	far := append(slices.Clone(log), Sample{Time: benchDay.AddDate(3, 0, 0), Counts: 1})
	below := slices.Clone(log)
	stamped := slices.Clone(log)
	for i := range stamped {
		stamped[i].Time = benchDay
	}
	for _, tt := range []struct {
		name string
		log  []Sample
		o    Options
		want error
	}{
		{"none", nil, Options{}, ErrFew},
		{"nineteen", log[:19], Options{}, ErrFew},
		{"one stamp", stamped, Options{}, ErrFew},
		{"a clock reset", far, Options{}, ErrSpan},
		{"darkness above the lamp", below, Options{Dark: 5000, Sense: Falling}, ErrDark},
		{"depth", log, Options{MinDepth: 1}, ErrOptions},
		{"depth that is no number", log, Options{MinDepth: math.NaN()}, ErrOptions},
		{"darkness that is no number", log, Options{Dark: math.NaN()}, ErrOptions},
		{"threshold", log, Options{Threshold: 1}, ErrOptions},
		{"longer than longest", log, Options{Shortest: 2, Longest: 1}, ErrOptions},
		{"sense", log, Options{Sense: 7}, ErrOptions},
	} {
		if _, err := Find(context.Background(), tt.log, tt.o); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
		}
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Find(ctx, log, Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}
