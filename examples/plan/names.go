package main

import (
	"image/color"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// names are words in the middle of the lines that they belong to, which stop for them.
type names struct {
	plotter.XYLabels
	style draw.TextStyle
}

// wider is how much wider than reckoned words and numbers may be drawn: a viewer that lacks
// the font of the plot takes another, wider by a quarter (seen, not published).
const wider = 1.3

// Plot implements plot.Plotter.
func (n *names) Plot(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	for i, word := range n.Labels {
		at := vg.Point{X: x(n.XYs[i].X), Y: y(n.XYs[i].Y)}
		if !c.Contains(at) {
			continue
		}
		// A word in another font begins where it was reckoned to and ends further right.
		wide, high := n.style.Width(word), n.style.Height(word)
		left, right := at.X-wide/2-1, at.X+wide*(wider-0.5)+1
		c.FillPolygon(color.White, []vg.Point{{X: left, Y: at.Y - high/2}, {X: right, Y: at.Y - high/2}, {X: right, Y: at.Y + high/2}, {X: left, Y: at.Y + high/2}})
		c.FillText(n.style, at, word)
	}
}

// apart keeps the numbers of the axis on the left off its strokes, in whatever font.
func apart(p *plot.Plot) { p.Y.Tick.Label.XAlign = -wider }
