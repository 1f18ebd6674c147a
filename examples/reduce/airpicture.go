package main

import (
	"fmt"
	"io"
	"math"
	"time"

	"gonum.org/v1/plot/plotter"

	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/look"
)

// writeAirPicture draws the temperatures over the trend without eclipse and the air's
// own course, with maximum eclipse and the greatest departure marked.
func writeAirPicture(w io.Writer, rep *station.Report) error {
	c := look.NewChart("temperature (degrees Celsius)", clockAxis, 250)
	c.X.Tick.Marker = look.Clock{}
	var read, trend, air plotter.XYs
	for _, q := range rep.Cooling.Points {
		x := look.Seconds(q.UTC)
		read = append(read, plotter.XY{X: x, Y: q.Read})
		trend = append(trend, plotter.XY{X: x, Y: q.Trend})
		air = append(air, plotter.XY{X: x, Y: q.Air})
	}
	c.Key("thermometer, means", c.Dots(read, look.Orange, look.Disc, 1.8))
	c.Key("without eclipse", c.Line(trend, look.Dashed(look.Black)))
	c.Key("air, the thermometer's lag taken out", c.Line(air, look.Plain(look.Blue)))
	k, lag := rep.Circumstances, rep.Cooling.Lag.Value
	c.Contact(look.Seconds(k.C1.UTC), "C1")
	c.Contact(look.Seconds(k.C4.UTC), "C4") // the long name stands above this one
	c.At(look.Seconds(k.Max.UTC), "max", look.Before)
	c.At(look.Seconds(k.Max.UTC.Add(time.Duration(lag*1e9))), fmt.Sprintf("greatest fall, %.1f min later", lag/60), look.After)
	c.X.Min, c.X.Max = read[0].X-300, read[len(read)-1].X+300
	room := 0.05 * math.Max(0.1, c.Y.Max-c.Y.Min)
	c.Y.Min, c.Y.Max = c.Y.Min-room, c.Y.Max+room
	return sheet(rep, "Air", "Temperature of the air, and what it would have been without eclipse.", c).WriteSVG(w)
}
