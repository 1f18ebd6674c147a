package station

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/canon"
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
