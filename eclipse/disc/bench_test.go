package disc

import (
	"math"
	"math/rand/v2"
	"testing"
)

// eclipses are instants of many eclipses, from first to last contact: the Moon
// passes at any distance and the clock runs evenly. One in sixteen is within a
// thousandth of a solar radius of a contact, or much nearer.
func eclipses() (p, z [4096]float64) {
	rng := rand.New(rand.NewPCG(1, 2))
	for i := range p {
		p[i] = 0.94 + 0.12*rng.Float64()
		outer, inner := 1+p[i], math.Abs(1-p[i])
		closest := outer * rng.Float64()
		along := math.Sqrt(outer*outer-closest*closest) * rng.Float64()
		z[i] = math.Hypot(closest, along)
		near := math.Pow(10, -3-9*rng.Float64())
		switch i % 64 {
		case 0:
			z[i] = inner + near
		case 16:
			z[i] = math.Abs(inner - near)
		case 32:
			z[i] = outer - near
		case 48:
			z[i] = outer + near
		}
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
