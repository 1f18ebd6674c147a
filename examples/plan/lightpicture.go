package main

import (
	"fmt"
	"io"
	"math"
	"time"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"

	"example.org/noonfall/examples/internal/axis"
)

// writeLight draws the light over five decades, with the contacts. It needs the firmware's
// table, whose points lie closer where the light falls faster.
func (p *plan) writeLight(w io.Writer) error {
	out, err := p.lightPicture(p.compiled)
	if err != nil {
		return err
	}
	c := vgsvg.New(pictureWidth, pictureHeight)
	out.Draw(draw.Crop(draw.New(c), vg.Points(16), -vg.Points(28), vg.Points(4), -vg.Points(4)))
	_, err = c.WriteTo(w)
	return err
}

// lowest and top are what the picture shows, lx: five decades, from what totality leaves to
// the clearest noon, and room for the contacts' names. A Sun near the horizon may start below that.
const lowestLux, topLux = 1.0, 4e5

func (p *plan) lightPicture(f *firmware) (*plot.Plot, error) {
	out := plot.New()
	out.Title.Text = fmt.Sprintf("Light expected on %s at %s, %s\nlx on a level sensor under a model clear sky", f.epoch.Format(time.DateOnly),
		sided(p.site.Lat, "N", "S"), sided(p.site.Lon, "E", "W"))
	out.Title.Padding = vg.Points(8)
	apart(out)
	out.X.Label.Text = "UTC"
	out.X.Min, out.X.Max = 0, f.coarse.end().Seconds()
	out.X.Tick.Marker = clockFace{f.epoch}
	out.Y.Scale, out.Y.Tick.Marker = plot.LogScale{}, axis.Decades{}
	out.Y.Min, out.Y.Max = lowestLux, topLux
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = bodyInk, bodyInk
	out.Add(grid)
	line, err := plotter.NewLine(f.points())
	if err != nil {
		return nil, err
	}
	line.Color, line.Width = paths[1], vg.Points(1.8)
	out.Add(line)
	for _, c := range f.contacts {
		if err := f.mark(out, c); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// points are those of both tables, in order of time; below the picture they lie on its edge.
func (f *firmware) points() (all plotter.XYs) {
	add := func(g *grating, i int) {
		at := g.begin + time.Duration(i)*g.step
		lux := math.Pow(10, float64(g.light[i])/perDecade)
		all = append(all, plotter.XY{X: at.Seconds(), Y: math.Max(lowestLux, lux)})
	}
	f.each(add)
	return all
}

// mark draws a contact and its name, the inner names so that they stay apart.
func (f *firmware) mark(out *plot.Plot, c moment) error {
	x := c.UTC.Sub(f.epoch).Seconds()
	if x < out.X.Min || x > out.X.Max {
		return nil // below the horizon
	}
	y, beside := topLux, 3.0
	switch c.name {
	case "C2":
		y, beside = topLux/2, -18
	case "C3":
		y = topLux / 2
	}
	line, err := plotter.NewLine(plotter.XYs{{X: x, Y: lowestLux}, {X: x, Y: y}})
	if err != nil {
		return err
	}
	line.Color, line.Width, line.Dashes = paths[0], vg.Points(0.9), dashed
	name, err := plotter.NewLabels(plotter.XYLabels{XYs: plotter.XYs{{X: x, Y: y}}, Labels: []string{c.name}})
	if err != nil {
		return err
	}
	name.TextStyle[0].Color = paths[0]
	name.Offset = vg.Point{X: vg.Length(beside), Y: -8}
	out.Add(line, name)
	return nil
}

// A clockFace marks an axis of seconds after an instant with the time of day.
type clockFace struct{ epoch time.Time }

func (c clockFace) Ticks(low, high float64) (out []plot.Tick) {
	step := 30 * time.Minute
	if high-low < 5400 {
		step = 10 * time.Minute
	}
	at := c.epoch.Add(time.Duration(low * float64(time.Second)))
	for at = at.Add(step - 1).Truncate(step); ; at = at.Add(step) {
		x := at.Sub(c.epoch).Seconds()
		if x > high {
			return out
		}
		out = append(out, plot.Tick{Value: x, Label: at.Format("15:04")})
	}
}
