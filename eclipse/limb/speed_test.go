package limb

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// centrals are sites under the shadow of random eclipses of 1950 to 2100: within a
// quarter of the path's width or so of the central line, by steps of a tenth of a
// degree from a point of it.
func centrals(t testing.TB, kind eclipse.Kind, n int) []*eclipse.Observer {
	t.Helper()
	catalogue, err := canon.Load()
	require.NoError(t, err)
	var all []*eclipse.Elements
	for e := range catalogue.All() {
		if e.Date > "1950" {
			all = append(all, e)
		}
	}
	rng := rand.New(rand.NewPCG(1, 2))
	var out []*eclipse.Observer
	for tries := 0; len(out) < n; tries++ {
		require.Less(t, tries, 100*n)
		e := all[rng.IntN(len(all))]
		g := e.Greatest()
		if g.Type != eclipse.TypeTotal && g.Type != eclipse.TypeAnnular {
			continue
		}
		o, err := eclipse.NewObserver(e, sun.Site{}, eclipse.Options{})
		require.NoError(t, err)
		site, ok := underAxis(o, e.T0+timescale.TT(4000*(rng.Float64()-0.5)))
		if !ok {
			continue
		}
		site.Lat = max(-89, min(89, site.Lat+0.6*(rng.Float64()-0.5)))
		site.Lon += 0.6 * (rng.Float64() - 0.5)
		if o, err = eclipse.NewObserver(e, site, eclipse.Options{}); err != nil {
			continue
		}
		if c := o.Circumstances(); c.Geometry == kind && c.Max.Alt > 5 {
			out = append(out, o)
		}
	}
	return out
}

// underAxis is where the shadow's axis meets the ground, a sphere for this purpose.
func underAxis(o *eclipse.Observer, t timescale.TT) (sun.Site, bool) {
	site := sun.Site{}
	e := o.Elements()
	h := float64(t-e.T0) / 3600
	x, y := e.X.At(h), e.Y.At(h)
	z := 1 - x*x - y*y
	if z < 0.01 {
		return site, false
	}
	return fromAxis(e, h, x, y, z, o.Scale().DeltaT(t).Seconds), true
}

// kinds are those of central eclipses.
var kinds = []eclipse.Kind{eclipse.Total, eclipse.Annular}

func BenchmarkLimbContacts(b *testing.B) {
	var moons []Moon
	for _, kind := range kinds {
		for _, o := range centrals(b, kind, 64) {
			moons = append(moons, moonOf(b, o))
		}
	}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		c := moons[i%len(moons)].Contacts()
		if c.LimbKind < eclipse.Partial {
			b.Fatal("no eclipse")
		}
		i += 37
	}
}

// BenchmarkNewCurve is the price of a curve, once a site.
func BenchmarkNewCurve(b *testing.B) {
	var moons []Moon
	for _, kind := range kinds {
		for _, o := range centrals(b, kind, 4) {
			moons = append(moons, moonOf(b, o))
		}
	}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		if _, err := NewCurve(moons[i%len(moons)], eclipse.CurveOptions{}); err != nil {
			b.Fatal(err)
		}
		i += 5
	}
}

// BenchmarkCurveFlux reads it, at instants all over the eclipse.
func BenchmarkCurveFlux(b *testing.B) {
	c, err := NewCurve(moonOf(b, centrals(b, eclipse.Total, 1)[0]), eclipse.CurveOptions{})
	require.NoError(b, err)
	circ := c.Circumstances()
	rng := rand.New(rand.NewPCG(1, 2))
	var ts [4096]timescale.TT
	for i := range ts {
		ts[i] = circ.C1.TT + (circ.C4.TT-circ.C1.TT)*timescale.TT(rng.Float64())
	}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		c.Flux(ts[i&4095])
		i++
	}
}
