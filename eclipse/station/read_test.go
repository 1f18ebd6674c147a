package station

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/require"
)

// lines are rows of a stamp and a light, from a time of day on, one every ten seconds.
func lines(layout string, from time.Time, n int) string {
	var b strings.Builder
	b.WriteString("time,light\n")
	for i := range n {
		fmt.Fprintf(&b, "%s,%d\n", from.Add(time.Duration(i)*10*time.Second).Format(layout), 500+i%90)
	}
	return b.String()
}

func reduceFiles(t *testing.T, s Station, files ...[2]string) *Report {
	t.Helper()
	folder := fstest.MapFS{}
	var names []string
	for _, f := range files {
		folder[f[0]] = &fstest.MapFile{Data: []byte(f[1])}
		names = append(names, f[0])
	}
	s.Version, s.Code, s.Site = Version, "MADE-UP", yard
	if s.Eclipse == "" {
		s.Eclipse = quietDay.Format(time.DateOnly)
	}
	rep, err := Reduce(context.Background(), &s, FilesIn(folder, names...), Options{})
	require.NoError(t, err)
	return rep
}

// Files of several days are joined, whatever their names and stamps leave out.
func TestDayFiles(t *testing.T) {
	day := func(d, hour, minute int) time.Time {
		return quietDay.AddDate(0, 0, d).Add(time.Duration(60*hour+minute) * time.Minute)
	}
	const full, clock = time.RFC3339, time.TimeOnly
	madrid := Station{Zone: "Europe/Madrid"}
	for _, tt := range []struct {
		name       string
		station    Station
		files      [][2]string
		first, end time.Time // the latter of the last sample
		samples    int
		gaps       int
		longest    float64 // s
		warning    string
	}{
		{"times of day, the second without a date in its name", Station{}, [][2]string{
			{"20270919.csv", lines(clock, day(-1, 20, 0), 1440)}, {"next.csv", lines(clock, day(0, 0, 0), 1440)},
		}, day(-1, 20, 0), day(0, 3, 59), 2880, 0, 0, "next.csv: its times of day carry no date; the first was taken for one of 2027-09-20"},
		{"times of day, the first running past midnight", Station{}, [][2]string{
			{"20270920.csv", lines(clock, day(0, 23, 0), 720)}, {"next.csv", lines(clock, day(1, 1, 10), 360)},
		}, day(0, 23, 0), day(1, 2, 9), 1080, 1, 610, "one of 2027-09-21"},
		{"times of day in a zone, neither with a date", madrid, [][2]string{
			{"a.csv", lines(clock, day(0, 12, 0), 4320)}, {"b.csv", lines(clock, day(1, 0, 0), 1440)},
		}, day(0, 10, 0), day(1, 1, 59), 5760, 0, 0, "b.csv: its times of day carry no date; the first was taken for one of 2027-09-21"},
		{"times of day that overlap", Station{}, [][2]string{
			{"a.csv", lines(clock, day(0, 6, 0), 720)}, {"b.csv", lines(clock, day(0, 7, 0), 720)},
		}, day(0, 6, 0), day(0, 8, 59), 1080, 0, 0, "360 records repeat"},
		{"a day is missing", Station{}, [][2]string{
			{"a.csv", lines(full, day(-1, 0, 0), 8640)}, {"b.csv", lines(full, day(1, 0, 0), 8640)},
		}, day(-1, 0, 0), day(1, 23, 59), 17280, 1, 86410, ""},
		{"newest first, and the later file first", Station{}, [][2]string{
			{"b.csv", upsideDown(lines(full, day(0, 2, 0), 720))}, {"a.csv", upsideDown(lines(full, day(0, 0, 0), 720))},
		}, day(0, 0, 0), day(0, 3, 59), 1440, 0, 0, ""},
		{"torn", Station{}, [][2]string{
			{"a.csv", strings.TrimSuffix(lines(full, day(0, 0, 0), 720), ":59:50Z,589\n")}, {"b.csv", lines(full, day(0, 2, 0), 720)},
		}, day(0, 0, 0), day(0, 3, 59), 1439, 0, 0, ""},
		{"an empty one between", Station{}, [][2]string{
			{"a.csv", lines(clock, day(0, 6, 0), 720)}, {"empty.csv", ""}, {"b.csv", lines(clock, day(0, 8, 0), 720)},
		}, day(0, 6, 0), day(0, 9, 59), 1440, 0, 0, "empty.csv is empty"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			rep := reduceFiles(t, tt.station, tt.files...)
			n := len(rep.Samples)
			if n != tt.samples {
				t.Fatalf("%d samples, want %d; problems %v, warnings %q", n, tt.samples, rep.Problems, rep.Warnings)
			}
			if !rep.Samples[0].Time.Equal(tt.first) || rep.Samples[n-1].Time.Truncate(time.Minute) != tt.end {
				t.Errorf("from %v to %v, want %v to %v", rep.Samples[0].Time, rep.Samples[n-1].Time, tt.first, tt.end)
			}
			if g := rep.Health.Gaps; g.Count != tt.gaps || g.LongestS != tt.longest {
				t.Errorf("%+v, want %d of %g s", g, tt.gaps, tt.longest)
			}
			if all := strings.Join(rep.Warnings, "\n"); !strings.Contains(all, tt.warning) {
				t.Errorf("%q lacks %q", all, tt.warning)
			}
			var bytes int64
			for i, f := range rep.Files {
				bytes += f.Bytes.Sum() - int64(len(tt.files[i][1]))
			}
			if bytes != 0 {
				t.Errorf("%d bytes are not accounted for", -bytes)
			}
		})
	}
}

