package disc

import (
	"math"
	"testing"
)

// Any numbers at all: a fraction where both discs exist, NaN elsewhere, and in
// between the light of the part that is free at most as bright as its brightest.
func FuzzFlux(f *testing.F) {
	f.Add(1.03, 0.03, 0.5)
	f.Add(0.97, 0.03, 0.3)
	f.Add(1.0, 0.0, 0.0)
	f.Add(0.5, 0.5, 1.0)
	f.Add(1.0, 1e-300, 0.7)
	f.Add(5e-324, 1.0, 0.2)
	f.Add(1e300, 1e300, 0.2)
	f.Add(math.Inf(1), math.Inf(1), 2.0)
	f.Add(math.Nextafter(2, 3), 1.0, 2.0)
	f.Add(math.Nextafter(0.95, 1), 0.05, 4.0)
	f.Fuzz(func(t *testing.T, p, z, alpha float64) {
		broken, err := Power(alpha)
		if err != nil {
			broken = PierceSlaughter552()
		}
		valid := p >= 0 && z >= 0 && !(math.IsInf(p, 1) && math.IsInf(z, 1))
		covered := Overlap(p, z)
		if valid != (covered >= 0 && covered <= 1) {
			t.Fatalf("Overlap(%g, %g) = %v", p, z, covered)
		}
		for _, l := range []Law{broken, Visible(), Uniform(), Handbook550()} {
			got := l.Flux(p, z)
			if !valid {
				if !math.IsNaN(got) {
					t.Fatalf("%v: Flux(%g, %g) = %v, want NaN", l, p, z, got)
				}
				continue
			}
			// The free area, were it all as bright as the centre, and were the
			// covered one.
			high, low := (1-covered)/l.Mean(), 1-covered/l.Mean()
			if !(got >= 0 && got <= 1 && got <= high+1e-11 && got >= low-1e-11) {
				t.Fatalf("%v: Flux(%g, %g) = %v, not in [%v, %v]", l, p, z, got, low, high)
			}
		}
	})
}
