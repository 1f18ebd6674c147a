package logfile

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestMerge(t *testing.T) {
	rec := func(second int, light float64) Record {
		return Record{Line: second, Time: time.Unix(int64(second), 0).UTC(), Light: light, Temp: math.NaN()}
	}
	for _, tt := range []struct {
		name       string
		files      [][]Record
		want       string
		duplicates int
	}{
		{"nothing", nil, "[]", 0},
		{"one after the other", [][]Record{{rec(3, 3), rec(4, 4)}, {rec(1, 1), rec(2, 2)}}, "[1 1 2 2 3 3 4 4]", 0},
		{"overlapping", [][]Record{{rec(1, 1), rec(2, 2)}, {rec(2, 2), rec(3, 3)}}, "[1 1 2 2 3 3]", 1},
		{"one instant, other light", [][]Record{{rec(1, 1), rec(2, 2)}, {rec(2, 5), rec(2, 2)}}, "[1 1 2 2 2 5]", 1},
		{"missing light is as missing", [][]Record{{rec(1, math.NaN())}, {rec(1, math.NaN())}}, "[1 NaN]", 1},
		{"newest first", [][]Record{{rec(3, 3), rec(2, 7), rec(2, 6), rec(1, 1)}}, "[1 1 2 6 2 7 3 3]", 0},
	} {
		before := fmt.Sprint(tt.files)
		got, duplicates := Merge(tt.files...)
		text := []string{}
		for _, r := range got {
			text = append(text, fmt.Sprint(r.Time.Unix(), r.Light))
		}
		if fmt.Sprint(text) != tt.want || duplicates != tt.duplicates {
			t.Errorf("%s: %v, %d duplicates; want %v, %d", tt.name, text, duplicates, tt.want, tt.duplicates)
		}
		if fmt.Sprint(tt.files) != before {
			t.Errorf("%s: the files were changed", tt.name)
		}
	}
}

// Merging keeps every reading once, ascending, however they are shared out.
func TestMergeIsAUnion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		type reading struct {
			second int64
			light  float64
		}
		n := rapid.IntRange(0, 4).Draw(t, "files")
		files := make([][]Record, n)
		want := map[reading]bool{}
		total := 0
		for i := range files {
			for range rapid.IntRange(0, 8).Draw(t, "records") {
				r := reading{rapid.Int64Range(0, 5).Draw(t, "second"), float64(rapid.IntRange(0, 2).Draw(t, "light"))}
				want[r] = true
				total++
				files[i] = append(files[i], Record{Time: time.Unix(r.second, 0), Light: r.light})
			}
		}
		got, duplicates := Merge(files...)
		if len(got) != len(want) || duplicates != total-len(want) {
			t.Fatalf("%d kept, %d duplicates of %d; want %d", len(got), duplicates, total, len(want))
		}
		if !slices.IsSortedFunc(got, func(a, b Record) int { return a.Time.Compare(b.Time) }) {
			t.Fatal("not ascending")
		}
		for _, r := range got {
			if !want[reading{r.Time.Unix(), r.Light}] {
				t.Fatalf("%+v was in no file", r)
			}
		}
	})
}

// dayFile makes a file of a record a minute, light the minutes since 2 August 2027,
// 00:00, from one minute to before another. (Invented.)
func dayFile(format string, from, to int) string {
	var b strings.Builder
	b.WriteString("time,light\n")
	for i := from; i < to; i++ {
		at := time.Date(2027, 8, 2, 0, i, 0, 0, time.UTC)
		fmt.Fprintf(&b, "%s,%d\n", at.Format(format), i)
	}
	return b.String()
}

// newestFirst turns the rows of a file round.
func newestFirst(file string) string {
	rows := strings.SplitAfter(file, "\n")
	rows = rows[:len(rows)-1]
	slices.Reverse(rows[1:])
	return strings.Join(rows, "")
}

