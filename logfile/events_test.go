package logfile

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
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
		{"clock reset to 2000 and set again", steps(5, 1, -870_000_000, 1, 1, 870_000_060, 1), "[reset 7 -8.7e+08 set 10 8.7e+08]", ""},
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

// stamped makes records of stamps; an asterisk in front says that the count since the
// start began again, a hash that a header came again, a bar that another file begins.
func stamped(t *testing.T, stamps ...string) (out []Record) {
	t.Helper()
	line := 1
	for _, s := range stamps {
		mark := strings.TrimLeft(s, "*#|")
		if line++; strings.HasPrefix(s, "|") {
			line = 1
		}
		out = append(out, Record{Line: line, Time: at(t, mark), Restarted: strings.HasPrefix(s, "*"), HeaderAgain: strings.HasPrefix(s, "#")})
	}
	return out
}

// even makes stamps that are so far apart, from one on.
func even(t *testing.T, from string, step time.Duration, n int) (out []string) {
	t.Helper()
	for i := range n {
		out = append(out, at(t, from).Add(time.Duration(i)*step).Format(time.RFC3339))
	}
	return out
}

// What the clock did, told by Events and by Watch alike, from the file as it is and
// from the same newest first; kinds with the second of the later record.
func TestKindsOfEvent(t *testing.T) {
	before := even(t, "2027-08-02T07:00:00Z", 10*time.Second, 8)
	for _, tt := range []struct {
		name, from string
		n          int
		step       time.Duration
		want       EventKind
	}{
		{"goes on", "2027-08-02T07:01:20Z", 8, 10 * time.Second, 0},
		{"gap", "2027-08-02T07:03:00Z", 8, 10 * time.Second, Gap},
		{"no gap yet", "2027-08-02T07:02:50Z", 8, 10 * time.Second, 0},
		{"set back by an hour", "2027-08-02T06:01:20Z", 8, 10 * time.Second, StepBack},
		{"set on by a day", "2027-08-03T07:01:20Z", 8, 10 * time.Second, StepForward},
		{"day missing in one file", "2027-08-03T07:00:00Z", 8, 10 * time.Second, StepForward},
		{"day missing between files", "|2027-08-03T07:00:00Z", 8, 10 * time.Second, Gap},
		{"years forward", "2031-08-03T07:01:20Z", 8, 10 * time.Second, StepForward},
		{"reset to 2000", "2000-01-01T00:00:07Z", 8, 10 * time.Second, Reset},
		{"reset to 2000 of a clock that runs in its zone", "1999-12-31T22:00:07Z", 8, 10 * time.Second, Reset},
		{"reset to 2000 and idle for a week", "2000-01-08T00:00:07Z", 8, 10 * time.Second, Reset},
		{"reset to 1970", "1970-01-01T00:00:00Z", 8, 10 * time.Second, Reset},
		{"reset to 1980", "1980-01-01T00:00:31Z", 8, 10 * time.Second, Reset},
		{"reset to 1980, satellites", "1980-01-06T00:00:31Z", 8, 10 * time.Second, Reset},
		{"reset to 1900", "1900-01-01T00:00:31Z", 8, 10 * time.Second, Reset},
		{"years back to no epoch", "2003-01-01T00:00:31Z", 8, 10 * time.Second, StepBack},
		{"began again", "*2027-08-02T07:01:20Z", 8, 10 * time.Second, Restart},
		{"began again, and a day on", "*2027-08-03T07:01:20Z", 8, 10 * time.Second, Restart},
		{"header again after a pause", "#2027-08-02T07:01:40Z", 8, 10 * time.Second, Restart},
		{"header again without one", "#2027-08-02T07:01:20Z", 8, 10 * time.Second, 0},
		{"header again, reset", "#2000-01-01T00:00:07Z", 8, 10 * time.Second, Reset},
		{"the date stayed", "2027-08-01T07:01:20Z", 8, 10 * time.Second, Midnight},
		{"set back by a day and a bit", "2027-08-01T07:00:50Z", 8, 10 * time.Second, StepBack},
	} {
		rest := even(t, strings.TrimLeft(tt.from, "*#|"), tt.step, tt.n)
		rest[0] = tt.from
		recs := stamped(t, append(slices.Clone(before), rest...)...)
		if got := kindsAt(t, recs); tt.want == 0 && len(got) > 0 || tt.want != 0 && got[recs[len(before)].Line] != tt.want || len(got) > 1 {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
		if strings.Trim(tt.from, "*#|") != tt.from {
			continue // what stands between the lines has its order
		}
		slices.Reverse(recs)
		for i := range recs {
			recs[i].Line = i + 2
		}
		if got := kindsAt(t, recs); tt.want == 0 && len(got) > 0 || tt.want != 0 && got[len(rest)+2] != tt.want || len(got) > 1 {
			t.Errorf("%s, newest first: %v, want %v", tt.name, got, tt.want)
		}
	}
}

// kindsAt are the kinds by line, told by Events and by a Watch alike.
func kindsAt(t *testing.T, recs []Record) map[int]EventKind {
	t.Helper()
	out := map[int]EventKind{}
	for _, e := range Events(recs) {
		out[e.Line] = e.Kind
	}
	var w Watch
	var seen []Event
	for _, r := range recs {
		if e, ok := w.See(r); ok {
			seen = append(seen, e)
		}
	}
	if !slices.Equal(seen, Events(recs)) {
		t.Errorf("watched %v, but %v", seen, Events(recs))
	}
	return out
}

// Clocks that were never set, and what becomes of them.
func TestUnsetClock(t *testing.T) {
	for _, tt := range []struct {
		name   string
		stamps []string
		want   string
	}{
		{"set at last", append(even(t, "1970-01-01T00:00:05Z", 10*time.Second, 6), even(t, "2027-08-02T07:00:00Z", 10*time.Second, 6)...), "map[8:set]"},
		{"power lost twice", slices.Concat(even(t, "2000-01-01T00:00:05Z", 10*time.Second, 6), even(t, "2000-01-01T00:00:07Z", 10*time.Second, 6), even(t, "2000-01-01T00:00:02Z", 10*time.Second, 6)), "map[8:reset 14:reset]"},
		{"runs unset for months", append(even(t, "2000-01-01T00:00:05Z", 8*time.Hour, 600), even(t, "2027-08-02T07:00:00Z", 8*time.Hour, 6)...), "map[602:set]"},
		{"a year on is no epoch", append(even(t, "2001-02-01T00:00:05Z", 10*time.Second, 6), even(t, "2027-08-02T07:00:00Z", 10*time.Second, 6)...), "map[8:step forward]"},
	} {
		recs := stamped(t, tt.stamps...)
		if got := kindsAt(t, recs); fmt.Sprint(got) != tt.want {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
}

// A header that comes again is told by the reader.
func TestHeaderAgain(t *testing.T) {
	in := "time,light\n"
	for i := range 8 {
		in += fmt.Sprintf("2027-08-02 07:00:%02d,%d\n", i, i)
	}
	in += "time,light\n2027-08-02 07:03:00,9\n2027-08-02 07:03:01,9\n\x00\x00time,light\n2027-08-02 07:09:00,9\n"
	recs, _, err := drain(t, strings.NewReader(in), Options{})
	require.NoError(t, err)
	for i, r := range recs {
		if want := i == 8 || i == 10; r.HeaderAgain != want {
			t.Errorf("record %d: %v, want %v", i, r.HeaderAgain, want)
		}
	}
	if got := kindsAt(t, recs); fmt.Sprint(got) != "map[11:restart 14:restart]" {
		t.Errorf("%v", got)
	}
}

// A clock that passes midnight does nothing: in one file of times of day, or from one
// day's file to the next.
func TestMidnightIsNoEvent(t *testing.T) {
	in := ""
	for i := range 40 {
		in += time.Unix(int64(86380+i), 0).UTC().Format("15:04:05") + ",7\n"
	}
	recs, _, err := drain(t, strings.NewReader(in), Options{Name: "20270802.csv"})
	require.NoError(t, err)
	if e := Events(recs); len(e) > 0 || !recs[39].Time.Equal(at(t, "2027-08-03T00:00:19Z")) {
		t.Errorf("%v to %v", e, recs[39].Time)
	}
}
