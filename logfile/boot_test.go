package logfile

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var bootStarts = []time.Time{
	time.Date(2027, 8, 2, 7, 0, 0, 0, time.UTC),
	time.Date(2027, 9, 2, 7, 0, 0, 0, time.UTC),
	time.Date(2027, 10, 2, 7, 0, 0, 0, time.UTC),
}

// both reads a file the quick and the careful way, which must not differ.
func both(t testing.TB, in string, opt Options) ([]Record, Report, error) {
	t.Helper()
	recs, rep, err := walk(t, NewReader(strings.NewReader(in), opt))
	r := NewReader(strings.NewReader(in), opt)
	r.slow = true
	recs1, rep1, err1 := walk(t, r)
	if !same(recs, recs1) || fmt.Sprint(rep.Lines, rep.ByKind, rep.Starts, err) != fmt.Sprint(rep1.Lines, rep1.ByKind, rep1.Starts, err1) {
		t.Fatalf("%q: the careful way reads otherwise:\n%v %v\n%v %v", in, rep, err, rep1, err1)
	}
	lawful(t, rep, int64(len(in)))
	return recs, rep, err
}

func TestCountSinceStart(t *testing.T) {
	const head = "seconds,light\n"
	for _, tt := range []struct {
		name, in string
		opt      Options
		starts   int
		want     string // seconds since the first start, * where it began again
		problems string
	}{
		{"seconds", head + "0,1\n10,2\n20,3\n", Options{}, 1, "[0 10 20]", "map[]"},
		{"milliseconds by the heading", "time_ms,light\n250,1\n500,2\n750,3\n", Options{}, 1, "[0.25 0.5 0.75]", "map[]"},
		{"microseconds in brackets", "time [µs],light\n250,1\n500,2\n750,3\n", Options{}, 1, "[0.00025 0.0005 0.00075]", "map[]"},
		{"tick given, against the heading", head + "0,1\n10,2\n20,3\n", Options{Tick: 10 * time.Millisecond}, 1, "[0 0.1 0.2]", "map[]"},
		{"fractions", head + "0.125,1\n0.25,2\n0.375,3\n", Options{}, 1, "[0.125 0.25 0.375]", "map[]"},
		{"fractions behind a comma", "seconds;light\n0,125;1\n0,25;2\n0,375;3\n", Options{}, 1, "[0.125 0.25 0.375]", "map[]"},
		{"in quotes", head + "\"0\",1\n\"10\",2\n\"20\",3\n", Options{}, 1, "[0 10 20]", "map[]"},
		{"a unit in the cells", "uptime,light\n5 s,1\n15 s,2\n25 s,3\n35 min,4\n", Options{}, 1, "[5 15 25]", "map[unreadable stamp:1]"},
		{"no heading", "5,81\n15,7\n25,9\n35,3\n45,4\n55,1\n65,0\n75,2\n", Options{Tick: time.Second}, 1, "[5 15 25 35 45 55 65 75]", "map[]"},
		{"beside a switch and a noisy number, no heading", "1,40,5,81\n0,42,15,7\n1,41,25,9\n0,44,35,3\n1,43,45,4\n0,46,55,1\n1,44,65,0\n0,47,75,2\n", Options{Tick: time.Second, Light: "4"}, 1, "[5 15 25 35 45 55 65 75]", "map[]"},
		{"from the middle", head + "100000,1\n100010,2\n100020,3\n", Options{}, 1, "[100000 100010 100020]", "map[]"},
		{"began again", head + "0,1\n10,2\n20,3\n4,4\n14,5\n", Options{}, 2, "[0 10 20 2678404* 2678414]", "map[]"},
		{"began again, nobody knows when", head + "0,1\n10,2\n20,3\n4,4\n14,5\n4,6\n", Options{Starts: bootStarts[:1]}, 3, "[0 10 20]", "map[a count since a start that nobody gave:3]"},
		{"one start not known", head + "0,1\n10,2\n20,3\n4,4\n14,5\n4,6\n14,7\n", Options{Starts: []time.Time{bootStarts[0], {}, bootStarts[2]}}, 3, "[0 10 20 5270404* 5270414]", "map[a count since a start that nobody gave:2]"},
		{"the same count twice", head + "0,1\n10,2\n10,3\n20,4\n", Options{}, 1, "[0 10 10 20]", "map[]"},
		{"a damaged line, higher", head + "0,1\n10,2\n20,3\n30,4\n40,5\n50,6\n960,7\n70,8\n80,9\n", Options{}, 1, "[0 10 20 30 40 50 960 70 80]", "map[]"},
		{"a damaged line, lower", head + "1000,1\n1010,2\n1020,3\n1030,4\n1040,5\n1050,6\n60,7\n1070,8\n1080,9\n", Options{Starts: bootStarts[:1]}, 1, "[1000 1010 1020 1030 1040 1050 1070 1080]", "map[a count since a start that nobody gave:1]"},
		{"a damaged line and a start", head + "1000,1\n1010,2\n1020,3\n1030,4\n1040,5\n1050,6\n60,7\n1070,8\n5,9\n15,10\n", Options{}, 2, "[1000 1010 1020 1030 1040 1050 2678460* 1070 2678405* 2678415]", "map[]"},
		{"a start, and a pause beyond the count before", head + "1000,1\n1010,2\n1020,3\n1030,4\n1040,5\n1050,6\n5,7\n2000,8\n2010,9\n", Options{}, 2, "[1000 1010 1020 1030 1040 1050 2678405* 2680400 2680410]", "map[]"},
		{"a pause of the card is no start", head + "0,1\n10,2\n20,3\n30,4\n40,5\n50,6\n960,7\n970,8\n5,9\n", Options{}, 2, "[0 10 20 30 40 50 960 970 2678405*]", "map[]"},
		{"unreadable", head + "0,1\n10,2\n2>,3\n30,4\n-40,5\n,6\n1e300,7\nnan,8\n", Options{}, 1, "[0 10 30]", "map[unreadable stamp:5]"},
		{"milliseconds roll over", "ms,light\n4294966000,1\n4294966500,2\n4294967000,3\n204,4\n704,5\n", Options{}, 1, "[4294966 4294966.5 4294967 4294967.5 4294968]", "map[]"},
		{"microseconds roll over twice", "us,light\n4294000000,1\n4294500000,2\n32704,3\n4294967290,4\n4,5\n", Options{}, 1, "[4294 4294.5 4295 8589.934586 8589.934596]", "map[]"},
		{"seconds of milliseconds roll over", head + "4294965,1\n4294966,2\n4294967,3\n1,4\n2,5\n", Options{}, 1, "[4294965 4294966 4294967 4294968.296 4294969.296]", "map[]"},
		{"near the end, and began again", "ms,light\n4294900000,1\n4294900500,2\n4294901000,3\n204,4\n704,5\n", Options{}, 2, "[4294900 4294900.5 4294901 2678400.204* 2678400.704]", "map[]"},
		{"milliseconds of the size of an epoch", "ms,light\n1817190000,1\n1817190500,2\n1817191000,3\n", Options{}, 1, "[1817190 1817190.5 1817191]", "map[]"},
		{"the same without a heading", "1817190000,1\n1817190500,2\n", Options{Columns: []Role{Time, Light}, Tick: time.Millisecond}, 1, "[1817190 1817190.5]", "map[]"},
		{"columns given", "4711,5,1\n4712,6,2\n4713,7,3\n", Options{Columns: []Role{Skip, Time, Light}, Tick: time.Second}, 1, "[5 6 7]", "map[]"},
		{"other stamps come first", "time,seconds,light\n2027-08-02T07:00:05Z,0,1\n2027-08-02T07:00:06Z,1,2\n2027-08-02T07:00:07Z,2,3\n", Options{}, 0, "[5 6 7]", "map[]"},
		{"an epoch comes first", "seconds,time,light\n0,1817190005,1\n1,1817190006,2\n2,1817190007,3\n", Options{}, 0, "[5 6 7]", "map[]"},
		{"newest first, columns given", "30,5\n20,6\n10,7\n", Options{Columns: []Role{Time, Light}, Starts: bootStarts[:1], Tick: time.Second}, 3, "[30]", "map[a count since a start that nobody gave:2]"},
		{"the last line is cut in its count", "light,ms\n1,1000\n2,1500\n3,2000\n4,25", Options{}, 1, "[1 1.5 2]", "map[torn line:1]"},
		{"the last line is not", "light,ms\n1,1000\n2,1500\n3,2000\n4,2500", Options{}, 1, "[1 1.5 2 2.5]", "map[]"},
		{"zeros between", head + "0,1\n10,2\n\x00\x0020,3\n30,4\n5,5\n", Options{}, 2, "[0 10 20 30 2678405*]", "map[]"},
	} {
		if tt.opt.Starts == nil {
			tt.opt.Starts = bootStarts
		}
		recs, rep, err := both(t, tt.in, tt.opt)
		require.NoError(t, err, tt.name)
		got := []string{}
		for _, r := range recs {
			star := ""
			if r.Restarted {
				star = "*"
			}
			got = append(got, fmt.Sprintf("%.10g%s", r.Time.Sub(bootStarts[0]).Seconds(), star))
		}
		if fmt.Sprint(got) != tt.want || rep.Starts != tt.starts || fmt.Sprint(rep.ByKind) != tt.problems {
			t.Errorf("%s: %v, %d starts, %v; want %s, %d, %s", tt.name, got, rep.Starts, rep.ByKind, tt.want, tt.starts, tt.problems)
		}
	}
}

