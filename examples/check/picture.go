package main

import (
	"fmt"
	"io"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"

	"example.org/noonfall/examples/internal/look"
)

// drawn bounds the claims in the picture.
const drawn = 2000

// beyond is where differences of more tolerances than that are drawn: at the edge.
const beyond = 10.0

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
	c := look.NewChart("quantity (name in the claims)", "claimed minus computed (in units of each claim's tolerance)", 0)
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
	low, high := -0.7, math.Max(0.7, row-0.3)
	c.Key("the tolerance", c.Across(-1, low, -1, high, look.Marking()))
	c.Across(1, low, 1, high, look.Marking())
	if len(agree) > 0 {
		c.Key("within it", c.Dots(agree, look.Blue, look.Disc, 2.2))
	}
	if len(differ) > 0 {
		c.Key("beyond it", c.Dots(differ, look.Orange, look.Triangle, 4))
	}
	c.X.Min, c.X.Max, c.X.Tick.Marker = -1.05*beyond, 1.05*beyond, look.Every(2)
	c.Y.Min, c.Y.Max, c.Y.Tick.Marker = low, high, names
	c.Height = vg.Length(60 + 24*row)
	return (&look.Sheet{
		Title:   "Claims against computation",
		Caption: fmt.Sprintf("Each mark is a number of %s; at the edges stands what is %g times the tolerance off or more. Computed from the elements that the claims name, or from the catalogue's: JPL DE431.", clip(t.name, 120), beyond),
		Charts:  []*look.Chart{c},
	}).WriteSVG(w)
}
