package eclipse

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

func jittered(b *testing.B) ([]*Observer, []timescale.TT) {
	e := published(b, "canon5m", "2027-08-02")
	rng := rand.New(rand.NewPCG(1, 2))
	var os []*Observer
	var ts []timescale.TT
	for range 256 {
		s := under(e, 3*rng.Float64()-1.5, 0.5-rng.Float64())
		if rng.Float64() < 0.5 {
			s.Lat = math.Max(-89, math.Min(89, s.Lat+40*rng.Float64()-20))
		}
		os = append(os, watch(b, e, s, 69.2))
		ts = append(ts, e.T0+timescale.TT(7200*(rng.Float64()-0.5)))
	}
	return os, ts
}

func BenchmarkAspect(b *testing.B) {
	os, ts := jittered(b)
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		os[i&255].Aspect(ts[(i*7)&255])
		i++
	}
}

// BenchmarkCircumstances places the observer too: nothing about the site is known
// before the clock runs.
func BenchmarkCircumstances(b *testing.B) {
	os, _ := jittered(b)
	var sites [256]sun.Site
	for i, o := range os {
		sites[i] = o.Site()
	}
	p, err := Prepare(os[0].Elements(), os[0].Options())
	require.NoError(b, err)
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		o, _ := p.Observer(sites[i&255])
		o.Circumstances()
		i++
	}
}

func BenchmarkCurveAt(b *testing.B) {
	o := watch(b, published(b, "canon5m", "2027-08-02"), sites[0], 69.2)
	c, err := NewCurve(o, CurveOptions{})
	require.NoError(b, err)
	rng := rand.New(rand.NewPCG(1, 2))
	var ts [4096]timescale.TT
	for i := range ts {
		ts[i] = c.circ.C1.TT + (c.circ.C4.TT-c.circ.C1.TT)*timescale.TT(rng.Float64())
	}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		c.Flux(ts[i&4095])
		i++
	}
}
