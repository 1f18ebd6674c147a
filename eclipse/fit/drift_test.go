package fit_test

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/testdata/study"
)

// Clocks without a crystal: the rate that was put in lies in its 95 % interval, and so
// does the offset at maximum. Bound: 95 % less three standard deviations of the count.
func TestDriftIsFound(t *testing.T) {
	if testing.Short() {
		t.Skip("a count over many logs, which the ordinary test has")
	}
	eclipses := study.Eclipses(t)
	var tried, rates, offsets, warned int
	for i := range 24 {
		c := rehearsal.Class{Depth: []rehearsal.Depth{rehearsal.Total, rehearsal.Annular, rehearsal.Deep}[i%3]}
		p, err := c.Draw(eclipses, uint64(i))
		require.NoError(t, err)
		p.DriftPPM = float64(i-12) * 400
		l, err := rehearsal.Make(context.Background(), p)
		require.NoError(t, err)
		s := samples(t, l, p.Chain)
		r, err := fit.Clock(context.Background(), s, l.Curve, fit.Options{Drift: true})
		if errors.As(err, new(*fit.Refusal)) {
			continue
		}
		require.NoError(t, err)
		tried++
		if math.Abs(r.DriftPPM-p.DriftPPM) <= 1.96*r.DriftU {
			rates++
		} else {
			t.Logf("%v, log %d: %.0f +- %.0f ppm, truth %.0f; offset %.1f of %.1f", c, i, r.DriftPPM, r.DriftU, p.DriftPPM, r.Offset-l.Truth.Offset, r.OffsetU)
		}
		if r.CI95[0] <= l.Truth.Offset && l.Truth.Offset <= r.CI95[1] {
			offsets++
		}
		if without, err := fit.Clock(context.Background(), s, l.Curve, fit.Options{}); err == nil && strings.Contains(strings.Join(without.Warnings, " "), "drift") {
			warned++
		}
	}
	t.Logf("%d fitted; %d rates and %d offsets hold the truth; %d are warned of without it", tried, rates, offsets, warned)
	for name, held := range map[string]int{"rates": rates, "offsets": offsets} {
		if least := study.Least(tried, 0.95, 3); !(float64(held) >= least) || tried < 20 {
			t.Errorf("%d of %d %s hold the truth, at least %.1f are wanted", held, tried, name, least)
		}
	}
}
