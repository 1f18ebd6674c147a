package eclipse

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// The sky seen from the other hemisphere is the mirror image.
func TestMirror(t *testing.T) {
	elements := all(t)
	rapid.Check(t, func(t *rapid.T) {
		e := *rapid.SampledFrom(elements).Draw(t, "eclipse")
		s := sun.Site{Lat: rapid.Float64Range(-90, 90).Draw(t, "lat"), Lon: rapid.Float64Range(-180, 180).Draw(t, "lon")}
		opt := Options{Scale: timescale.FixedDeltaT(70)}
		a, err := NewObserver(&e, s, opt)
		require.NoError(t, err)
		m := e
		m.Y, m.D = e.Y.times(-1), e.D.times(-1)
		s.Lat = -s.Lat
		b, err := NewObserver(&m, s, opt)
		require.NoError(t, err)
		ca, cb := a.Circumstances(), b.Circumstances()
		if ca.Geometry != cb.Geometry || ca.Seen != cb.Seen {
			t.Fatalf("%v %v, mirrored %v %v", ca.Geometry, ca.Seen, cb.Geometry, cb.Seen)
		}
		if ca.Geometry == None {
			return
		}
		for i, k := range [][2]Contact{{ca.C1, cb.C1}, {ca.C2, cb.C2}, {ca.Max, cb.Max}, {ca.C3, cb.C3}, {ca.C4, cb.C4}, {ca.Rise, cb.Rise}, {ca.Set, cb.Set}} {
			p, q := k[0], k[1]
			if p.Exists != q.Exists || p.Above != q.Above {
				t.Fatalf("contact %d: %+v, mirrored %+v", i, p, q)
			}
			if !p.Exists {
				continue
			}
			// North and south change places: 1e-5 s and 1e-5 degrees are the rounding
			// of the declination's sine near a graze, and of P where discs are concentric.
			for _, d := range []float64{float64(p.TT - q.TT), p.Alt - q.Alt, p.Az + q.Az - 180, p.P + q.P - 180, p.V + q.V} {
				if !(math.Abs(math.Remainder(d, 360)) < 1e-5) {
					t.Fatalf("contact %d: %+v, mirrored %+v", i, p, q)
				}
			}
		}
	})
}

// Turning the Earth and the site together changes nothing.
func TestTurn(t *testing.T) {
	elements := all(t)
	rapid.Check(t, func(t *rapid.T) {
		e := *rapid.SampledFrom(elements).Draw(t, "eclipse")
		s := sun.Site{Lat: rapid.Float64Range(-90, 90).Draw(t, "lat"), Lon: rapid.Float64Range(-90, 90).Draw(t, "lon")}
		by := rapid.Float64Range(-90, 90).Draw(t, "turn")
		opt := Options{Scale: timescale.FixedDeltaT(70)}
		a, err := NewObserver(&e, s, opt)
		require.NoError(t, err)
		m := e
		m.Mu = e.Mu.plus(by)
		s.Lon -= by
		b, err := NewObserver(&m, s, opt)
		require.NoError(t, err)
		ca, cb := a.Circumstances(), b.Circumstances()
		if d := float64(ca.Max.TT - cb.Max.TT); ca.Geometry != cb.Geometry || ca.Seen != cb.Seen || !(math.Abs(d) < 1e-4) {
			t.Fatalf("%v and %v, maximum differs by %g s", ca.Geometry, cb.Geometry, d)
		}
		if d := ca.Obscuration - cb.Obscuration; !(math.Abs(d) < 1e-9) {
			t.Fatalf("obscuration differs by %g", d)
		}
	})
}
