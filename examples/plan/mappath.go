package main

import (
	"context"
	"fmt"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/shadow"
)

func (p *plan) options() eclipse.Options { return p.edge.moon.Observer().Options() }

// drawLevels adds lines of equal obscuration with their names.
func (p *plan) drawLevels(ctx context.Context, out *plot.Plot, region *chart) error {
	grid, err := shadow.NewGrid(ctx, p.elements, region.area, shadow.SeenObscuration, shadow.GridOptions{Options: p.options()})
	if err != nil {
		return err
	}
	for _, level := range levels {
		for _, points := range contour(grid, level) {
			line, err := plotter.NewLine(points)
			if err != nil {
				return err
			}
			line.Color, line.Width = levelInk, vg.Points(0.8)
			out.Add(line)
		}
	}
	named := &names{style: out.X.Tick.Label}
	named.style.Color, named.style.Font.Size = levelInk, 8
	named.style.XAlign, named.style.YAlign = draw.XCenter, draw.YCenter
	for _, part := range []float64{0.06, 0.4, 0.9} { // not in the middle, where the site is
		at := crossings(grid, int(part*float64(grid.Cols)))
		named.XYs, named.Labels = append(named.XYs, at.XYs...), append(named.Labels, at.Labels...)
	}
	out.Add(named)
	return nil
}

// crossings are where a column of the grid meets the levels, not too near each other.
func crossings(grid *shadow.Grid, col int) (names plotter.XYLabels) {
	last := math.Inf(-1)
	room := 3 * grid.Area.LatStep
	for row := range grid.Rows - 1 {
		a, b := grid.At(row, col), grid.At(row+1, col)
		for _, level := range levels {
			if (a < level) == (b < level) || grid.Y(row) < last+room {
				continue
			}
			y := grid.Y(row) + (level-a)/(b-a)*grid.Area.LatStep
			names.XYs = append(names.XYs, plotter.XY{X: grid.X(col), Y: y})
			names.Labels = append(names.Labels, fmt.Sprintf("%.0f %%", 100*level))
			last = y
		}
	}
	return names
}

// drawPath adds the central line and the limits, where the eclipse has any.
func (p *plan) drawPath(out *plot.Plot, region *chart) error {
	s, err := shadow.New(p.elements, p.options())
	if err != nil {
		return err
	}
	const every = 25 // km: half a point on the widest map
	path, err := s.Path(shadow.PathOptions{Km: every})
	if err != nil {
		return err
	}
	for _, line := range []struct {
		place  func(*shadow.Section) shadow.Place
		dashes []vg.Length
	}{
		{func(s *shadow.Section) shadow.Place { return s.Center }, nil},
		{func(s *shadow.Section) shadow.Place { return s.North }, dashed},
		{func(s *shadow.Section) shadow.Place { return s.South }, dashed},
	} {
		for _, whole := range joined(path, line.place) {
			err := region.turned(whole, func(piece plotter.XYs) error {
				drawn, err := plotter.NewLine(piece)
				if err != nil {
					return err
				}
				drawn.Color, drawn.Width, drawn.Dashes = paths[0], vg.Points(1.3), line.dashes
				out.Add(drawn)
				return nil
			})
			if err != nil {
				return err
			}
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

func (p *plan) drawSite(out *plot.Plot, region *chart) error {
	dot, err := plotter.NewScatter(plotter.XYs{{X: region.lon(p.site.Lon), Y: p.site.Lat}})
	if err != nil {
		return err
	}
	dot.GlyphStyle = draw.GlyphStyle{Color: siteInk, Radius: vg.Points(4), Shape: draw.PyramidGlyph{}}
	out.Add(dot)
	return nil
}
