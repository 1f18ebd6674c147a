package fit

import (
	"math"
	"testing"
)

// The derivatives of a leaning sensor's light against differences of it.
func TestStanceHasItsDerivatives(t *testing.T) {
	const h = 1e-5
	for _, b := range []beam{
		{share: 0.8, east: 0.3, north: -1.1, mass: 1.2, slant: -0.3},
		{share: 0.5, east: -4, north: 3, mass: 6, slant: -1.9}, // low in the south-east or so
	} {
		for _, m := range []mount{{}, {east: 0.1, north: -0.05}, {east: 0.3, north: 0.2}} {
			s := m.stand(b)
			east := (mount{m.east + h, m.north}.stand(b).change - mount{m.east - h, m.north}.stand(b).change) / (2 * h)
			north := (mount{m.east, m.north + h}.stand(b).change - mount{m.east, m.north - h}.stand(b).change) / (2 * h)
			if !(math.Abs(s.east-east) <= 1e-6*(1+math.Abs(east)) && math.Abs(s.north-north) <= 1e-6*(1+math.Abs(north))) {
				t.Errorf("%+v on %+v: %g and %g, by differences %g and %g", b, m, s.east, s.north, east, north)
			}
			// Extinction and slant work on the disc's part of the light alone.
			if disc := -s.air / b.mass; !(disc >= 0 && disc <= 1) || !(math.Abs(s.slant-disc*b.slant) <= 1e-12) {
				t.Errorf("%+v on %+v: air %g, slant %g", b, m, s.air, s.slant)
			}
		}
	}
}

// A level sensor sees the clear sky as it is predicted, but for the rim.
func TestLevelSensorChangesNothing(t *testing.T) {
	if s := (mount{}).stand(beam{share: 0.9, east: 1, north: 1, mass: 1, slant: -0.1}); !(math.Abs(s.change) <= 0.003) {
		t.Errorf("a level sensor's light differs by %g", s.change)
	}
}
