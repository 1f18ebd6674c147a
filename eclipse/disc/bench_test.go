package disc

import (
	"math/rand/v2"
	"testing"
)

// eclipses are instants of many eclipses, from first to last contact.
func eclipses() (p, z [4096]float64) {
	rng := rand.New(rand.NewPCG(1, 2))
	for i := range p {
		p[i] = 0.94 + 0.12*rng.Float64()
		z[i] = (1 + p[i]) * rng.Float64()
	}
	return p, z
}

func BenchmarkFlux(b *testing.B) {
	l := Visible()
	p, z := eclipses()
	b.ReportAllocs()
	var sum float64
	i := 0
	for b.Loop() {
		sum += l.Flux(p[i&4095], z[i&4095])
		i++
	}
	if !(sum > 0) {
		b.Fatal("no light")
	}
}

func BenchmarkFluxPower(b *testing.B) {
	l := good(b)(Power(0.503))
	p, z := eclipses()
	b.ReportAllocs()
	var sum float64
	i := 0
	for b.Loop() {
		sum += l.Flux(p[i&4095], z[i&4095])
		i++
	}
	if !(sum > 0) {
		b.Fatal("no light")
	}
}

func BenchmarkOverlap(b *testing.B) {
	p, z := eclipses()
	b.ReportAllocs()
	var sum float64
	i := 0
	for b.Loop() {
		sum += Overlap(p[i&4095], z[i&4095])
		i++
	}
	if !(sum > 0) {
		b.Fatal("nothing covered")
	}
}
