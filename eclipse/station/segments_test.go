package station

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/sun"
)

// A clock that is put back by ten minutes just before totality, or forward by seconds in
// it, which the stamps do not show, leaves two stretches: each is fitted, and holds its own truth.
func TestStretchesOfAMovedClock(t *testing.T) {
	c, err := canon.Load()
	require.NoError(t, err)
	e, err := c.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	require.NoError(t, err)
	log, err := rehearsal.Make(context.Background(), rehearsal.Plan{Elements: e, Site: sun.Site{Lat: 36, Lon: -5.6, Height: 10},
		Cadence: 2 * time.Second, Offset: -17, Seed: 3})
	require.NoError(t, err)
	for name, tt := range map[string]struct {
		after time.Duration // of maximum
		by    time.Duration
	}{
		"put back":       {-8 * time.Minute, -10 * time.Minute},
		"put back more":  {9 * time.Minute, -time.Hour},
		"put back early": {-50 * time.Minute, -time.Hour},
		"set forward":    {20 * time.Second, 30 * time.Second},
	} {
		var b strings.Builder
		fmt.Fprintln(&b, "time,light")
		moved := log.Truth.Max.Add(tt.after)
		for _, s := range log.Samples {
			at := s.Stamp
			if at.After(moved) {
				at = at.Add(tt.by)
			}
			fmt.Fprintf(&b, "%s,%g\n", at.Format(time.RFC3339), s.Counts)
		}
		s, err := Parse([]byte(plain))
		require.NoError(t, err)
		rep, err := Reduce(context.Background(), s, FilesIn(fstest.MapFS{"a.csv": {Data: []byte(b.String())}}, "a.csv"), Options{})
		require.NoError(t, err)
		require.Nil(t, rep.Refusal, name)
		require.Len(t, rep.Segments, 2, name)
		for i, truth := range []float64{-17, -17 + tt.by.Seconds()} {
			k := rep.Segments[i]
			if k.Clock == nil {
				t.Logf("%s: stretch %d refused: %v", name, i, k.Refusal)
				continue
			}
			t.Logf("%s: stretch %d: %.1f, %.1f to %.1f", name, i, k.Clock.Offset, k.Clock.CI95[0], k.Clock.CI95[1])
			if !(k.Clock.CI95[0] <= truth && truth <= k.Clock.CI95[1]) {
				t.Errorf("%s: stretch %d: %.1f s, %v, truth %g", name, i, k.Clock.Offset, k.Clock.CI95, truth)
			}
		}
	}
}

// Two minutes put into measured logs at maximum, under skies that nobody made up and with
// readings at odd intervals: under a clear one they are found, and the offsets before and after
// are that of the log as it was and the same two minutes later, within two standard
// uncertainties of both. Through cloud that takes 10 to 30 % all along (the notes of the data's
// sites.csv) the interval covers both.
func TestStepInMeasuredLogs(t *testing.T) {
	const by = 120 * time.Second
	for _, tt := range []struct {
		name     string
		lat, lon float64 // data's sites.csv
		cloud    bool
	}{
		{"2024-04-08_illinois_partial_clean_counts_24s.csv", 42.01, -88.18, false},
		{"2024-04-08_indiana_total_clean_counts_16s.csv", 39.25, -85.91, false},
		{"2024-04-08_michigan_newest_first_counts_16s.csv", 42.30, -85.61, false},
		{"2024-04-08_missouri_deep_partial_clean_counts_16s.csv", 38.57, -90.56, false},
		{"2024-04-08_ohio_total_counts_16s.csv", 41.44, -81.86, true},
	} {
		if _, err := os.Stat(filepath.Join(measured, tt.name)); err != nil {
			t.Skipf("no measured log: %v", err)
		}
		s := &Station{Version: 1, Code: "MEASURED", Eclipse: "2024-04-08", Site: Site{Lat: tt.lat, Lon: tt.lon}}
		rep, err := Reduce(context.Background(), s, FilesIn(os.DirFS(measured), tt.name), Options{})
		require.NoError(t, err)
		was := rep.Clock
		require.NotNil(t, was, tt.name)
		require.Empty(t, rep.Segments, tt.name)
		moved := slices.Clone(rep.Samples)
		max := rep.Circumstances.Max.UTC.Add(time.Duration(was.Offset * float64(time.Second)))
		for i := range moved {
			if moved[i].Time.After(max) {
				moved[i].Time = moved[i].Time.Add(by)
			}
		}
		r, err := fit.Clock(context.Background(), moved, rep.Curve, fit.Options{})
		require.NoError(t, err, tt.name)
		if tt.cloud && r.Segments == nil {
			if !(r.CI95[0] <= was.Offset && was.Offset+by.Seconds() <= r.CI95[1]) {
				t.Errorf("%s: %v does not cover %.1f s and two minutes more", tt.name, r.CI95, was.Offset)
			}
			continue
		}
		require.Len(t, r.Segments, 2, "%s: %.1f s, %v, %v", tt.name, r.Offset, r.CI95, r.Warnings)
		for i, want := range []float64{was.Offset, was.Offset + by.Seconds()} {
			k := r.Segments[i].Clock
			t.Logf("%s: %.1f s, u %.1f; want %.1f, u %.1f", tt.name, k.Offset, k.OffsetU, want, was.OffsetU)
			if !(math.Abs(k.Offset-want) <= 2*math.Hypot(k.OffsetU, was.OffsetU)) {
				t.Errorf("%s, stretch %d: %.1f s, u %.1f; as it was %.1f s, u %.1f", tt.name, i, k.Offset, k.OffsetU, want, was.OffsetU)
			}
		}
	}
}
