package main

import (
	"context"
	"fmt"
	"math"

	"gonum.org/v1/plot/plotter"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/shadow"
	"example.org/noonfall/examples/internal/look"
)

func (p *plan) options() eclipse.Options { return p.edge.moon.Observer().Options() }

// drawLevels adds lines of equal obscuration with their names.
func (p *plan) drawLevels(ctx context.Context, out *look.Chart, region *chart) error {
	grid, err := shadow.NewGrid(ctx, p.elements, region.area, shadow.SeenObscuration, shadow.GridOptions{Options: p.options()})
	if err != nil {
		return err
	}
	var line *plotter.Line
	for _, level := range levels {
		for _, points := range contour(grid, level) {
			line = out.Line(points, look.Thin(look.Blue))
		}
	}
	if line != nil {
		out.Key("equal parts covered", line)
	}
	var named look.Labels
	for _, part := range []float64{0.06, 0.4, 0.9} { // not in the middle, where the site is
		named = append(named, crossings(grid, int(part*float64(grid.Cols)))...)
	}
	out.Add(named)
	return nil
}

// crossings name where a column of the grid meets the levels, not too near each other.
func crossings(grid *shadow.Grid, col int) (names look.Labels) {
	last := math.Inf(-1)
	room := 4.5 * grid.Area.LatStep
	for row := range grid.Rows - 1 {
		a, b := grid.At(row, col), grid.At(row+1, col)
		for _, level := range levels {
			if (a < level) == (b < level) || grid.Y(row) < last+room {
				continue
			}
			y := grid.Y(row) + (level-a)/(b-a)*grid.Area.LatStep
			names = append(names, look.Label{X: grid.X(col), Y: y, Text: fmt.Sprintf("%.0f %%", 100*level), Side: look.Above, Boxed: true})
			last = y
		}
	}
	return names
}

// drawPath adds the central line and the limits, where the eclipse has any.
func (p *plan) drawPath(out *look.Chart, region *chart) error {
	s, err := shadow.New(p.elements, p.options())
	if err != nil {
		return err
	}
	const every = 25 // km: half a point on the widest map
	path, err := s.Path(shadow.PathOptions{Km: every})
	if err != nil {
		return err
	}
	for _, line := range look.PathLines() {
		var drawn *plotter.Line
		for _, whole := range joined(path, line.Place) {
			region.turned(whole, func(piece plotter.XYs) { drawn = out.Line(piece, line.Stroke) })
		}
		if drawn != nil && line.Name != "" {
			out.Key(line.Name, drawn)
		}
	}
	return nil
}

// joined makes lines of the places that exist. Longitude runs on past 180.
func joined(path []shadow.Section, place func(*shadow.Section) shadow.Place) (lines []plotter.XYs) {
	var line plotter.XYs
	end := func() {
		if len(line) > 1 {
			lines = append(lines, line)
		}
		line = nil
	}
	for i := range path {
		at := place(&path[i])
		if !at.Exists {
			end()
			continue
		}
		x := at.Site.Lon
		if n := len(line); n > 0 {
			x = line[n-1].X + math.Remainder(x-line[n-1].X, 360)
		}
		line = append(line, plotter.XY{X: x, Y: at.Site.Lat})
	}
	end()
	return lines
}
