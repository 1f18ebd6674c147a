package look

import (
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// The sizes of letters, points.
const small, letters, large = 10, 11, 13

// wider is how much wider than reckoned words may be drawn, in another font.
const wider = 1.17

// words is the style of letters of a size.
func words(size vg.Length) text.Style {
	return text.Style{Color: Black, Font: font.Font{Typeface: plot.DefaultFont.Typeface, Variant: "Sans", Size: size}, Handler: plot.DefaultTextHandler}
}

// Words is how small words are written from their left upper corner.
func Words() text.Style {
	style := words(small)
	style.XAlign, style.YAlign = draw.XLeft, draw.YTop
	return style
}

// Sides of its place on which a label stands.
const (
	Before = draw.XRight
	Above  = draw.XCenter
	After  = draw.XLeft
)

// A Label is a word at a place of a chart, in black. Side says where its place lies; Right and Up
// move it, points. Boxed gives it paper of its own, for a word in the middle of a line; Leader draws a
// line from its place to a word that stands far from it.
type Label struct {
	X, Y      float64
	Text      string
	Side      text.XAlignment
	Right, Up vg.Length
	Boxed     bool
	Leader    bool
}

// Labels are words in a chart; those whose place is outside of it are not drawn.
type Labels []Label

// Plot implements [plot.Plotter].
func (l Labels) Plot(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	for _, w := range l {
		at := vg.Point{X: x(w.X), Y: y(w.Y)}
		if !c.Contains(at) {
			continue
		}
		from := at
		at = vg.Point{X: at.X + w.Right, Y: at.Y + w.Up}
		style := words(small)
		style.XAlign, style.YAlign = w.Side, draw.YCenter
		if w.Leader {
			c.StrokeLine2(Thin(Black), from.X, from.Y, leadTo(style, at, from, w.Text), at.Y-vg.Length(math.Copysign(small/2, float64(w.Up))))
		}
		if w.Boxed {
			fill(c, style, at, w.Text)
		}
		c.FillText(style, at, w.Text)
	}
}

// leadTo is the abscissa of a word that is nearest to a place.
func leadTo(style text.Style, at, from vg.Point, word string) vg.Length {
	wide := style.Width(word)
	start := at.X + wide*vg.Length(style.XAlign)
	return max(start, min(start+wide, from.X))
}

// fill puts paper behind a word, which may end further right than reckoned.
func fill(c draw.Canvas, style text.Style, at vg.Point, word string) {
	wide, high := style.Width(word), style.Height(word)
	x0 := at.X + wide*vg.Length(style.XAlign) - 1
	x1 := x0 + wide*wider + 2
	paper := color.Color(Paper)
	c.FillPolygon(paper, []vg.Point{{X: x0, Y: at.Y - high/2}, {X: x1, Y: at.Y - high/2}, {X: x1, Y: at.Y + high/2}, {X: x0, Y: at.Y + high/2}})
}

// wrapped breaks a text between words into lines that fit, in a wider font too. Its own line
// ends stay.
func wrapped(style text.Style, s string, wide vg.Length) (lines []string) {
	for _, part := range strings.Split(s, "\n") {
		line := ""
		for _, word := range strings.Fields(part) {
			longer := strings.TrimPrefix(line+" "+word, " ")
			if line != "" && style.Width(longer)*wider > wide {
				lines = append(lines, line)
				longer = word
			}
			line = longer
		}
		lines = append(lines, line)
	}
	return lines
}
