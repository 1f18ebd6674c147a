package limb

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun/timescale"
)

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
