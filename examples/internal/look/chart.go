package look

import (
	"image/color"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// A Chart is a plot of the look, with the name of its ordinate and a key of its marks
// above it. The first point that is no number is an error of the sheet that it stands on.
type Chart struct {
	*plot.Plot
	Height  vg.Length // of the data and the axis below it
	y       string
	keys    []key
	moments []moment
	paint   func(draw.Canvas)
	err     error
}

type key struct {
	name   string
	thumbs []plot.Thumbnailer
}

// NewChart is an empty chart whose axes are named as given, units among the words; round
// numbers mark them until another marker is set.
func NewChart(y, x string, height vg.Length) *Chart {
	p := plot.New()
	p.BackgroundColor = Paper
	p.X.Label.Text = x
	p.X.Label.TextStyle = words(letters)
	p.X.Label.TextStyle.XAlign, p.X.Label.TextStyle.YAlign = draw.XCenter, draw.YBottom
	p.X.Label.Padding = 3
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		style := words(small)
		style.XAlign, style.YAlign = a.Tick.Label.XAlign, a.Tick.Label.YAlign
		a.Tick.Label, a.Tick.Marker, a.Tick.Length = style, Round{}, 5
		a.Width, a.Tick.Width, a.Padding = thin, thin, 4
	}
	p.Y.Tick.Label.XAlign = -wider // off the strokes in whatever font
	return &Chart{Plot: p, Height: height, y: y}
}

// Painted is a chart without axes, which a function paints.
func Painted(height vg.Length, paint func(draw.Canvas)) *Chart {
	return &Chart{Height: height, paint: paint}
}

// inside leaves room at the left, since the numbers of the ordinate stand off their axis.
func (c *Chart) inside(at draw.Canvas) draw.Canvas {
	var widest vg.Length
	for _, t := range c.Y.Tick.Marker.Ticks(c.Y.Min, c.Y.Max) {
		widest = max(widest, c.Y.Tick.Label.Width(t.Label))
	}
	at.Min.X += (wider - 1) * widest
	return at
}

// data is where the data are drawn.
func (c *Chart) data(at draw.Canvas) draw.Canvas { return c.DataCanvas(c.inside(at)) }

// Shape makes the data so many times as high as wide, once the ranges of the axes are set.
func (c *Chart) Shape(high float64) {
	const tall = 10000
	data := c.data(draw.Canvas{Rectangle: vg.Rectangle{Max: vg.Point{X: Width - left - right, Y: tall}}})
	wide := data.Max.X - data.Min.X
	c.Height = wide*vg.Length(high) + tall - (data.Max.Y - data.Min.Y)
}

// Key says above the data what marks mean; it leaves out marks that are not there.
func (c *Chart) Key(name string, marks ...plot.Thumbnailer) {
	c.keys = append(c.keys, key{name, marks})
}

// Grid draws faint lines at the axes' marks.
func (c *Chart) Grid() {
	g := plotter.NewGrid()
	g.Vertical.Color, g.Horizontal.Color = Faint, Faint
	g.Vertical.Width, g.Horizontal.Width = thin, thin
	c.Add(g)
}

// A Stroke is how a line is drawn.
type Stroke = draw.LineStyle

// Widths of lines, points.
const thin, medium, bold = 0.75, 1.3, 2

// Dashed is for limits and for what might have been.
func Dashed(ink color.RGBA) Stroke {
	return Stroke{Color: ink, Width: medium, Dashes: []vg.Length{6, 3}}
}

// Marking is for marks across the picture, in short thin dashes.
func Marking() Stroke { return Stroke{Color: Black, Width: thin, Dashes: []vg.Length{3, 3}} }

// Chained is a stroke of long and short dashes.
func Chained(ink color.RGBA) Stroke {
	return Stroke{Color: ink, Width: medium, Dashes: []vg.Length{9, 3, 2, 3}}
}

// Thin is for outlines.
func Thin(ink color.RGBA) Stroke { return Stroke{Color: ink, Width: thin} }

// Plain is for data.
func Plain(ink color.RGBA) Stroke { return Stroke{Color: ink, Width: medium} }

// Bold is for the line that matters.
func Bold(ink color.RGBA) Stroke { return Stroke{Color: ink, Width: bold} }

// Line adds a line.
func (c *Chart) Line(points plotter.XYs, style Stroke) *plotter.Line {
	l, err := plotter.NewLine(points)
	if err != nil {
		c.fail(err)
		return &plotter.Line{LineStyle: style}
	}
	l.LineStyle = style
	c.Add(l)
	return l
}

// Across adds a straight line.
func (c *Chart) Across(x0, y0, x1, y1 float64, style Stroke) *plotter.Line {
	return c.Line(plotter.XYs{{X: x0, Y: y0}, {X: x1, Y: y1}}, style)
}

// Shapes of dots. The shapes tell apart what colours tell apart.
var (
	Disc     = draw.CircleGlyph{}
	Ring     = draw.RingGlyph{}
	Triangle = draw.PyramidGlyph{}
	Square   = draw.BoxGlyph{}
	Cross    = draw.CrossGlyph{}
)

// Dots adds a dot at each point, of a shape and a radius.
func (c *Chart) Dots(points plotter.XYs, ink color.RGBA, shape draw.GlyphDrawer, radius vg.Length) *plotter.Scatter {
	style := draw.GlyphStyle{Color: ink, Shape: shape, Radius: radius}
	s, err := plotter.NewScatter(points)
	if err != nil {
		c.fail(err)
		return &plotter.Scatter{GlyphStyle: style}
	}
	s.GlyphStyle = style
	c.Add(s)
	return s
}

// Area fills an outline.
func (c *Chart) Area(outline plotter.XYs, ink color.RGBA) *plotter.Polygon {
	a, err := plotter.NewPolygon(outline)
	if err != nil {
		c.fail(err)
		return &plotter.Polygon{Color: ink}
	}
	a.Color, a.LineStyle.Width = ink, 0
	c.Add(a)
	return a
}

// Band fills from one corner to the opposite one.
func (c *Chart) Band(x0, y0, x1, y1 float64, ink color.RGBA) *plotter.Polygon {
	return c.Area(plotter.XYs{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}, ink)
}

func (c *Chart) fail(err error) {
	if c.err == nil {
		c.err = err
	}
}
