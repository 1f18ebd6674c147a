package main

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/plotter"

	"example.org/noonfall/eclipse/shadow"
	"example.org/noonfall/examples/internal/cli"
)

// Every point of a line has the level, by the eclipse itself, and every column of the grid
// that passes the level does so on a line; a line ends at the grid's edge or comes back.
func TestContoursAreTrue(t *testing.T) {
	p := planned(t, "2027-08-02", 36, -5.6, cli.Real)
	area := shadow.Area{South: 26, North: 46, West: -20, East: 20, LatStep: 0.5, LonStep: 0.5}
	grid, err := shadow.NewGrid(t.Context(), p.elements, area, shadow.SeenObscuration, shadow.GridOptions{})
	require.NoError(t, err)
	for _, level := range []float64{0.7, 0.9, 0.95} {
		lines := contour(grid, level)
		require.Len(t, lines, 2, "north and south of the path")
		for _, line := range lines {
			for i, at := range line {
				if i%10 == 0 {
					if got := circumstancesAt(t, p, at.Y, at.X).SeenObscuration; !(math.Abs(got-level) < 0.002) {
						t.Errorf("at %v %.4f is covered, the line is of %g", at, got, level)
					}
				}
			}
			for _, end := range []plotter.XY{line[0], line[len(line)-1]} {
				if end.X != area.West && end.X != area.East && end.Y != area.South && end.Y != area.North {
					t.Errorf("the line of %g ends at %v", level, end)
				}
			}
		}
	}
	earth, err := shadow.NewGrid(t.Context(), p.elements, shadow.Earth(2), shadow.SeenObscuration, shadow.GridOptions{})
	require.NoError(t, err)
	rings := contour(earth, 0.3)
	require.Len(t, rings, 1)
	if r := rings[0]; r[0] != r[len(r)-1] || len(r) < 50 {
		t.Errorf("a ring of %d from %v to %v", len(r), r[0], r[len(r)-1])
	}
}