// upsideDown keeps the header and turns the rows round.
func upsideDown(text string) string {
	rows := strings.SplitAfter(text, "\n")
	out := rows[0]
	for i := len(rows) - 1; i > 0; i-- {
		out += rows[i]
	}
	return out
}

// A clock that steps with every record makes no list without end, and all of its
// steps are counted.
func TestEventsAreCappedAndCounted(t *testing.T) {
	var b strings.Builder
	b.WriteString("time,light\n")
	const n = 5000
	for i := range n {
		at := quietDay.Add(time.Duration(i) * time.Second)
		if i%2 == 1 {
			at = at.Add(-time.Minute)
		}
		fmt.Fprintf(&b, "%s,%d\n", at.Format(time.RFC3339), i%77)
	}
	rep := reduceFiles(t, Station{}, [2]string{"a.csv", b.String()})
	if len(rep.Events) != maxEvents || rep.EventCounts["step back"] < n/2-1 {
		t.Errorf("%d events listed, counted %v; made with %d steps back", len(rep.Events), rep.EventCounts, n/2)
	}
	if rep.Health.Clock.Events["step back"] != rep.EventCounts["step back"] {
		t.Errorf("health says %v", rep.Health.Clock.Events)
	}
}

// The layout's words reach the reader: a count since two starts, its fields between
// bars, its numbers with a decimal comma.
func TestLayoutIsHandedOn(t *testing.T) {
	text := "count|light\n"
	for i := range 300 {
		text += fmt.Sprintf("%d|%d,5\n", 2000*(i%150), 400+i%50)
	}
	rep := reduceFiles(t, Station{Layout: Layout{Columns: []string{"time", "light"}, Delimiter: "bar", Decimal: "comma", Tick: "ms",
		Starts: []string{"2027-09-20T07:00:00Z", "2027-09-20T09:00:00+01:00"}}}, [2]string{"a.csv", text})
	if n := len(rep.Samples); n != 300 || !rep.Samples[299].Time.Equal(quietDay.Add(8*time.Hour+298*time.Second)) || rep.Samples[0].Value != 400.5 {
		t.Errorf("%d samples, problems %v", n, rep.Problems)
	}
}

func TestLayoutIsChecked(t *testing.T) {
	err := Layout{Order: "dym", Columns: []string{"colour"}, Delimiter: "dash", Decimal: "dot", Starts: []string{"noon"}, Tick: "h"}.Validate()
	for _, want := range []string{"layout.order", "layout.columns", "layout.delimiter", "layout.decimal", "layout.starts", "layout.tick"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v: no word of %s", err, want)
		}
	}
	if err := (Layout{}).Validate(); err != nil {
		t.Error(err)
	}
}

// A log of another year is one of another day, not one of an unset clock.
func TestIsUnset(t *testing.T) {
	eclipse := time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC)
	for stamp, want := range map[string]bool{
		"2027-08-02": false, "2026-08-02": false, "2019-07-02": false, "2031-01-01": false,
		"1970-01-01": true, "1980-01-06": true, "2000-01-01": true, "2002-03-01": true, "2165-01-01": true,
	} {
		at, err := time.Parse(time.DateOnly, stamp)
		require.NoError(t, err)
		if got := isUnset(at, eclipse); got != want {
			t.Errorf("%s: %t, want %t", stamp, got, want)
		}
	}
	if day := time.Date(1999, 8, 11, 0, 0, 0, 0, time.UTC); isUnset(day.AddDate(0, 5, 0), day) {
		t.Error("January of 2000 is near August of 1999")
	}
}
