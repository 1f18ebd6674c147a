package fit_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/testdata/study"
)

// Two sensors under one sky, a fast one that full light clips and a slow one without
// totality: together they hold the truth as often as either, are fitted wherever one is,
// and their interval is no wider than the better one's.
func TestChannels(t *testing.T) {
	if testing.Short() {
		t.Skip("a count over many logs, which the ordinary test has")
	}
	eclipses := study.Eclipses(t)
	dark := law(func(lux float64) float64 { return math.Min(4095, lux/5) })
	bright := law(func(lux float64) float64 { return lux / 60 })
	var fitted, held, either int
	for i := range 24 {
		p, err := rehearsal.Class{Depth: []rehearsal.Depth{rehearsal.Total, rehearsal.Annular, rehearsal.Deep}[i%3], Weather: []rehearsal.Weather{rehearsal.Clear, rehearsal.Cumulus}[i%2]}.Draw(eclipses, uint64(500+i))
		require.NoError(t, err)
		p.Chain = nil
		l, err := rehearsal.Make(context.Background(), p)
		require.NoError(t, err)
		both := [][]fit.Sample{answer{of: dark}.read(l, 1), answer{of: bright}.read(l, 2)}
		r, each, err := fit.Channels(context.Background(), both, l.Curve, fit.Options{})
		require.Len(t, each, 2)
		better := math.Inf(1)
		for _, c := range each {
			if (c.Clock == nil) == (c.Refusal == nil) {
				t.Errorf("log %d: %+v, want a clock or a refusal", i, c)
			}
			if c.Clock != nil {
				better = math.Min(better, c.Clock.CI95[1]-c.Clock.CI95[0])
			}
		}
		if !math.IsInf(better, 1) {
			either++
		}
		if errors.As(err, new(*fit.Refusal)) {
			continue
		}
		require.NoError(t, err)
		fitted++
		if r.CI95[0] <= l.Truth.Offset && l.Truth.Offset <= r.CI95[1] {
			held++
		}
		if len(r.Warnings) == 0 && !(r.CI95[1]-r.CI95[0] <= better) {
			t.Errorf("log %d: %v is wider than the better channel's %g s", i, r.CI95, better)
		}
	}
	t.Logf("%d fitted, %d hold the truth", fitted, held)
	if fitted != either || fitted < 22 {
		t.Errorf("%d of 24 are fitted, either channel is in %d", fitted, either)
	}
	if least := study.Least(fitted, 0.95, 3); !(float64(held) >= least) {
		t.Errorf("%d of %d hold the truth, at least %.1f are wanted", held, fitted, least)
	}
}

// What one channel says against another stands in the interval.
func TestChannelsThatDisagree(t *testing.T) {
	s, l := school(t, nil)
	late := make([]fit.Sample, len(s))
	for i := range s {
		late[i] = s[i]
		late[i].Time = s[i].Time.Add(secondsOf(40))
	}
	r, _, err := fit.Channels(context.Background(), [][]fit.Sample{s, late}, l.Curve, fit.Options{})
	require.NoError(t, err)
	if !(r.CI95[0] <= l.Truth.Offset && l.Truth.Offset+40 <= r.CI95[1]) || len(r.Warnings) == 0 {
		t.Errorf("%v of %v, want both %g and 40 s more; warnings %q", r.CI95, r.Offset, l.Truth.Offset, r.Warnings)
	}
	if _, _, err := fit.Channels(context.Background(), nil, l.Curve, fit.Options{}); !errors.Is(err, fit.NoSamples) {
		t.Errorf("no channel: %v", err)
	}
}
