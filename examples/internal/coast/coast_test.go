package coast

import (
	"math"
	"testing"

	"gonum.org/v1/plot/plotter"
)

// Capes, from memory, to a tenth of a degree: the coast is a fifth of one away at most, and
// nothing is where there is open sea.
func TestCoasts(t *testing.T) {
	lines := Lines()
	points := 0
	for _, line := range lines {
		points += len(line)
		for i, at := range line {
			if !(math.Abs(at.X) <= 180 && at.Y >= -90 && at.Y <= 84) {
				t.Fatalf("%v is no coast", at)
			}
			if i > 0 && math.Abs(at.X-line[i-1].X) > 20 {
				t.Fatalf("a step from %v to %v", line[i-1], at)
			}
		}
	}
	// As many as were written: a damaged file has fewer.
	if len(coastBytes) >= 100_000 || len(lines) < 900 || points < 15_000 {
		t.Errorf("%d bytes, %d lines, %d points", len(coastBytes), len(lines), points)
	}
	for _, tt := range []struct {
		name     string
		lat, lon float64
		coast    bool
	}{
		{"Tarifa", 36.0, -5.6, true}, {"Agulhas", -34.8, 20.0, true}, {"Cabo da Roca", 38.8, -9.5, true},
		{"North Cape", 71.2, 25.8, true}, {"Cape Leeuwin", -34.4, 115.1, true}, {"Cape Comorin", 8.1, 77.5, true},
		{"Atlantic", 30, -40, false}, {"Pacific", -40, -120, false}, {"Sahara", 23, 10, false},
	} {
		near := math.Inf(1)
		for _, line := range lines {
			for i := range line[1:] {
				near = math.Min(near, toStep(line[i], line[i+1], tt.lon, tt.lat))
			}
		}
		if near <= 0.2 != tt.coast || !tt.coast && near < 5 {
			t.Errorf("%s: the coast is %.2f degrees away", tt.name, near)
		}
	}
}

// toStep is the distance from a place to a piece of a line, in degrees of a plane map.
func toStep(a, b plotter.XY, x, y float64) float64 {
	ux, uy := b.X-a.X, b.Y-a.Y
	along := 0.0
	if length := ux*ux + uy*uy; length > 0 {
		along = math.Min(1, math.Max(0, ((x-a.X)*ux+(y-a.Y)*uy)/length))
	}
	return math.Hypot(x-a.X-along*ux, y-a.Y-along*uy)
}
