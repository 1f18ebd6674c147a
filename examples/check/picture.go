package main

import (
	"fmt"
	"image/color"
	"io"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// drawn bounds the claims in the picture.
const drawn = 2000

// beyond is where differences of more tolerances than that are drawn: at the edge.
const beyond = 10.0

// letters is how much wider than reckoned the names at the left may be drawn: a viewer that
// lacks the font of the plot takes another, wider by a quarter (seen, not published).
const letters = 1.3

// A dot is one claim of the picture: its quantity's place, and its difference in tolerances.
type dot struct {
	order int
	x     float64
}

func (t *tally) dot(f *finding) {
	if f.computed.kind == nothing || !(f.claim.tolerance > 0) {
		return
	}
	x := math.Max(-beyond, math.Min(beyond, f.diff/f.claim.tolerance))
	t.dots.add(dot{f.claim.quantity.order, x})
}

// writePicture draws the differences, a row for each quantity.
func (t *tally) writePicture(w io.Writer) error {
	p := plot.New()
	p.Title.Text = fmt.Sprintf("%s: claimed minus computed\ndashed: the tolerance; at the edges: %g times as much or more", clip(t.name, 40), beyond)
	p.Title.Padding = vg.Points(8)
	p.X.Label.Text = "difference, in units of each claim's tolerance"
	p.X.Min, p.X.Max = -1.05*beyond, 1.05*beyond
	var names plot.ConstantTicks
	var agree, differ plotter.XYs
	row := 0.0
	for i := len(t.quantities) - 1; i >= 0; i-- { // the first at the top
		s := t.quantities[i]
		if s.n == 0 {
			continue
		}
		n := 0
		for _, d := range t.dots.kept {
			if d.order != i {
				continue
			}
			at := plotter.XY{X: d.x, Y: row + 0.25*math.Sin(float64(n)*2.4)} // apart, so that none hides another
			if n++; math.Abs(d.x) <= 1 {
				agree = append(agree, at)
			} else {
				differ = append(differ, at)
			}
		}
		names = append(names, plot.Tick{Value: row, Label: s.q.name})
		row++
	}
	p.Y.Tick.Label.XAlign = -letters
	p.Y.Tick.Marker, p.Y.Min, p.Y.Max = names, -0.7, math.Max(0.7, row-0.3)
	for _, x := range []float64{-1, 1} {
		line, err := plotter.NewLine(plotter.XYs{{X: x, Y: p.Y.Min}, {X: x, Y: p.Y.Max}})
		if err != nil {
			return err
		}
		line.Dashes, line.Color = []vg.Length{vg.Points(4), vg.Points(3)}, color.Gray{Y: 0x77}
		p.Add(line)
	}
	for _, group := range []struct {
		at    plotter.XYs
		ink   color.Color
		shape draw.GlyphDrawer
	}{
		{agree, color.RGBA{R: 0x1b, G: 0x3a, B: 0x5c, A: 0xff}, draw.CircleGlyph{}},
		{differ, color.RGBA{R: 0xd9, G: 0x7a, B: 0x06, A: 0xff}, draw.TriangleGlyph{}},
	} {
		if len(group.at) == 0 {
			continue
		}
		dots, err := plotter.NewScatter(group.at)
		if err != nil {
			return err
		}
		dots.GlyphStyle = draw.GlyphStyle{Color: group.ink, Radius: vg.Points(2.5), Shape: group.shape}
		p.Add(dots)
	}
	c := vgsvg.New(9*vg.Inch, vg.Length(2.2+0.32*row)*vg.Inch)
	p.Draw(draw.Crop(draw.New(c), 0.4*vg.Inch, -0.2*vg.Inch, 0, 0))
	_, err := c.WriteTo(w)
	return err
}
