package demo_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/examples/internal/demo"
	"example.org/noonfall/logfile"
	"example.org/noonfall/sensor"
)

func read(t *testing.T, name string) []byte {
	t.Helper()
	text, err := fs.ReadFile(demo.Station(), name)
	require.NoError(t, err)
	return text
}

func yard(t *testing.T) *station.Station {
	t.Helper()
	s, err := station.Parse(read(t, demo.StationFile))
	require.NoError(t, err)
	return s
}

// The station is where the examples' flags stand when nobody sets them, and its
// folder holds what it names and nothing else.
func TestStation(t *testing.T) {
	s := yard(t)
	if want := cli.Scenario(); s.Site.Sun() != want.Site || s.Eclipse != want.Date.Format(time.DateOnly) {
		t.Errorf("the demo is at %+v on %s, the flags' defaults at %+v on %v", s.Site, s.Eclipse, want.Site, want.Date)
	}
	var names []string
	size := 0
	entries, err := fs.ReadDir(demo.Station(), ".")
	require.NoError(t, err)
	for _, e := range entries {
		text := read(t, e.Name())
		size += len(text)
		if !bytes.Contains(bytes.ToLower(text), []byte("invented data")) {
			t.Errorf("%s does not say that it is invented", e.Name())
		}
		if e.Name() != demo.StationFile {
			names = append(names, e.Name())
		}
	}
	if !slices.Equal(names, s.Files) || !slices.Contains(names, demo.LogFile) {
		t.Errorf("the folder holds %v, the station names %v", names, s.Files)
	}
	const most = 1 << 20 // bytes, so that every example stays small
	if size > most {
		t.Errorf("%d bytes are embedded, want %d at most", size, most)
	}
}

// The log has the damage that the truth lists, and no other.
func TestLogIsAccountedFor(t *testing.T) {
	truth, err := demo.Truth()
	require.NoError(t, err)
	text := read(t, demo.LogFile)
	r := logfile.NewReader(bytes.NewReader(text), logfile.Options{Name: demo.LogFile})
	gaps := 0
	var last time.Time
	for rec, err := range r.Records() {
		require.NoError(t, err)
		if !last.IsZero() && rec.Time.Sub(last) > 10*time.Second {
			gaps++
		}
		last = rec.Time
	}
	rep, want := r.Report(), truth.Lines
	if rep.Lines != (logfile.Accounts{
		Records: int64(want.Records), Headers: int64(want.Headers), Comments: int64(want.Comments), Problems: int64(want.Torn + want.NULs),
	}) || rep.ByKind[logfile.TornLine] != want.Torn || rep.Bytes.Sum() != int64(len(text)) {
		t.Errorf("read %+v %v of %d bytes, want %+v of %d", rep.Lines, rep.ByKind, rep.Bytes.Sum(), want, len(text))
	}
	if want.Headers != 2 || want.Torn != 1 || gaps != 1 || len(truth.Outages) != 1 {
		t.Errorf("%d headers, %d torn lines, %d gaps, %d outages: want 2, 1, 1, 1", want.Headers, want.Torn, gaps, len(truth.Outages))
	}
}

// The crudest reduction, halfway between the fall below 100 lx and the rise
// above it, must already find the clock to a second: the light changes by an
// eighth each second there and the sky's two sides differ by a tenth or so.
func TestClockShowsInTheLight(t *testing.T) {
	truth, err := demo.Truth()
	require.NoError(t, err)
	s := yard(t)
	catalogue, err := canon.Load()
	require.NoError(t, err)
	day, err := s.Day()
	require.NoError(t, err)
	e, err := catalogue.On(day)
	require.NoError(t, err)
	o, err := eclipse.NewObserver(e, s.Site.Sun(), eclipse.Options{})
	require.NoError(t, err)
	c := o.Circumstances()
	if c.Seen != eclipse.Total || !truth.Max.Equal(c.Max.UTC) {
		t.Errorf("the site sees a %v eclipse at %v, the truth says %v", c.Seen, c.Max.UTC, truth.Max)
	}
	conv, err := s.Chain.Compile()
	require.NoError(t, err)
	var first, last time.Time
	for rec, err := range logfile.NewReader(bytes.NewReader(read(t, demo.LogFile)), logfile.Options{}).Records() {
		require.NoError(t, err)
		// Twenty minutes of maximum, where no spike or outage can be taken for it.
		if rec.Time.Sub(c.Max.UTC).Abs() > 20*time.Minute {
			continue
		}
		if reading := conv.Lux(rec.Light); reading.Status == sensor.OK && reading.Lux < 100 {
			if first.IsZero() {
				first = rec.Time
			}
			last = rec.Time
		}
	}
	middle := c.C2.UTC.Add(c.C3.UTC.Sub(c.C2.UTC) / 2)
	got := first.Add(last.Sub(first) / 2).Sub(middle).Seconds()
	if !(math.Abs(got-truth.Offset) <= 1) {
		t.Errorf("the light is %.2f s late, the truth says %.2f", got, truth.Offset)
	}
}

func ExampleStation() {
	entries, err := fs.ReadDir(demo.Station(), ".")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, e := range entries {
		fmt.Println(e.Name())
	}
	// Output:
	// 20270802.csv
	// station.json
}

// The clock of the demo's logger is fast.
func ExampleTruth() {
	truth, err := demo.Truth()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f s at %s\n", truth.Offset, truth.Max.Format(time.TimeOnly))
	// Output:
	// 41.7 s at 08:47:28
}