func TestCountSinceStartRefused(t *testing.T) {
	const in = "uptime,light\n0,5\n10,6\n20,7\n"
	for _, tt := range []struct {
		name, in string
		opt      Options
		decides  string
		says     string
	}{
		{"no start", in, Options{}, "starts", "column 1 counts from the logger's start; give the start"},
		{"no start, columns given", in, Options{Columns: []Role{Time, Light}}, "starts", "column 1 counts from the logger's start; give the start"},
		{"no unit", in, Options{Starts: bootStarts}, "tick", "does not say in what"},
		{"a unit below nothing", in, Options{Starts: bootStarts, Tick: -1}, "tick", "does not say in what"},
		{"starts out of order", in, Options{Starts: []time.Time{bootStarts[1], {}, bootStarts[0]}, Tick: 1}, "starts", "order of time"},
		{"newest first", "uptime,light\n30,5\n20,6\n10,7\n0,8\n", Options{Starts: bootStarts, Tick: 1}, "columns", "no column holds a time"},
		{"no count", "temp,pressure,b\n21,1013,5\n22,1012,4\n21,1013,5\n22,1012,5\n", Options{Starts: bootStarts}, "columns", "no column holds a time"},
		{"light that climbs", "a,light\n1,0\n1,1\n1,2\n2,3\n2,4\n", Options{}, "columns", "no column holds a time"},
		{"falls, but to no start", "0,5\n1,6\n2,5\n3,6\n500,5\n400,6\n401,5\n300,6\n301,5\n302,6\n200,5\n201,6\n", Options{}, "columns", "no column holds a time"},
		{"one column", "uptime\n0\n10\n20\n30\n40\n50\n60\n70\n", Options{Starts: bootStarts, Tick: 1}, "columns", "no delimiter"},
	} {
		_, _, err := both(t, tt.in, tt.opt)
		if e := (*LayoutError)(nil); !errors.As(err, &e) || e.Decides != tt.decides || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v, want a refusal that %q decides and that says %q", tt.name, err, tt.decides, tt.says)
		}
	}
}

