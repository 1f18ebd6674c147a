package main

import (
	"math"
	"slices"

	"gonum.org/v1/plot/plotter"

	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/look"
)

// addSeen marks the contacts that the light shows, at a height: a bar of one standard uncertainty
// either way.
func addSeen(c *look.Chart, rep *station.Report, y float64) {
	if rep.Clock == nil || len(rep.Clock.Contacts) == 0 {
		return
	}
	var at plotter.XYs
	for _, s := range rep.Clock.Contacts {
		x := look.Seconds(s.UTC)
		at = append(at, plotter.XY{X: x, Y: y})
		c.Across(x-s.LateU, y, x+s.LateU, y, look.Plain(look.Black))
	}
	c.Key("contact that the light shows", c.Dots(at, look.Black, look.Triangle, 3.5))
}

// addClouds shades the spans under cloud or shade, where there are any.
func addClouds(c *look.Chart, rep *station.Report, low, high float64) (last *plotter.Polygon) {
	if rep.Clock == nil {
		return nil
	}
	for _, s := range rep.Clock.Cloud {
		last = c.Band(look.Seconds(s.From), low, look.Seconds(s.To), high, look.Shade)
	}
	return last
}

// residualChart is the lower part: per cent of light more than the fit has. What is
// further off than the axis goes, as under cloud, lies on its edge.
func residualChart(rep *station.Report, from, to float64) *look.Chart {
	var sizes []float64
	for _, q := range rep.Clock.Points {
		sizes = append(sizes, math.Abs(perCent(q.Residual)))
	}
	slices.Sort(sizes)
	const most, least = 100, 2 // per cent
	end := math.Max(least, math.Min(most, 1.3*sizes[len(sizes)*95/100]))
	var points plotter.XYs
	for _, q := range rep.Clock.Points {
		points = append(points, plotter.XY{X: look.Seconds(q.UTC), Y: math.Max(-end, math.Min(end, perCent(q.Residual)))})
	}
	c := look.NewChart("reading less fit (per cent)", clockAxis, 110)
	c.X.Tick.Marker = look.Clock{}
	addClouds(c, rep, -end, end)
	c.Across(from, 0, to, 0, look.Plain(look.Blue))
	c.Dots(points, look.Orange, look.Disc, 1.3)
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = from, to, -end, end
	return c
}

func perCent(log float64) float64 { return 100 * math.Expm1(log) }
