package logfile

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestSegments(t *testing.T) {
	const sec = time.Second
	for _, tt := range []struct {
		name   string
		stamps []string
		want   []string // from to began, moved, its uncertainty in ms, at most
	}{
		{"nothing", nil, nil},
		{"one record", even(t, "2027-08-02T07:00:00Z", sec, 1), []string{"0:1 - 0s 0"}},
		{"one run with a gap and a duplicate", slices.Concat(even(t, "2027-08-02T07:00:00Z", sec, 9), even(t, "2027-08-02T07:00:08Z", sec, 9), even(t, "2027-08-02T07:09:00Z", sec, 9)), []string{"0:27 - 0s 0"}},
		{"set back", append(even(t, "2027-08-02T07:00:00Z", 10*sec, 9), even(t, "2027-08-02T06:00:00Z", 10*sec, 9)...), []string{"0:9 - 0s 0", "9:18 step back -1h1m30s 2886"}},
		{"set on by days, or switched off", append(even(t, "2027-08-02T07:00:00Z", 10*sec, 9), even(t, "2027-08-05T07:00:00Z", 10*sec, 9)...), []string{"0:9 - 0s 0", "9:18 step forward 71h58m30s 2886 at most"}},
		{"reset, and set", slices.Concat(even(t, "2027-08-02T07:00:00Z", sec, 9), even(t, "2000-01-01T00:00:00Z", sec, 9), even(t, "2027-08-02T07:01:00Z", sec, 9)),
			[]string{"0:9 - 0s 0", "9:18 reset -241807h0m9s 288 at most", "18:27 set 241807h0m51s 288"}},
		{"the date stayed", append(even(t, "2027-08-02T23:59:50Z", sec, 10), even(t, "2027-08-02T00:00:00Z", sec, 9)...), []string{"0:10 - 0s 0", "10:19 midnight without a new date -24h0m0s 0"}},
		{"began again", append(even(t, "2027-08-02T07:00:00Z", sec, 9), "*2027-08-02T07:04:00Z", "2027-08-02T07:04:01Z"), []string{"0:9 - 0s 0", "9:11 restart 0s 0"}},
		{"header again, set back", append(even(t, "2027-08-02T07:00:00Z", sec, 9), "#2027-08-02T06:04:00Z", "2027-08-02T06:04:01Z"), []string{"0:9 - 0s 0", "9:11 step back -56m9s 288 at most"}},
		{"nothing to tell the cadence", []string{"2027-08-02T07:00:00Z", "2000-01-01T00:00:00Z", "2027-08-02T07:00:40Z"}, []string{"0:1 - 0s 0", "1:2 reset -241807h0m0s 0 at most", "2:3 set 241807h0m40s 0 at most"}},
		{"the cadence changed there", append(even(t, "2027-08-02T07:00:00Z", sec, 30), even(t, "2027-08-02T06:00:00Z", 3*sec, 5)...), []string{"0:30 - 0s 0", "30:35 step back -1h0m30s 288"}},
	} {
		recs := stamped(t, tt.stamps...)
		got := showSegments(t, recs, Segments(recs))
		if !slices.Equal(got, tt.want) {
			t.Errorf("%s:\n%q, want\n%q", tt.name, got, tt.want)
		}
	}
}

// showSegments writes segments down, and checks that they hold every record once.
func showSegments(t *testing.T, recs []Record, segments []Segment) (out []string) {
	t.Helper()
	at := 0
	for _, s := range segments {
		if s.From != at || s.To <= s.From || !s.First.Equal(recs[s.From].Time) || !s.Last.Equal(recs[s.To-1].Time) {
			t.Errorf("%+v begins at %d", s, at)
		}
		at = s.To
		began, most := "-", ""
		if s.Began != 0 {
			began = s.Began.String()
		}
		if s.AtMost {
			most = " at most"
		}
		out = append(out, fmt.Sprintf("%d:%d %s %v %d%s", s.From, s.To, began, s.Moved, s.MovedU.Milliseconds(), most))
	}
	if at != len(recs) {
		t.Errorf("%d of %d records are in a segment", at, len(recs))
	}
	return out
}

