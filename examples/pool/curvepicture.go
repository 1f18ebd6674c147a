package main

import (
	"io"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/examples/internal/look"
)

// writeCurve draws the pooled light against the covered part of the Sun.
func (p *pooling) writeCurve(w io.Writer) error {
	out := look.NewChart("part of a clear sky's light (per cent)", "covered part of the Sun's area (per cent)", 260)
	out.X.Tick.Marker, out.Y.Scale, out.Y.Tick.Marker = look.Every(10), plot.LogScale{}, look.Decades{}
	var band, dots plotter.XYs
	low := math.Inf(1)
	for _, c := range p.Curve {
		dots = append(dots, plotter.XY{X: 100 * c.Obscuration, Y: 100 * c.Median})
		band = append(band, plotter.XY{X: 100 * c.Obscuration, Y: 100 * c.High})
		low = math.Min(low, 100*c.Low)
	}
	for i := len(p.Curve) - 1; i >= 0; i-- {
		band = append(band, plotter.XY{X: 100 * p.Curve[i].Obscuration, Y: 100 * p.Curve[i].Low})
	}
	out.Key("two thirds of the stations", out.Area(band, look.Shade))
	if line := p.predicted(); len(line) > 1 {
		out.Key("predicted, 550 nm", out.Line(line, look.Plain(look.Blue)))
	}
	out.Key("median of the stations", out.Dots(dots, look.Orange, look.Disc, 2.5))
	out.X.Min, out.X.Max = 0, 101
	out.Y.Min, out.Y.Max = math.Pow(10, math.Floor(math.Log10(low))), 130
	return p.sheet("Light of all stations together", "How the light falls as the Sun is covered.", out).WriteSVG(w)
}

// sheet is a picture of the campaign, with its origin and its sources.
func (p *pooling) sheet(title, caption string, chart *look.Chart) *look.Sheet {
	origin := "Data: the stations' own logs."
	if p.Invented {
		origin = look.Invented
	}
	return &look.Sheet{
		Title: title + ", eclipse of " + p.Eclipse, Charts: []*look.Chart{chart},
		Caption: caption + " " + origin + " Eclipse: " + p.Elements.Source + ".",
	}
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
