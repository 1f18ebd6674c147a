package rehearsal

import (
	"context"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/sun"
)

// Under a deck of optical depth 1 to 2.2, which wavers by 0.2 or so, the air falls by
// 0.07 to 0.45 of what it does under the same day's clear sky (exp(-2.2-0.5), exp(-1+0.2)), and
// under a clear one by what it would without any: haze takes a twentieth or so.
func TestAirUnderCloud(t *testing.T) {
	c, err := canon.Load()
	require.NoError(t, err)
	e, err := c.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	require.NoError(t, err)
	for seed := range uint64(8) {
		drop := map[Weather]float64{}
		for _, w := range []Weather{Clear, Cumulus, Broken, Deck} {
			l, err := Make(context.Background(), Plan{Elements: e, Site: sun.Site{Lat: 36, Lon: -5.6}, Cadence: time.Minute, Weather: w, Seed: seed})
			require.NoError(t, err)
			drop[w] = l.Truth.TempDrop
		}
		if r := drop[Deck] / drop[Clear]; !(r > 0.07 && r < 0.45) {
			t.Errorf("seed %d: under a deck %.2f of the clear day's fall", seed, r)
		}
		if !(drop[Deck] < drop[Broken] && drop[Broken] < drop[Clear]) {
			t.Errorf("seed %d: falls %v", seed, drop)
		}
	}
}

// The mean over an hour of one shadow: of its depth that part of the hour that it takes.
func TestSpreadOfOneShadow(t *testing.T) {
	s := sky{shadows: []shadow{{middle: 0, half: 450, edge: 3, depth: math.Ln2}}}
	w := s.spread(-7200, 7200)
	for _, tt := range []struct{ x, want float64 }{{0, 1 - 0.5*900/3600}, {-5000, 1}, {5000, 1}, {1800, 1 - 0.5*450/3600}} {
		if got := w.at(tt.x); !(math.Abs(got-tt.want) <= 0.006) { // a step of 30 s is a 120th
			t.Errorf("%.4f at %g s, want %.4f", got, tt.x, tt.want)
		}
	}
}