// A made-up log of a cadence, whose clock was wrong by so much in each part; none is a
// part without stamps of its own.
func TestApplyBack(t *testing.T) {
	const sec, hour = time.Second, time.Hour
	start := time.Date(2027, 8, 2, 7, 0, 0, 0, time.UTC)
	epoch := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	for _, tt := range []struct {
		name   string
		errors []time.Duration // of the clock, ten records each
		pause  time.Duration   // between them, beyond the cadence
		marks  []bool          // a count that began again
		want   []time.Duration // errors that are left
	}{
		{"set back", []time.Duration{2 * hour, 0}, 0, nil, []time.Duration{0, 0}},
		{"set back twice", []time.Duration{3 * hour, 2 * hour, 0}, 0, nil, []time.Duration{0, 0, 0}},
		{"never set, then set", []time.Duration{epoch.Sub(start), 0}, 0, nil, []time.Duration{0, 0}},
		{"reset and set: what was before the reset stays", []time.Duration{0, epoch.Sub(start), 0}, 0, nil, []time.Duration{0, 0, 0}},
		{"reset and never set: nothing is invented", []time.Duration{0, epoch.Sub(start)}, 0, nil, []time.Duration{0, epoch.Sub(start)}},
		{"never set, then set wrong, then set right", []time.Duration{epoch.Sub(start), 2 * hour, 0}, 0, nil, []time.Duration{0, 0, 0}},
		{"switched off and on between, with the same clock", []time.Duration{2 * hour, 2 * hour, 0}, 0, []bool{false, true, false}, []time.Duration{0, 0, 0}},
		{"on by days: it may be a pause", []time.Duration{-48 * hour, 0}, 0, nil, []time.Duration{-48 * hour, 0}},
		{"the date stayed", []time.Duration{0, -24 * hour}, 0, nil, []time.Duration{0, 0}},
		{"the date stayed twice", []time.Duration{0, -24 * hour, -48 * hour}, 0, nil, []time.Duration{0, 0, 0}},
		{"the date stayed, and was set", []time.Duration{0, -24 * hour, 0}, 0, nil, []time.Duration{0, 0, 0}},
		{"set a minute late is a minute out", []time.Duration{2 * hour, 0}, 60 * sec, nil, []time.Duration{60 * sec, 0}},
	} {
		var recs []Record
		var truth []time.Time
		now := start
		for i, e := range tt.errors {
			for j := range 10 {
				recs = append(recs, Record{Time: now.Add(e), Restarted: j == 0 && tt.marks != nil && tt.marks[i]})
				truth = append(truth, now)
				now = now.Add(sec)
			}
			now = now.Add(tt.pause)
		}
		check := func(how string, recs []Record, truth []time.Time, part func(i int) int) {
			before := slices.Clone(recs)
			got := ApplyBack(recs, Segments(recs))
			for i := range got {
				if left := got[i].Time.Sub(truth[i]); left != tt.want[part(i)] {
					t.Errorf("%s%s: record %d is out by %v, want %v", tt.name, how, i, left, tt.want[part(i)])
					break
				}
			}
			if !slices.EqualFunc(recs, before, func(a, b Record) bool { return a.Time.Equal(b.Time) }) {
				t.Errorf("%s%s: the records were changed", tt.name, how)
			}
		}
		check("", recs, truth, func(i int) int { return i / 10 })
		if tt.marks != nil {
			continue
		}
		slices.Reverse(recs)
		slices.Reverse(truth)
		check(", newest first", recs, truth, func(i int) int { return (len(recs) - 1 - i) / 10 })
	}
}

// A caller who knows better says so; segments that are not the records' do no harm.
func TestApplyBackAsGiven(t *testing.T) {
	recs := stamped(t, append(even(t, "2027-08-02T07:00:00Z", time.Second, 9), even(t, "2027-08-05T07:00:00Z", time.Second, 9)...)...)
	segments := Segments(recs)
	segments[1].Moved, segments[1].AtMost = 24*time.Hour, false
	if got := ApplyBack(recs, segments); !got[0].Time.Equal(at(t, "2027-08-03T07:00:00Z")) || !got[9].Time.Equal(at(t, "2027-08-05T07:00:00Z")) {
		t.Errorf("%v %v", got[0].Time, got[9].Time)
	}
	for _, s := range [][]Segment{nil, {{}}, {{From: -3, To: 99}, {From: 40, To: 50, Began: StepBack, Moved: time.Hour}}} {
		if got := ApplyBack(recs[:2], s); len(got) != 2 {
			t.Errorf("%v: %d records", s, len(got))
		}
	}
}

// Whatever the step, and however uneven the cadence: what comes back is the truth to
// within half a cadence, which is what the step leaves open, and exact in itself.
func TestApplyBackGivesTheTruth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cadence := time.Duration(rapid.IntRange(1000, 60_000).Draw(t, "cadence")) * time.Millisecond
		n := rapid.IntRange(20, 60).Draw(t, "records")
		at := rapid.IntRange(8, n-8).Draw(t, "where the step is")
		least := 2 * cadence
		step := time.Duration(rapid.Int64Range(int64(least), int64(30*day)).Draw(t, "step"))
		if over := step - day; over.Abs() < 15*time.Minute {
			t.Skip("a day less nothing is a midnight")
		}
		if rapid.Bool().Draw(t, "to and from the epoch") {
			step = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC).Sub(time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC))
		}
		now := time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC)
		var recs []Record
		var truth []time.Time
		for i := range n {
			stamp := now
			if i < at {
				stamp = now.Add(step) // the clock was ahead, and was set back by as much
			}
			recs = append(recs, Record{Time: stamp.UTC()})
			truth = append(truth, now)
			now = now.Add(cadence*3/4 + time.Duration(rapid.Int64Range(0, int64(cadence/2)).Draw(t, "uneven")))
		}
		segments := Segments(recs)
		if len(segments) != 2 || segments[1].From != at || segments[1].AtMost {
			t.Fatalf("%+v", segments)
		}
		got := ApplyBack(recs, segments)
		left := got[0].Time.Sub(truth[0])
		if !(left.Abs() <= cadence/2) || !(math.Abs(float64(segments[1].Moved+step)) <= float64(cadence)/2) {
			t.Fatalf("out by %v with a cadence of %v, moved %v for %v", left, cadence, segments[1].Moved, -step)
		}
		for i := range got {
			want := left
			if i >= at {
				want = 0
			}
			if got[i].Time.Sub(truth[i]) != want {
				t.Fatalf("record %d is out by %v, want %v", i, got[i].Time.Sub(truth[i]), want)
			}
		}
	})
}
