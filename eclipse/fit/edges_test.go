package fit

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun"
)

// Where cloud is about an inner contact the level is free beside that contact and nowhere else:
// about a ring's wherever light is lost to cloud, about totality's where it moves within seconds.
func TestLoosenFreesContactsUnderCloud(t *testing.T) {
	_, ring := realLight(t, time.Date(2028, 1, 26, 0, 0, 0, 0, time.UTC), sun.Site{Lat: -3, Lon: -60})
	_, total := realLight(t, time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 36.3, Lon: -5.6})
	smooth := func(s, depth float64) float64 { return depth }
	moving := func(s, depth float64) float64 { return depth / (1 + math.Exp(-s/4)) } // within a quarter of a minute
	for _, tt := range []struct {
		name     string
		l        *light
		from, to float64 // s from second contact: where cloud is
		depth    float64 // natural logarithm of light
		edge     func(s, depth float64) float64
		second   bool // contact is free
		third    bool
	}{
		{"a ring, clear", ring, 0, 0, 0, smooth, false, false},
		{"a ring, haze", ring, -3600, 3600, 0.15, smooth, false, false},
		{"a ring, a bank over second contact", ring, -900, 60, 0.7, smooth, true, false},
		{"a ring, a bank over both", ring, -300, 800, 0.7, smooth, true, true},
		{"a ring, a bank before", ring, -1200, -120, 0.7, smooth, false, false},
		{"totality, clear", total, 0, 0, 0, smooth, false, false},
		{"totality, a smooth bank", total, -900, 900, 0.7, smooth, false, false},
		{"totality, a cloud in the minute of second contact", total, -60, 900, 0.7, moving, true, false},
	} {
		p, err := tt.l.window(hazy(tt.l, 1e-4, 60, 1), 0, fine)
		require.NoError(t, err)
		p.setFloor(startFloor)
		p.mistrust(0)
		p.use(openTemper())
		p.deviance(0)
		residual := make([]float64, len(p.t))
		for k, at := range p.t {
			if s := at - tt.l.c2; s >= tt.from && s <= tt.to {
				residual[k] = -tt.edge(s+30, tt.depth) * p.exponent()
			}
		}
		p.loosen(0, residual)
		wide := ringWide
		if tt.l.dark {
			wide = darkWide
		}
		for k, at := range p.t {
			want := tt.second && math.Abs(at-tt.l.c2) <= wide || tt.third && math.Abs(at-tt.l.c3) <= wide
			if got := p.loose[k] > 0; got != want && k > 0 {
				t.Errorf("%s: %+.0f s from second contact and %+.0f s from third the level is free: %v", tt.name, at-tt.l.c2, at-tt.l.c3, got)
				break
			}
		}
		p.eclipsed(false)
		if p.loosen(0, residual); p.greatest(p.loose, 0, math.Inf(1)) != 0 {
			t.Errorf("%s: free on a plain day", tt.name)
		}
	}
}

// What moves about a contact is light, whatever the sensor makes of it: through one that answers by
// half its power, or by more in the dark than in full light, the same cloud shows as much.
func TestUnrestIsOfLight(t *testing.T) {
	_, l := realLight(t, time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 36.3, Lon: -5.6})
	p, err := l.window(hazy(l, 1e-4, 60, 1), 0, fine)
	require.NoError(t, err)
	p.setFloor(startFloor)
	for _, sensor := range []struct{ power, dark float64 }{{1, 1}, {0.5, 1}, {0.12, 1}, {0.5, 2.5}} {
		p.reg.beta.Data[colPower], p.reg.beta.Data[colBend], p.reg.beta.Data[colTwist] = sensor.power, 0, 0
		residual := make([]float64, len(p.t))
		for k, at := range p.t {
			p.gain[k] = sensor.dark
			if at > l.c2-40 { // a cloud comes
				residual[k] = -0.6 * sensor.power * sensor.dark
			}
			p.readings[k].rel, p.softly[k] = 0, 0
		}
		if got := p.unrest(residual, l.c2, -1); !(math.Abs(got-0.6) <= 1e-9) {
			t.Errorf("power %g, in the dark %g of it: the light moves by %g, want 0.6", sensor.power, sensor.power*sensor.dark, got)
		}
	}
}
