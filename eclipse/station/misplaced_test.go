package station

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/eclipse/rehearsal"
)

// reducedSamples goes in where the files have been read.
func reducedSamples(t *testing.T, l *rehearsal.Log, site Site, days int) *Report {
	t.Helper()
	r := &Report{Station: &Station{Version: Version, Code: "x", Site: site, Eclipse: l.Plan.Elements.Date}}
	var err error
	r.day, err = r.Station.Day()
	require.NoError(t, err)
	for _, s := range l.Samples {
		r.Samples = append(r.Samples, fit.Sample{Time: s.Stamp.AddDate(0, 0, days), Value: s.Counts})
	}
	opt := Options{Elements: l.Plan.Elements}
	refusal, err := r.predict(opt)
	require.NoError(t, err)
	if r.Refusal = refusal; refusal == nil {
		require.NoError(t, r.fit(context.Background(), opt))
	}
	require.NoError(t, r.misplaced(context.Background(), opt))
	return r
}

// Exchanged coordinates, of a site whose longitude can be a latitude.
func TestExchangedCoordinates(t *testing.T) {
	c, err := canon.Load()
	require.NoError(t, err)
	e, err := c.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	require.NoError(t, err)
	right := Site{Lat: 36, Lon: -5.6, Height: 10}
	l, err := rehearsal.Make(context.Background(), rehearsal.Plan{Elements: e, Site: right.Sun(), Offset: 23, Seed: 4, Cadence: 5e9})
	require.NoError(t, err)
	r := reducedSamples(t, l, Site{Lat: -5.6, Lon: 36, Height: 10}, 0)
	if m := r.Misplaced; m == nil || m.Site != right || !(m.Clock.CI95[0] <= 23 && 23 <= m.Clock.CI95[1]) {
		t.Errorf("%v, refusal %v", m, r.Refusal)
	}
}
