package logfile

import (
	"fmt"
	"testing"
	"time"
)

// series makes records whose stamps step so many seconds.
func series(steps ...int) []Record {
	out := []Record{{Line: 1, Time: time.Unix(1817190000, 0).UTC()}}
	for i, s := range steps {
		out = append(out, Record{Line: i + 2, Time: out[i].Time.Add(time.Duration(s) * time.Second)})
	}
	return out
}

func steps(n, step int, more ...int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = step
	}
	return append(out, more...)
}

func TestEvents(t *testing.T) {
	for _, tt := range []struct {
		name  string
		steps []int
		want  string
		watch string // where the first step alone cannot tell
	}{
		{"even", steps(50, 1), "[]", ""},
		{"newest first", steps(50, -15), "[]", ""},
		{"everything", steps(7, 1, 0, 1, 90, 1, 1, -30, 1, 1, 90000, 1), "[duplicate 9 0 gap 11 90 step back 14 -30 step forward 17 9e+04]", ""},
		{"clock reset to 2000 and set again", steps(5, 1, -870_000_000, 1, 1, 870_000_060, 1), "[step back 7 -8.7e+08 step forward 10 8.7e+08]", ""},
		{"first step back", append([]int{-3600}, steps(9, 1)...), "[step back 2 -3600]", "[]"},
		{"second step back", append([]int{1, -3600}, steps(9, 1)...), "[step back 3 -3600]", ""},
		{"newest first, a step the other way", append(steps(9, -15, 100), steps(9, -15)...), "[step back 11 100]", ""},
		{"newest first, the first step the other way", []int{10, -15, -15}, "[step back 2 10]", "[step back 3 -15 step back 4 -15]"},
		{"a gap before there is a cadence", []int{1, 1, 90, 1}, "[]", ""},
		{"a slow logger", steps(20, 60, 300), "[]", ""},
		{"a slow logger that paused", steps(20, 60, 660), "[gap 22 660]", ""},
		{"one record", nil, "[]", ""},
	} {
		show := func(events []Event) string {
			out := []string{}
			for _, e := range events {
				out = append(out, fmt.Sprintf("%v %d %.4g", e.Kind, e.Line, e.Seconds))
				if !(e.To.Sub(e.From).Seconds() == e.Seconds) {
					t.Errorf("%s: from %v to %v are not %g s", tt.name, e.From, e.To, e.Seconds)
				}
			}
			return fmt.Sprint(out)
		}
		if got := show(Events(series(tt.steps...))); got != tt.want {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
		if tt.watch == "" {
			tt.watch = tt.want
		}
		var w Watch
		var seen []Event
		for _, r := range series(tt.steps...) {
			if e, ok := w.See(r); ok {
				seen = append(seen, e)
			}
		}
		if got := show(seen); got != tt.watch {
			t.Errorf("%s, watched: %v, want %v", tt.name, got, tt.watch)
		}
	}
}

func TestWatchAllocatesNothing(t *testing.T) {
	recs := series(steps(1000, 1)...)
	if n := testing.AllocsPerRun(5, func() {
		var w Watch
		for _, r := range recs {
			w.See(r)
		}
	}); n > 0 {
		t.Errorf("%g allocations", n)
	}
}
