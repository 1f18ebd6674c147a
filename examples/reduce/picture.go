package main

import (
	"io"
	"math"
	"time"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"

	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/look"
)

// clockAxis names the abscissa of all pictures here.
const clockAxis = "UTC (hours and minutes)"

// writePicture draws measured light over predicted light against UTC, contacts
// marked, and below it what the fit leaves; without a verdict, the prediction alone.
func writePicture(w io.Writer, rep *station.Report) error {
	light, caption := lightChart(rep), "Light on a level sensor, on the clear sky's scale."
	charts := []*look.Chart{light}
	if rep.Clock != nil && len(rep.Clock.Points) > 0 {
		light.X.Label.Text = ""
		charts = append(charts, residualChart(rep, light.X.Min, light.X.Max))
		caption += " Below: what the fit leaves; what is further off lies on the edge."
	}
	return sheet(rep, "Light", caption, charts...).WriteSVG(w)
}

// sheet is a picture of the station, with its origin and its sources.
func sheet(rep *station.Report, title, caption string, charts ...*look.Chart) *look.Sheet {
	caption += " " + look.Origin(rep.Station.Remarks)
	if rep.Elements != nil {
		caption += " Eclipse: " + rep.Elements.Source + "."
	}
	return &look.Sheet{Title: title + " at station " + rep.Station.Code + ", eclipse of " + rep.Station.Eclipse, Caption: caption, Charts: charts}
}

// lightChart is the upper part.
func lightChart(rep *station.Report) *look.Chart {
	c := look.NewChart("illuminance (lx)", clockAxis, 270)
	c.Y.Scale, c.Y.Tick.Marker, c.X.Tick.Marker = plot.LogScale{}, look.Decades{}, look.Clock{}
	var line, points plotter.XYs
	low, high := math.Inf(1), 0.0
	for q := range rep.Curve.All(5 * time.Second) {
		line = append(line, plotter.XY{X: look.Seconds(q.UTC), Y: q.Lux})
		low, high = math.Min(low, q.Lux), math.Max(high, q.Lux)
	}
	if rep.Clock != nil {
		for _, q := range rep.Clock.Points {
			if q.Measured > 0 {
				points = append(points, plotter.XY{X: look.Seconds(q.UTC), Y: q.Measured})
				low, high = math.Min(low, q.Measured), math.Max(high, q.Measured)
			}
		}
	}
	low, high = math.Pow(10, math.Floor(math.Log10(low))), 4*high // room for the contacts that are seen
	if cloud := addClouds(c, rep, low, high); cloud != nil {
		c.Key("cloud or shade", cloud)
	}
	if len(points) > 0 {
		c.Key("measured, clock put right", c.Dots(points, look.Orange, look.Disc, 1.8))
	}
	c.Key("predicted, clear sky", c.Line(line, look.Plain(look.Blue)))
	addSeen(c, rep, high/2)
	for _, k := range contacts(rep) {
		c.Contact(look.Seconds(k.UTC), k.name)
	}
	c.Y.Min, c.Y.Max = low, high
	c.X.Min, c.X.Max = line[0].X-300, line[len(line)-1].X+300
	return c
}
