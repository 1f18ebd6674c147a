package main

import (
	"image/color"
	"io"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/examples/internal/axis"
)

// Colours that the colour-blind and a grey printer tell apart: a light band, a dark line,
// points between.
var (
	bandInk      = color.RGBA{R: 0xf3, G: 0xd9, B: 0xb1, A: 0xff}
	medianInk    = color.RGBA{R: 0xd9, G: 0x7a, B: 0x06, A: 0xff}
	predictedInk = color.RGBA{R: 0x1b, G: 0x3a, B: 0x5c, A: 0xff}
)

// writeCurve draws the pooled light against the covered part of the Sun.
func (p *pooling) writeCurve(w io.Writer) error {
	out := plot.New()
	out.Title.Text = "Light of all stations together, eclipse of " + p.Eclipse + "\npart of a clear sky's light, per cent (band: two thirds of the stations)"
	out.Title.Padding = vg.Points(8)
	out.X.Tick.Marker = every(10)
	out.X.Label.Text = "covered part of the Sun's area, per cent"
	out.Y.Scale, out.Y.Tick.Marker = plot.LogScale{}, axis.Decades{}
	out.Legend.Left = true
	var band plotter.XYs
	var dots plotter.XYs
	low := math.Inf(1)
	for _, c := range p.Curve {
		dots = append(dots, plotter.XY{X: 100 * c.Obscuration, Y: 100 * c.Median})
		band = append(band, plotter.XY{X: 100 * c.Obscuration, Y: 100 * c.High})
		low = math.Min(low, 100*c.Low)
	}
	for i := len(p.Curve) - 1; i >= 0; i-- {
		band = append(band, plotter.XY{X: 100 * p.Curve[i].Obscuration, Y: 100 * p.Curve[i].Low})
	}
	area, err := plotter.NewPolygon(band)
	if err != nil {
		return err
	}
	area.Color, area.LineStyle.Width = bandInk, 0
	out.Add(area)
	if line := p.predicted(); len(line) > 1 {
		l, err := plotter.NewLine(line)
		if err != nil {
			return err
		}
		l.Color, l.Width = predictedInk, vg.Points(1.2)
		out.Add(l)
		out.Legend.Add("predicted, 550 nm", l)
	}
	points, err := plotter.NewScatter(dots)
	if err != nil {
		return err
	}
	points.GlyphStyle = draw.GlyphStyle{Color: medianInk, Radius: vg.Points(2.5), Shape: draw.CircleGlyph{}}
	out.Add(points)
	out.Legend.Add("median of the stations", points)
	out.X.Min, out.X.Max = 0, 101
	out.Y.Min, out.Y.Max = math.Pow(10, math.Floor(math.Log10(low))), 130
	c := vgsvg.New(wide, 5*vg.Inch)
	out.Draw(draw.Crop(draw.New(c), vg.Points(8), -vg.Points(12), vg.Points(4), -vg.Points(4)))
	_, err = c.WriteTo(w)
	return err
}

// predicted is the light against obscuration at the station that sees most.
func (p *pooling) predicted() (line plotter.XYs) {
	most := -1
	for i := range p.Stations {
		s := p.Stations[i].Summary
		if s.Clock != nil && (most < 0 || s.Magnitude > p.Stations[most].Summary.Magnitude) {
			most = i
		}
	}
	if most < 0 {
		return nil
	}
	o, err := eclipse.NewObserver(p.Elements, p.Stations[most].Summary.Site.Sun(), eclipse.Options{})
	if err != nil {
		return nil
	}
	curve, err := eclipse.NewCurve(o, eclipse.CurveOptions{})
	if err != nil {
		return nil
	}
	c := curve.Circumstances()
	for t := c.C1.TT; t < c.Max.TT; t += 5 {
		if o, f := curve.Observer().Aspect(t).Obscuration, curve.Flux(t); f > 1e-4 {
			line = append(line, plotter.XY{X: 100 * o, Y: 100 * f})
		}
	}
	return line
}