// What a count since the start is told to count.
func TestTickByHeading(t *testing.T) {
	for heading, want := range map[string]time.Duration{
		"millis": time.Millisecond, "t_ms": time.Millisecond, "Milliseconds since start": time.Millisecond, "Time (ms)": time.Millisecond, "uptimeMs": time.Millisecond,
		"micros": time.Microsecond, "t [us]": time.Microsecond, "sec": time.Second, "Elapsed time (s)": time.Second, "seconds": time.Second, "minutes": time.Minute,
		"uptime": 0, "timestamp": 0, "time": 0, "": 0, "season": 0,
	} {
		if got := (&Layout{Columns: []Column{{Name: heading}}}).tickOf(0); got != want {
			t.Errorf("%q: %v, want %v", heading, got, want)
		}
	}
}

// Whatever the power-ons of a logger, its counts lead back to when they were written.
func TestCountsGiveTheTruth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cadence := time.Duration(rapid.IntRange(1, 3000).Draw(t, "cadence")) * time.Millisecond
		now := bootStarts[0]
		var in strings.Builder
		in.WriteString("millis,light\n")
		var starts, want []time.Time
		for range rapid.IntRange(1, 4).Draw(t, "power-ons") {
			starts = append(starts, now)
			at := now.Add(time.Duration(rapid.Int64Range(0, int64(cadence/time.Millisecond)).Draw(t, "delay")) * time.Millisecond)
			for range rapid.IntRange(4, 30).Draw(t, "rows") {
				fmt.Fprintf(&in, "%d,7\n", at.Sub(now).Milliseconds())
				want = append(want, at)
				at = at.Add(cadence)
			}
			now = at.Add(time.Duration(rapid.Int64Range(0, 1e6).Draw(t, "off")) * time.Second)
		}
		r := NewReader(strings.NewReader(in.String()), Options{Starts: starts})
		var recs []Record
		for rec, err := range r.Records() {
			if err != nil {
				t.Fatal(err)
			}
			recs = append(recs, rec)
		}
		if n := r.Report().Starts; len(recs) != len(want) || n != len(starts) {
			t.Fatalf("%d records of %d, %d starts of %d", len(recs), len(want), n, len(starts))
		}
		for i := range recs {
			if !recs[i].Time.Equal(want[i]) {
				t.Fatalf("record %d at %v, want %v", i, recs[i].Time, want[i])
			}
		}
	})
}
