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
	cloudInk     = color.RGBA{R: 0xdd, G: 0xe6, B: 0xee, A: 0xff}
)

// writePicture draws measured light over predicted light against UTC, contacts
// marked, and below it what the fit leaves; without a verdict, the prediction alone.
func writePicture(w io.Writer, rep *station.Report) error {
	p, err := lightPlot(rep)
	if err != nil {
		return err
	}
	panels := [][]*plot.Plot{{p}}
	c := vgsvg.New(9*vg.Inch, 5*vg.Inch)
	if rep.Clock == nil || len(rep.Clock.Points) == 0 {
		p.X.Label.Text = "UTC"
		p.Draw(draw.New(c))
		_, err = c.WriteTo(w)
		return err
	}
	left, err := residualPlot(rep, p.X.Min, p.X.Max)
	if err != nil {
		return err
	}
	c = vgsvg.New(9*vg.Inch, 7*vg.Inch)
	whole := draw.New(c)
	const part = 2.1 * vg.Inch // for the residuals
	panels = append(panels, []*plot.Plot{left})
	for i, at := range plot.Align(panels, draw.Tiles{Rows: 2, Cols: 1}, whole) {
		at[0].Min.Y, at[0].Max.Y = whole.Min.Y+part, whole.Max.Y
		if i == 1 {
			at[0].Min.Y, at[0].Max.Y = whole.Min.Y, whole.Min.Y+part-8
		}
		panels[i][0].Draw(at[0])
	}
	_, err = c.WriteTo(w)
	return err
}

// lightPlot is the upper part.
func lightPlot(rep *station.Report) (*plot.Plot, error) {
	p := plot.New()
	// The unit stands in the title: a long label beside a logarithmic axis pushes the
	// plot down.
	p.Title.Text = "Light at station " + rep.Station.Code + ", eclipse of " + rep.Station.Eclipse + "\nilluminance of the horizontal in lx, on the clear sky's scale"
	p.Title.Padding = vg.Points(8)
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
	if err := addClouds(p, rep, low, high); err != nil {
		return nil, err
	}
	if err := addContacts(p, rep, low, high); err != nil {
		return nil, err
	}
	if len(points) > 0 {
		dots, err := plotter.NewScatter(points)
		if err != nil {
			return nil, err
		}
		dots.GlyphStyle = draw.GlyphStyle{Color: measuredInk, Radius: vg.Points(1.8), Shape: draw.CircleGlyph{}}
		p.Add(dots)
		p.Legend.Add("measured, clock put right", dots)
	}
	sky, err := plotter.NewLine(line)
	if err != nil {
		return nil, err
	}
	sky.Color, sky.Width = predictedInk, vg.Points(1.2)
	p.Add(sky)
	p.Legend.Add("predicted, clear sky", sky)
	if err := addSeen(p, rep, high); err != nil {
		return nil, err
	}
	p.Y.Min, p.Y.Max = low, high
	p.X.Min, p.X.Max = line[0].X-300, line[len(line)-1].X+300
	return p, nil
}

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
