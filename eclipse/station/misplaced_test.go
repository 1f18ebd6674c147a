package station

import (
	"context"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
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

// A swapped sign, exchanged coordinates and a wrong date are named from the light alone,
// in nine of ten logs at least, and next to nothing is named of logs that are right.
func TestMisplaced(t *testing.T) {
	c, err := canon.Load()
	require.NoError(t, err)
	var eclipses []*eclipse.Elements
	for e := range c.All() {
		if e.Date > "2001" && e.Date < "2061" {
			eclipses = append(eclipses, e)
		}
	}
	const logs = 12
	named := map[string]int{}
	for seed := range uint64(logs) {
		class := rehearsal.Class{Depth: []rehearsal.Depth{rehearsal.Total, rehearsal.Annular, rehearsal.Deep}[seed%3], Weather: []rehearsal.Weather{rehearsal.Clear, rehearsal.Cumulus}[seed%2]}
		p, err := class.Draw(eclipses, seed)
		require.NoError(t, err)
		p.Chain = nil
		l, err := rehearsal.Make(context.Background(), p)
		require.NoError(t, err)
		right := Site{Lat: p.Site.Lat, Lon: math.Remainder(p.Site.Lon, 360), Height: p.Site.Height}
		if r := reducedSamples(t, l, right, 0); r.Misplaced != nil {
			named["right"]++
			t.Logf("seed %d: a log that is right: %v", seed, r.Misplaced)
		}
		for what, wrong := range map[string]Site{
			"longitude": {Lat: right.Lat, Lon: -right.Lon, Height: right.Height},
			"latitude":  {Lat: -right.Lat, Lon: right.Lon, Height: right.Height},
		} {
			if same := math.Abs(wrong.Lat-right.Lat) < 5 && math.Abs(wrong.Lon-right.Lon) < 5; same {
				named[what]++ // there is nothing to tell
				continue
			}
			r := reducedSamples(t, l, wrong, 0)
			if m := r.Misplaced; m != nil && math.Abs(m.Site.Lat-right.Lat) < 1e-9 && math.Abs(m.Site.Lon-right.Lon) < 1e-9 {
				named[what]++
			} else {
				t.Logf("seed %d, %s: %v, refusal %v, clock %v", seed, what, r.Misplaced, r.Refusal, r.Clock != nil)
			}
		}
		if r := reducedSamples(t, l, right, 7); r.Misplaced != nil && r.Misplaced.Days == 7 {
			named["date"]++
		}
	}
	t.Logf("of %d: %v", logs, named)
	for _, what := range []string{"longitude", "latitude", "date"} {
		if !(10*named[what] >= 9*logs) {
			t.Errorf("%s: %d of %d are named", what, named[what], logs)
		}
	}
	if named["right"] > 0 {
		t.Errorf("%d logs that are right are called misplaced", named["right"])
	}
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
