package fit

import (
	"context"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
)

func TestCeilingBetween(t *testing.T) {
	c := ceiling{at: []float64{-20, -10, 0, 10, 20}, cadence: 10}
	for _, tt := range []struct{ from, to, want float64 }{
		{-30, 30, 50}, {-10, 10, 20}, {-9, 11, 20}, {20, 30, 10}, {21, 30, 0}, {10, -10, 0},
	} {
		if got := c.between(tt.from, tt.to).seconds(); got != tt.want {
			t.Errorf("from %g to %g: %g s, want %g", tt.from, tt.to, got, tt.want)
		}
	}
	if s := (ceiling{}).between(-1, 1).seconds(); s != 0 {
		t.Errorf("none: %g s", s)
	}
}

// clipped is a log of a clear sky by a sensor that has no more to say above some part of the
// Sun's light at maximum, and whose clock is fast by so many seconds.
func clipped(l *light, part, fast float64) []Sample {
	top := part * math.Exp(l.clear.at(0))
	var s []Sample
	for t := l.c1 - aside; t < l.c4+aside; t += 10 {
		at := l.curve.Circumstances().Max.UTC.Add(time.Duration((t + fast) * float64(time.Second)))
		s = append(s, Sample{Time: at, Value: math.Round(10 * math.Min(top, math.Exp(l.clear.at(t))*l.flux(t)))})
	}
	return s
}

// A sensor that has left its ceiling for half an hour about maximum tells the clock: what it
// shows at its ceiling are bounds that any other shift breaks.
func TestCeilingIsABound(t *testing.T) {
	const part = 0.2
	c, l := realLight(t, time.Date(2028, 1, 26, 0, 0, 0, 0, time.UTC), sun.Site{Lat: -3, Lon: -60})
	require.Equal(t, eclipse.Annular, c.Circumstances().Geometry)
	s := newSeries(clipped(l, part, 0), c.Observer().Scale(), l.max, false)
	shown := float64(len(s.samples)) * s.cadence / (l.c4 - l.c1)
	if !(shown > leastRead && shown < leastInside) || len(s.full.at)+len(s.samples) != len(clipped(l, part, 0)) {
		t.Fatalf("%.2f of the eclipse is below the ceiling, and %d samples at it", shown, len(s.full.at))
	}
	s.full.at[0] = 0 // one sample that is at its ceiling for another reason
	slices.Sort(s.full.at)
	p, err := l.window(&s, 0, fine)
	require.NoError(t, err)
	for _, tt := range []struct {
		name        string
		shift       float64
		least, most float64
	}{
		{"right", 0, 0, mostOutshone / 2},
		{"a minute off", 60, 0, mostOutshone / 2},
		{"an hour off", 3600, 2 * mostOutshone, 1},
		{"an hour off, the other way", -3600, 2 * mostOutshone, 1},
	} {
		if got := p.outshone(tt.shift); !(got >= tt.least && got <= tt.most) {
			t.Errorf("%s: for %.3f of the eclipse the sensor is at its ceiling in too little light, want %g to %g", tt.name, got, tt.least, tt.most)
		}
	}
	for _, fast := range []float64{0, 37, -400, 7200} {
		r, err := Clock(context.Background(), clipped(l, part, fast), c, Options{})
		require.NoError(t, err, "%g s fast", fast)
		if !(r.CI95[0] <= fast && fast <= r.CI95[1]) || !(r.OffsetU < 20) {
			t.Errorf("%g s fast: %.1f +- %.1f, %.1f", fast, r.Offset, r.OffsetU, r.CI95)
		}
		if r.Saturated != len(s.full.at) {
			t.Errorf("%g s fast: %d samples at the ceiling, want %d", fast, r.Saturated, len(s.full.at))
		}
	}
}
