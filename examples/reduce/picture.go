package main

import (
	"image/color"
	"io"
	"math"
	"time"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"

	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/axis"
)

// Colours that the colour-blind and a grey printer tell apart: a light band, a
// dark line, points between.
var (
	predictedInk = color.RGBA{R: 0x1b, G: 0x3a, B: 0x5c, A: 0xff}
	measuredInk  = color.RGBA{R: 0xd9, G: 0x7a, B: 0x06, A: 0xff}
	contactInk   = color.RGBA{R: 0x88, G: 0x88, B: 0x88, A: 0xff}
)

// writePicture draws measured light over predicted light against UTC, contacts
// marked; without a verdict, the prediction alone.
func writePicture(w io.Writer, rep *station.Report) error {
	p := plot.New()
	// The unit stands in the title: a long label beside a logarithmic axis pushes the
	// plot down.
	p.Title.Text = "Light at station " + rep.Station.Code + ", eclipse of " + rep.Station.Eclipse + "\nilluminance of the horizontal in lx, on the clear sky's scale"
	p.Title.Padding = vg.Points(8)
	p.X.Label.Text = "UTC"
	p.Y.Scale, p.Y.Tick.Marker = plot.LogScale{}, axis.Decades{}
	p.X.Tick.Marker = plot.TimeTicks{Format: "15:04", Ticker: halfHours{}}
	p.Legend.Top, p.Legend.Left = false, true

	var line plotter.XYs
	low, high := math.Inf(1), 0.0
	for q := range rep.Curve.All(5 * time.Second) {
		line = append(line, plotter.XY{X: seconds(q.UTC), Y: q.Lux})
		low, high = math.Min(low, q.Lux), math.Max(high, q.Lux)
	}
	var points plotter.XYs
	if rep.Clock != nil {
		for _, q := range rep.Clock.Points {
			if q.Measured > 0 {
				points = append(points, plotter.XY{X: seconds(q.UTC), Y: q.Measured})
				low, high = math.Min(low, q.Measured), math.Max(high, q.Measured)
			}
		}
	}
	low, high = math.Pow(10, math.Floor(math.Log10(low))), 6*high // room for the contacts' names
	for _, k := range contacts(rep) {
		mark, err := plotter.NewLine(plotter.XYs{{X: seconds(k.UTC), Y: low}, {X: seconds(k.UTC), Y: high}})
		if err != nil {
			return err
		}
		mark.Color, mark.Dashes = contactInk, []vg.Length{vg.Points(3), vg.Points(3)}
		label, err := plotter.NewLabels(plotter.XYLabels{XYs: plotter.XYs{{X: seconds(k.UTC), Y: high / 2}}, Labels: []string{k.name}})
		if err != nil {
			return err
		}
		label.Offset = vg.Point{X: labelShift[k.name], Y: vg.Points(2)}
		p.Add(mark, label)
	}
	if len(points) > 0 {
		dots, err := plotter.NewScatter(points)
		if err != nil {
			return err
		}
		dots.GlyphStyle = draw.GlyphStyle{Color: measuredInk, Radius: vg.Points(1.8), Shape: draw.CircleGlyph{}}
		p.Add(dots)
		p.Legend.Add("measured, clock put right", dots)
	}
	sky, err := plotter.NewLine(line)
	if err != nil {
		return err
	}
	sky.Color, sky.Width = predictedInk, vg.Points(1.2)
	p.Add(sky)
	p.Legend.Add("predicted, clear sky", sky)
	p.Y.Min, p.Y.Max = low, high
	p.X.Min, p.X.Max = line[0].X-300, line[len(line)-1].X+300

	c := vgsvg.New(9*vg.Inch, 5*vg.Inch)
	p.Draw(draw.New(c))
	_, err = c.WriteTo(w)
	return err
}

// labelShift keeps the names of neighbouring contacts apart.
var labelShift = map[string]vg.Length{"C1": -6, "C2": -22, "max": -8, "C3": 10, "C4": -6}

func seconds(t time.Time) float64 { return float64(t.UnixNano()) * 1e-9 }

// halfHours marks a time axis every thirty minutes.
type halfHours struct{}

func (halfHours) Ticks(low, high float64) []plot.Tick {
	var out []plot.Tick
	const step = 1800
	for t := math.Ceil(low/step) * step; t <= high; t += step {
		out = append(out, plot.Tick{Value: t, Label: "x"})
	}
	return out
}
