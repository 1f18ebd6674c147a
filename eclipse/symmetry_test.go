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
		if d := float64(ca.C1.TT - cb.C1.TT); !(math.Abs(d) < 1e-5) {
			t.Fatalf("C1 differs by %g s", d)
		}
		if d := math.Remainder(ca.C1.P+cb.C1.P-180, 360); !(math.Abs(d) < 1e-6) {
			t.Fatalf("P %g and %g are no mirror images", ca.C1.P, cb.C1.P)
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
		if d := float64(ca.Max.TT - cb.Max.TT); ca.Geometry != cb.Geometry || !(math.Abs(d) < 1e-4) {
			t.Fatalf("%v and %v, maximum differs by %g s", ca.Geometry, cb.Geometry, d)
		}
	})
}
