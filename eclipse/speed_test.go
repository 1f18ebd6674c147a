package eclipse

import (
	"math"
	"math/rand/v2"
	"testing"

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

func BenchmarkCircumstances(b *testing.B) {
	os, _ := jittered(b)
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		os[i&255].Circumstances()
		i++
	}
}
