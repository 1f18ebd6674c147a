package fit

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun"
)

// A reading answers the light by the slope of the response there, against the mean slope over
// the light seen: its numerical derivative, within bounds, and evenly on a plain day.
func TestGainIsTheResponsesSlope(t *testing.T) {
	_, l := realLight(t, time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 36.3, Lon: -5.6})
	p, err := l.window(hazy(l, 0.001, 60, 1), 0, fine)
	require.NoError(t, err)
	p.setFloor(startFloor)
	for _, tt := range []struct{ power, bend, twist float64 }{{1, 0, 0}, {0.6, -0.4, 0}, {0.7, 0.2, 0.1}, {0.3, -2, -0.4}} {
		p.fill(0)
		copy(p.reg.beta.Data[colPower:], []float64{tt.power, tt.bend, tt.twist})
		p.feel(0)
		of := func(x float64) float64 {
			b := x / bendScale
			return tt.power*x + tt.bend*b*b + tt.twist*b*b*b
		}
		deepest := 0.0
		for k := range p.rows {
			deepest = math.Min(deepest, p.rows[k][colPower])
		}
		mean := of(deepest) / deepest
		var run float64
		for k, g := range p.gain {
			const h = 1e-4
			x := p.rows[k][colPower]
			want := math.Max(0.3, math.Min(3, (of(x+h)-of(x-h))/(2*h)/mean))
			if !(math.Abs(g-want) <= 1e-6) {
				t.Fatalf("%+v, %.2f e-folds below full light: %g, want %g", tt, -x, g, want)
			}
			if k > 0 {
				run += g * (p.t[k] - p.t[k-1]) / 3600
			}
			if got := p.rows[k][colSlope]; got != run || p.walk.answer[k] != g {
				t.Fatalf("%+v, reading %d: a slope has run to %g, want %g; an answer of %g, want %g", tt, k, got, run, p.walk.answer[k], g)
			}
		}
		p.eclipsed(false)
		for k, g := range p.walk.answer {
			if want := (p.t[k] - p.t[0]) / 3600; g != 1 || !(math.Abs(p.rows[k][colSlope]-want) <= 1e-12) {
				t.Fatalf("%+v, reading %d of a plain day: an answer of %g, a slope run to %g, want %g", tt, k, g, p.rows[k][colSlope], want)
			}
		}
		p.eclipsed(true)
	}
}
