package march

import (
	"encoding/binary"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// moon makes a map out of a function of latitude and longitude, degrees, km.
func moon(t *testing.T, height func(lat, lon float64) float64) *Map {
	b := make([]byte, Size)
	for j := range rows {
		for i := range columns {
			v := height(90-(float64(j)+0.5)/perDegree, (float64(i)+0.5)/perDegree)
			binary.LittleEndian.PutUint16(b[2*(j*columns+i):], uint16(int16(math.Round(v/unit))))
		}
	}
	m, err := Read(b)
	require.NoError(t, err)
	return m
}

func TestHeightInterpolates(t *testing.T) {
	m := moon(t, func(lat, lon float64) float64 { return lat/30 + math.Sin(lon*deg) })
	for _, p := range [][2]float64{{0, 0}, {10.3, 359.99}, {-45.2, 200.1}, {89.7, 12}, {0, -0.1}, {20, 725}} {
		want := p[0]/30 + math.Sin(p[1]*deg)
		if got := m.Height(p[0], p[1]); !(math.Abs(got-want) <= 0.002) {
			t.Errorf("at %v: %.4f km, want %.4f", p, got, want)
		}
	}
	for _, lat := range []float64{90, -90} {
		if got := m.Height(lat, 77); !(math.Abs(got-lat/30) <= 0.6) {
			t.Errorf("at the pole: %.4f km", got)
		}
	}
	if _, err := Read(make([]byte, Size-1)); err == nil {
		t.Error("a map cut short is taken")
	}
}

// A sphere has a limb of its own radius.
func TestLimbOfASphere(t *testing.T) {
	for i, h := range moon(t, func(_, _ float64) float64 { return 2 }).Profile(3.3, -0.7) {
		if !(math.Abs(h-2) <= 0.002) {
			t.Fatalf("point %d: %.4f km, want 2", i, h)
		}
	}
}

// One mountain, 60 degrees north on the Moon's eastern limb: seen from longitude zero it
// stands on the sky's western side, 30 degrees from the north. Turned out of the limb,
// either way, it sinks by as much as the ground bends away.
func TestOneMountain(t *testing.T) {
	const height, wide = 8.0, 1.0 // km, degrees
	m := moon(t, func(lat, lon float64) float64 {
		if math.Abs(lat-60) < wide && math.Abs(lon-90) < 2*wide {
			return height
		}
		return 0
	})
	for _, tt := range []struct{ l, want, tol float64 }{
		{0, height, 0.05},
		// 5 degrees of longitude are 2.5 on the ground, the plateau's edge stands 1 less
		// far, and the limb of the sphere lies 0.27 this side of the great circle.
		{5, height - Radius*(1-math.Cos((5*0.5-wide-0.27)*deg)), 0.08},
		{-5, height - Radius*(1-math.Cos((5*0.5-wide+0.27)*deg)), 0.08},
	} {
		p := m.Profile(tt.l, 0)
		at, best := 0, 0.0
		for i, h := range p {
			if h > best {
				at, best = i, h
			}
		}
		if angle := float64(at) * 360 / Points; !(math.Abs(angle-330) <= 1.5) || !(math.Abs(best-tt.want) <= tt.tol) {
			t.Errorf("from longitude %g the mountain is %.2f km high at %.1f°, want %.2f km at 330°", tt.l, best, angle, tt.want)
		}
		if other := p[Points/12]; !(math.Abs(other) <= 0.01) { // 30 degrees east
			t.Errorf("from longitude %g the sky's eastern limb is %.2f km high, want none", tt.l, other)
		}
	}
}