// The day files of one station, as they come off its card: whatever their order and
// their damage, each minute comes once and at its own time.
func TestMergeDayFiles(t *testing.T) {
	const stamp, clock, day = "2006-01-02T15:04:05Z", "15:04:05", 1440
	type file struct{ name, text string }
	a := file{"20270802.csv", dayFile(stamp, 0, day)}
	b := file{"20270803.csv", dayFile(stamp, day, 2*day)}
	c := file{"20270804.csv", dayFile(stamp, 2*day, 3*day)}
	torn := b
	torn.text = torn.text[:len(torn.text)-8] // in the middle of the last line
	for _, tt := range []struct {
		name       string
		files      []file
		missing    []int // minutes, from and to before
		duplicates int
		problems   int
		events     string
		days       string
	}{
		{"in order", []file{a, b, c}, nil, 0, 0, "[]", "[]"},
		{"out of order", []file{c, a, b}, nil, 0, 0, "[]", "[]"},
		{"one twice", []file{a, b, b, c}, nil, day, 0, "[]", "[]"},
		{"overlapping", []file{a, {"b.csv", dayFile(stamp, day-60, 2*day+5)}, c}, nil, 65, 0, "[]", "[]"},
		{"one missing", []file{a, c}, []int{day, 2 * day}, 0, 0, "[gap 86460]", "[2027-08-03]"},
		{"two missing, out of order", []file{{"20270806.csv", dayFile(stamp, 4*day, 5*day)}, c, a}, []int{day, 2 * day, 3 * day, 4 * day}, 0, 0, "[gap 86460 gap 86460]", "[2027-08-03 2027-08-05]"},
		{"one torn", []file{a, torn, c}, []int{2*day - 1, 2 * day}, 0, 1, "[]", "[]"},
		{"one newest first", []file{a, {b.name, newestFirst(b.text)}, c}, nil, 0, 0, "[]", "[]"},
		{"all newest first, one missing", []file{{c.name, newestFirst(c.text)}, {a.name, newestFirst(a.text)}}, []int{day, 2 * day}, 0, 0, "[gap 86460]", "[2027-08-03]"},
		{"times of day", []file{{a.name, dayFile(clock, 0, day)}, {b.name, dayFile(clock, day, 2*day)}, {c.name, dayFile(clock, 2*day, 3*day)}}, nil, 0, 0, "[]", "[]"},
		{"times of day that run over midnight", []file{{b.name, dayFile(clock, day+30, 2*day+30)}, {a.name, dayFile(clock, 0, day+30)}, {c.name, dayFile(clock, 2*day+30, 3*day)}}, nil, 0, 0, "[]", "[]"},
		{"the same, newest first", []file{{"20270804.csv", newestFirst(dayFile(clock, day+30, 2*day+30))}, {"20270803.csv", newestFirst(dayFile(clock, 0, day+30))}, {c.name, dayFile(clock, 2*day+30, 3*day)}}, nil, 0, 0, "[]", "[]"},
		{"times of day, an hour missing around midnight", []file{{a.name, dayFile(clock, 0, day-30)}, {b.name, dayFile(clock, day+30, 2*day)}, {c.name, dayFile(clock, 2*day, 3*day)}}, []int{day - 30, day + 30}, 0, 0, "[gap 3660]", "[]"},
	} {
		var files [][]Record
		problems := 0
		for _, f := range tt.files {
			recs, rep, err := drain(t, strings.NewReader(f.text), Options{Name: f.name})
			require.NoError(t, err, tt.name)
			lawful(t, rep, int64(len(f.text)))
			problems += int(rep.Lines.Problems)
			files = append(files, recs)
		}
		merged, duplicates := Merge(files...)
		if duplicates != tt.duplicates || problems != tt.problems {
			t.Errorf("%s: %d duplicates, %d problems; want %d, %d", tt.name, duplicates, problems, tt.duplicates, tt.problems)
		}
		start := time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC)
		minute := 0
		for i, r := range merged {
			for j := 0; j+1 < len(tt.missing); j += 2 {
				if minute == tt.missing[j] {
					minute = tt.missing[j+1]
				}
			}
			if want := start.Add(time.Duration(minute) * time.Minute); !r.Time.Equal(want) || !(r.Light == float64(minute)) {
				t.Errorf("%s: record %d at %v, light %g; want %v, %d", tt.name, i, r.Time, r.Light, want, minute)
				break
			}
			minute++
		}
		events := []string{}
		for _, e := range Events(merged) {
			events = append(events, fmt.Sprintf("%v %g", e.Kind, e.Seconds))
		}
		if fmt.Sprint(events) != tt.events {
			t.Errorf("%s: %v, want %s", tt.name, events, tt.events)
		}
		days := []string{}
		for _, d := range MissingDays(merged, nil) {
			days = append(days, d.Format(time.DateOnly))
		}
		if fmt.Sprint(days) != tt.days {
			t.Errorf("%s: %v are missing, want %s", tt.name, days, tt.days)
		}
	}
}

