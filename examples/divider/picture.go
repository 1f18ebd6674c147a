package main

import (
	"fmt"
	"image/color"
	"io"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"

	"example.org/noonfall/examples/internal/axis"
)

// A stroke is how a load is drawn. Dashes tell the loads apart on a grey printer,
// the colours are far apart for colour-blind readers too (M. Okabe & K. Ito, Color
// Universal Design, 2008; from memory).
type stroke struct {
	ink    color.RGBA
	width  vg.Length
	dashes []vg.Length
}

var (
	bestStroke = stroke{color.RGBA{R: 0x00, G: 0x50, B: 0x90, A: 0xff}, 2.4, nil}
	strokes    = []stroke{ // of the common loads and one's own
		{color.RGBA{R: 0xd5, G: 0x5e, B: 0x00, A: 0xff}, 1.4, []vg.Length{7, 3}},
		{color.RGBA{R: 0x00, G: 0x80, B: 0x60, A: 0xff}, 1.4, []vg.Length{2, 2.5}},
		{color.RGBA{A: 0xff}, 1.2, []vg.Length{9, 3, 2, 3}},
	}
	railInk = color.RGBA{R: 0x55, G: 0x55, B: 0x55, A: 0xff}
	deadInk = color.RGBA{R: 0xdd, G: 0xdd, B: 0xdd, A: 0xff}
)

const (
	pictureWidth, pictureHeight = 9 * vg.Inch, 5.2 * vg.Inch
)

// A drawing makes one of the pictures.
type drawing func() (*plot.Plot, error)

func (d drawing) writeSVG(w io.Writer) error {
	p, err := d()
	if err != nil {
		return err
	}
	c := vgsvg.New(pictureWidth, pictureHeight)
	p.Draw(framed(draw.New(c)))
	_, err = c.WriteTo(w)
	return err
}

func (d drawing) writePNG(w io.Writer) error {
	p, err := d()
	if err != nil {
		return err
	}
	c := vgimg.PngCanvas{Canvas: vgimg.NewWith(vgimg.UseWH(pictureWidth, pictureHeight), vgimg.UseDPI(120))}
	p.Draw(framed(draw.New(c)))
	_, err = c.WriteTo(w)
	return err
}

// framed leaves room at the sides for numbers in whatever font a viewer has.
func framed(c draw.Canvas) draw.Canvas {
	return draw.Crop(c, vg.Points(8), -vg.Points(28), vg.Points(4), -vg.Points(4))
}

// onLight is an empty plot over the light. What the ordinate is stands in the title:
// a long label beside the axis pushes the plot aside.
func (s *story) onLight(title string) *plot.Plot {
	p := plot.New()
	p.Title.Text = title
	p.Title.Padding = vg.Points(8)
	p.X.Label.Text = "illuminance, lx"
	p.X.Scale, p.X.Tick.Marker = plot.LogScale{}, axis.Decades{}
	p.X.Min, p.X.Max = s.axis()
	p.Legend.Left, p.Legend.Top = true, true
	p.Legend.XOffs, p.Legend.ThumbnailWidth, p.Legend.Padding = vg.Points(10), vg.Points(36), vg.Points(2)
	return p
}

// axis is eight decades, from starlight to more than the Sun, or what was asked for.
func (s *story) axis() (low, high float64) {
	return math.Min(0.01, math.Pow(10, math.Floor(math.Log10(s.low)))), 1e6
}

// falling says that counts fall with light.
func (s *story) falling() bool { return s.cell == "bottom" }

// lights marks the levels that people know from bottom to top; their names stand above.
func lights(p *plot.Plot, bottom, top float64) {
	place := map[string]struct { // two of them are close together
		align text.XAlignment
		shift vg.Length
	}{"twilight": {text.XRight, -14}, "totality": {text.XLeft, -2}, "overcast": {text.XCenter, 0}, "full Sun": {text.XCenter, 0}}
	for _, l := range marked() {
		at := place[l.short]
		p.Add(straight(l.lux, bottom, l.lux, top, []vg.Length{1.5, 2.5}),
			words(l.lux, top, fmt.Sprintf("%s %s lx", l.short, figure(l.lux, 3)), at.align, at.shift, 3))
	}
}

// lineOf draws a function of the light where it has a value above 0, and names it.
func (s *story) lineOf(p *plot.Plot, name string, st stroke, f func(lux float64) float64) error {
	const steps = 400
	var points plotter.XYs
	low, high := s.axis()
	for i := range steps + 1 {
		lux := low * math.Pow(high/low, float64(i)/steps)
		if v := f(lux); v > 0 {
			points = append(points, plotter.XY{X: lux, Y: v})
		}
	}
	if len(points) == 0 {
		return nil
	}
	l, err := plotter.NewLine(points)
	if err != nil {
		return err
	}
	l.Color, l.Width, l.Dashes = st.ink, st.width, st.dashes
	p.Add(l)
	p.Legend.Add(name, l)
	return nil
}

func straight(x0, y0, x1, y1 float64, dashes []vg.Length) *plotter.Line {
	return &plotter.Line{XYs: plotter.XYs{{X: x0, Y: y0}, {X: x1, Y: y1}},
		LineStyle: draw.LineStyle{Color: railInk, Width: vg.Points(0.8), Dashes: dashes}}
}

func words(x, y float64, what string, align text.XAlignment, right, up vg.Length) *plotter.Labels {
	style := text.Style{Color: color.Black, Font: plot.DefaultFont, XAlign: align, Handler: plot.DefaultTextHandler}
	style.Font.Size = vg.Points(10)
	return &plotter.Labels{XYs: plotter.XYs{{X: x, Y: y}}, Labels: []string{what}, TextStyle: []text.Style{style},
		Offset: vg.Point{X: right, Y: up}}
}
