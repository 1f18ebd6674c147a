package fit

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/disc"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// The table against curves made under the other laws, before and after maximum, in a
// total, an annular and a partial eclipse.
func TestLawTable(t *testing.T) {
	all, err := canon.Load()
	require.NoError(t, err)
	for _, tt := range []struct {
		day  time.Time
		site sun.Site
	}{
		{time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 36, Lon: -5.6}},
		{time.Date(2028, 1, 26, 0, 0, 0, 0, time.UTC), sun.Site{Lat: -3, Lon: -60}},
		{time.Date(2026, 8, 12, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 51.5, Lon: 0}},
	} {
		e, err := all.On(tt.day)
		require.NoError(t, err)
		o, err := eclipse.NewObserver(e, tt.site, eclipse.Options{})
		require.NoError(t, err)
		c, err := eclipse.NewCurve(o, eclipse.CurveOptions{})
		require.NoError(t, err)
		l, err := newLight(c)
		require.NoError(t, err)
		law, err := disc.NeckelLabs(blueNM)
		require.NoError(t, err)
		blue, err := eclipse.NewCurve(o, eclipse.CurveOptions{Law: law})
		require.NoError(t, err)
		law, err = disc.HestrofferMagnan(edgeNM)
		require.NoError(t, err)
		edge, err := eclipse.NewCurve(o, eclipse.CurveOptions{Law: law})
		require.NoError(t, err)
		n, worst := 0, 0.0
		for x := l.c1 + 30; x < l.c4-30; x += 3.7 {
			at := l.max + timescale.TT(x)
			flux := c.Flux(at)
			if !(flux > 1e-5) {
				continue
			}
			n++
			gotBlue, gotEdge := l.laws.at(math.Log(flux))
			off := math.Max(math.Abs(gotBlue-math.Log(blue.Flux(at)/flux)), math.Abs(gotEdge-math.Log(edge.Flux(at)/flux)))
			if worst = math.Max(worst, off); !(off <= 3e-3) { // a per cent of what the laws differ by; worst inside a ring, where the light hardly changes
				t.Fatalf("%s, %.1f s from maximum: off by %g", e.Date, x, off)
			}
		}
		t.Logf("%s: worst %.2g of %d", e.Date, worst, n)
		if n < 500 {
			t.Errorf("%s: only %d instants", e.Date, n)
		}
	}
}
