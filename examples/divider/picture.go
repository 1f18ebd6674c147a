package main

import (
	"fmt"
	"io"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"

	"example.org/noonfall/examples/internal/look"
)

// The strokes of the best load, and of the common ones and one's own.
var (
	bestStroke = look.Bold(look.Blue)
	strokes    = []look.Stroke{look.Dashed(look.Orange), look.Chained(look.Black), look.Plain(look.Black)}
)

// A drawing makes one of the pictures.
type drawing func() (*look.Sheet, error)

func (d drawing) writeSVG(w io.Writer) error { return d.written((*look.Sheet).WriteSVG, w) }

func (d drawing) writePNG(w io.Writer) error { return d.written((*look.Sheet).WritePNG, w) }

func (d drawing) written(as func(*look.Sheet, io.Writer) error, w io.Writer) error {
	s, err := d()
	if err != nil {
		return err
	}
	return as(s, w)
}

// onLight is an empty chart over the light, whose ordinate has a name.
func (s *story) onLight(name string) *look.Chart {
	c := look.NewChart(name, "illuminance (lx)", 270)
	c.X.Scale, c.X.Tick.Marker = plot.LogScale{}, look.Decades{}
	c.X.Min, c.X.Max = s.axis()
	return c
}

// axis is eight decades, from starlight to more than the Sun, or what was asked for.
func (s *story) axis() (low, high float64) {
	return math.Min(0.01, math.Pow(10, math.Floor(math.Log10(s.low)))), 1e6
}

// falling says that counts fall with light.
func (s *story) falling() bool { return s.cell == "bottom" }

// lights marks the levels that people know; their names stand above.
func lights(c *look.Chart) {
	sides := map[string]text.XAlignment{"twilight": look.Before, "totality": look.After, "overcast": look.Above, "full Sun": look.Above}
	for _, l := range marked() {
		c.At(l.lux, fmt.Sprintf("%s %s lx", l.short, look.Commas(figure(l.lux, 3))), sides[l.short])
	}
}

// lineOf draws a function of the light where it has a value above 0, and names it.
func (s *story) lineOf(c *look.Chart, name string, style look.Stroke, f func(lux float64) float64) {
	const steps = 400
	var points plotter.XYs
	low, high := s.axis()
	for i := range steps + 1 {
		lux := low * math.Pow(high/low, float64(i)/steps)
		if v := f(lux); v > 0 {
			points = append(points, plotter.XY{X: lux, Y: v})
		}
	}
	if len(points) > 0 {
		c.Key(name, c.Line(points, style))
	}
}
