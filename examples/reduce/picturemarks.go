package main

import (
	"math"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"example.org/noonfall/eclipse/station"
)

// addContacts marks the predicted contacts.
func addContacts(p *plot.Plot, rep *station.Report, low, high float64) error {
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
	return nil
}

// labelShift keeps the names of neighbouring contacts apart.
var labelShift = map[string]vg.Length{"C1": -6, "C2": -22, "max": -8, "C3": 10, "C4": -6}

// addSeen marks the contacts that the light shows: a bar of one standard uncertainty
// either way below their names.
func addSeen(p *plot.Plot, rep *station.Report, high float64) error {
	if rep.Clock == nil {
		return nil
	}
	y := high / 3
	for i, s := range rep.Clock.Contacts {
		x := seconds(s.UTC)
		bar, err := plotter.NewLine(plotter.XYs{{X: x - s.LateU, Y: y}, {X: x + s.LateU, Y: y}})
		if err != nil {
			return err
		}
		bar.Color, bar.Width = measuredInk, vg.Points(2)
		dot, err := plotter.NewScatter(plotter.XYs{{X: x, Y: y}})
		if err != nil {
			return err
		}
		dot.GlyphStyle = draw.GlyphStyle{Color: measuredInk, Radius: vg.Points(3.5), Shape: draw.PyramidGlyph{}}
		p.Add(bar, dot)
		if i == 0 {
			p.Legend.Add("contact that the light shows", dot)
		}
	}
	return nil
}

// addClouds shades the spans under cloud or shade.
func addClouds(p *plot.Plot, rep *station.Report, low, high float64) error {
	if rep.Clock == nil {
		return nil
	}
	for i, s := range rep.Clock.Cloud {
		from, to := seconds(s.From), seconds(s.To)
		band, err := plotter.NewPolygon(plotter.XYs{{X: from, Y: low}, {X: to, Y: low}, {X: to, Y: high}, {X: from, Y: high}})
		if err != nil {
			return err
		}
		band.Color, band.LineStyle.Width = cloudInk, 0
		p.Add(band)
		if i == 0 {
			p.Legend.Add("cloud or shade", band)
		}
	}
	return nil
}

// residualPlot is the lower part: per cent of light more than the fit has. What is
// further off than the axis goes, as under cloud, lies on its edge.
func residualPlot(rep *station.Report, from, to float64) (*plot.Plot, error) {
	var sizes []float64
	for _, q := range rep.Clock.Points {
		sizes = append(sizes, math.Abs(perCent(q.Residual)))
	}
	slices.Sort(sizes)
	const most, least = 100, 2 // per cent
	end := math.Max(least, math.Min(most, 1.3*sizes[len(sizes)*95/100]))
	var points plotter.XYs
	for _, q := range rep.Clock.Points {
		points = append(points, plotter.XY{X: seconds(q.UTC), Y: math.Max(-end, math.Min(end, perCent(q.Residual)))})
	}
	p := plot.New()
	p.Title.Text = "reading less fit, per cent; what is further off lies on the edge"
	p.X.Label.Text = "UTC"
	p.X.Tick.Marker = plot.TimeTicks{Format: "15:04", Ticker: halfHours{}}
	p.X.Min, p.X.Max = from, to
	if err := addClouds(p, rep, -end, end); err != nil {
		return nil, err
	}
	p.Legend = plot.NewLegend()
	zero, err := plotter.NewLine(plotter.XYs{{X: from}, {X: to}})
	if err != nil {
		return nil, err
	}
	zero.Color = predictedInk
	dots, err := plotter.NewScatter(points)
	if err != nil {
		return nil, err
	}
	dots.GlyphStyle = draw.GlyphStyle{Color: measuredInk, Radius: vg.Points(1.2), Shape: draw.CircleGlyph{}}
	p.Add(zero, dots)
	p.Y.Min, p.Y.Max = -end, end
	return p, nil
}

func perCent(log float64) float64 { return 100 * math.Expm1(log) }
