package fit

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"example.org/noonfall/sensor"
	"example.org/noonfall/sun"
)

// What counts as a pause: an interval that is odd beside its neighbours, whatever the samples
// are worth and in whatever order they come.
func TestPauses(t *testing.T) {
	curve, l := realLight(t, time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 36, Lon: -5.6})
	start := curve.Observer().Scale().UTC(l.max).Truncate(time.Minute).Add(-30 * time.Minute)
	every := func(step int, changes ...func(i int) int) (at []int) {
		for i, t := 0, 0; t < 3600; i++ {
			at = append(at, t)
			t += step
			for _, c := range changes {
				t += c(i)
			}
		}
		return at
	}
	once := func(k, by int) func(int) int {
		return func(i int) int {
			if i == k {
				return by
			}
			return 0
		}
	}
	for _, tt := range []struct {
		name  string
		at    []int // s
		least float64
		want  []float64 // excesses
		like  int       // of the first
	}{
		{"regular", every(10), 2, nil, 0},
		{"one missing", every(10, once(150, 10)), 2, []float64{10}, 1},
		{"less than is asked for", every(10, once(150, 10)), 11, nil, 0},
		{"set back", every(60, once(20, -25)), 2, []float64{-25}, 1},
		{"two, of which one is half as odd", every(10, once(100, 20), once(200, 10)), 2, []float64{20, 10}, 2},
		{"two, of which one is hardly odd", every(10, once(100, 20), once(200, 9)), 2, []float64{20, 9}, 1},
		{"longer than is looked for", every(10, once(150, 900)), 2, nil, 0},
		{"another pace near the middle", append(every(60)[:20], func() (at []int) {
			for _, s := range every(5) {
				if s >= 1200 && s <= 1800 {
					at = append(at, s)
				}
			}
			return at
		}()...), 2, nil, 0},
		{"whole seconds hop", every(10, once(150, 1)), 1.5, nil, 0},
	} {
		samples := make([]Sample, len(tt.at))
		for i, s := range tt.at {
			samples[i] = Sample{Time: start.Add(time.Duration(s) * time.Second), Value: 1000 + float64(i%7)}
			if i > 120 && i < 180 { // bounds leave no gap
				samples[i].Status = sensor.Saturated
			}
		}
		for order, in := range map[string][]Sample{"ascending": samples, "newest first": func() []Sample { r := slices.Clone(samples); slices.Reverse(r); return r }()} {
			t.Run(fmt.Sprint(tt.name, ", ", order), func(t *testing.T) {
				s := newSeries(in, curve.Observer().Scale(), l.max, false)
				got := l.pauses(in, &s, 0, tt.least)
				if len(got) != len(tt.want) {
					t.Fatalf("%d pauses, want %v: %+v", len(got), tt.want, got)
				}
				for i, w := range tt.want {
					if !(math.Abs(got[i].excess-w) <= 1e-9) || !got[i].to.After(got[i].from) {
						t.Errorf("pause of %g s from %v to %v, want %g", got[i].excess, got[i].from, got[i].to, w)
					}
				}
				if len(got) > 0 && got[0].like != tt.like {
					t.Errorf("%d are like the first, want %d", got[0].like, tt.like)
				}
			})
		}
	}
}

// By how much the clock was moved is known where the stamps show that the logger ran on by
// itself, and to its cadence where they do not; and no better than the intervals beside agree.
func TestUnknown(t *testing.T) {
	for _, tt := range []struct{ excess, usual, spread, want float64 }{
		{5, 10, 0, 0.41}, {-25, 60, 0, 0.41}, {30, 10, 0, 10 / math.Sqrt(6)}, {30, 1, 0, 1 / math.Sqrt(6)}, {70, 15, 4, math.Hypot(4, 0.41)},
	} {
		if got := (&pause{excess: tt.excess, usual: tt.usual, spread: tt.spread}).unknown(); !(math.Abs(got-tt.want) <= 1e-12) {
			t.Errorf("%g s where %g s are usual: %g s, want %g", tt.excess, tt.usual, got, tt.want)
		}
	}
}