func TestMissingDays(t *testing.T) {
	madrid, err := time.LoadLocation("Europe/Madrid")
	require.NoError(t, err)
	for _, tt := range []struct {
		name   string
		zone   *time.Location
		stamps []string
		want   string
	}{
		{"nothing", nil, nil, "[]"},
		{"one day", nil, []string{"2027-08-02T07:00:00Z", "2027-08-02T08:00:00Z"}, "[]"},
		{"over the end of a month, in any order", nil, []string{"2027-09-02T07:00:00Z", "2027-08-30T08:00:00Z"}, "[2027-08-31T00:00:00Z 2027-09-01T00:00:00Z]"},
		{"by the civil day", madrid, []string{"2027-08-02T21:59:00Z", "2027-08-03T22:00:00Z"}, "[2027-08-03T00:00:00+02:00]"},
		{"over the change of the clocks", madrid, []string{"2027-10-30T10:00:00Z", "2027-11-01T10:00:00Z"}, "[2027-10-31T00:00:00+02:00]"},
		{"a clock that was not set", nil, []string{"2000-01-01T00:00:05Z", "2027-08-02T07:00:00Z", "1970-01-01T00:00:05Z", "2027-08-04T07:00:00Z"}, "[2027-08-03T00:00:00Z]"},
	} {
		days := []string{}
		for _, d := range MissingDays(stamped(t, tt.stamps...), tt.zone) {
			days = append(days, d.Format(time.RFC3339))
		}
		if fmt.Sprint(days) != tt.want {
			t.Errorf("%s: %v, want %s", tt.name, days, tt.want)
		}
	}
}

// Of many records of one instant, as of a clock that stands still, each reading stays
// once, in its order; missing is as missing and -0 is 0, as among few.
func TestMergeAtOneInstant(t *testing.T) {
	nan, zero := math.NaN(), 0.0
	for _, n := range []int{few, 10 * few} {
		file := []Record{{Light: nan}, {Light: zero}, {Light: -zero, Temp: 1}, {Light: math.Copysign(0, -1)}, {Light: math.Float64frombits(math.Float64bits(nan) ^ 5)}}
		for len(file) < n {
			file = append(file, Record{Light: 7}, Record{Light: 7, Leap: true}, Record{Light: 7, Lon: 1})
		}
		got, duplicates := Merge(file)
		text := []string{}
		for _, r := range got {
			text = append(text, fmt.Sprint(r.Light, r.Temp, r.Lon, r.Leap))
		}
		want := "[NaN 0 0 false 0 0 0 false -0 1 0 false 7 0 0 false 7 0 0 true 7 0 1 false]"
		if fmt.Sprint(text) != want || duplicates != len(file)-len(got) {
			t.Errorf("%d: %v, want %s", n, text, want)
		}
	}
}

// A clock that stood still for a day, and its file read twice.
func BenchmarkMergeOneInstant(b *testing.B) {
	stuck := make([]Record, 86400)
	for i := range stuck {
		stuck[i] = Record{Line: i, Light: float64(i)}
	}
	for b.Loop() {
		Merge(stuck, stuck)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*2*len(stuck)), "ns/record")
}
