package main

import (
	"io"
	"math"
	"time"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"

	"example.org/noonfall/examples/internal/look"
)

// lowest and top are what the picture shows, lx: five decades, from what totality leaves to
// the clearest noon. A Sun near the horizon may start below that.
const lowestLux, topLux = 1.0, 2e5

// writeLight draws the light over five decades, with the contacts. It needs the firmware's
// table, whose points lie closer where the light falls faster.
func (p *plan) writeLight(w io.Writer) error {
	f := p.compiled
	c := look.NewChart("illuminance on a level sensor (lx)", "UTC (hours and minutes)", 250)
	c.X.Min, c.X.Max = look.Seconds(f.epoch), look.Seconds(f.epoch.Add(f.coarse.end()))
	c.X.Tick.Marker = look.Clock{}
	c.Y.Scale, c.Y.Tick.Marker = plot.LogScale{}, look.Decades{}
	c.Y.Min, c.Y.Max = lowestLux, topLux
	c.Grid()
	c.Line(f.points(), look.Bold(look.Blue))
	for _, k := range f.contacts {
		c.Contact(look.Seconds(k.UTC), k.name)
	}
	return p.sheet("Light expected", "Light under a model clear sky, and the contacts C1 to C4; the model's spread and its sources stand in package sun.", c).WriteSVG(w)
}

// points are those of both tables, in order of time; below the picture they lie on its edge.
func (f *firmware) points() (all plotter.XYs) {
	add := func(g *grating, i int) {
		at := f.epoch.Add(g.begin + time.Duration(i)*g.step)
		lux := math.Pow(10, float64(g.light[i])/perDecade)
		all = append(all, plotter.XY{X: look.Seconds(at), Y: math.Max(lowestLux, lux)})
	}
	f.each(add)
	return all
}
