package main

import (
	"errors"
	"fmt"
	"image/color"
	"io"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"

	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/axis"
)

// Colours that the colour-blind and a grey printer tell apart, by their lightness too.
var (
	lampInk    = color.RGBA{R: 0xd5, G: 0x5e, B: 0x00, A: 0xff}
	morningInk = color.RGBA{R: 0x00, G: 0x50, B: 0x90, A: 0xff}
	bestInk    = color.RGBA{A: 0xff}
	bandInk    = color.RGBA{R: 0xe2, G: 0xe2, B: 0xe2, A: 0xff}
	shadeInk   = color.RGBA{R: 0x88, G: 0x88, B: 0x88, A: 0xff}
)

const pictureWidth, pictureHeight = 9 * vg.Inch, 5.2 * vg.Inch

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

// canvas is an empty plot. What the ordinate is stands in the title: a long label beside
// the axis pushes the plot aside.
func canvas(title string) *plot.Plot {
	p := plot.New()
	p.Title.Text, p.Title.Padding = title, vg.Points(8)
	p.Y.Scale, p.Y.Tick.Marker = plot.LogScale{}, axis.Decades{}
	// To the right of the middle, where the curves are low; samples stand before their
	// names, so that another font's longer words run into nothing.
	p.Legend.Top, p.Legend.Left, p.Legend.XOffs = true, true, vg.Points(300)
	p.Legend.ThumbnailWidth, p.Legend.Padding = vg.Points(34), vg.Points(3)
	return p
}

// law draws readings against lux, with the law that is recommended and its band.
func (s *story) law() (*plot.Plot, error) {
	p := canvas(fmt.Sprintf("Station %s: reading (%s) over light", s.station.Code, s.unit()))
	p.X.Label.Text = "illuminance, lx"
	p.X.Scale, p.X.Tick.Marker = plot.LogScale{}, axis.Decades{}
	var lamp, used, shaded plotter.XYs
	if l := s.lamp; l != nil {
		scale := s.lampScale()
		for i, lux := range s.lampLights() {
			lamp = append(lamp, plotter.XY{X: scale * lux, Y: l.points[i].Value})
		}
		if s.best == nil {
			p.X.Label.Text = "light, that of the lamp at 1 m = 1"
		}
	}
	if f := s.fit(); f != nil {
		for i, m := range f.Minutes {
			if at := (plotter.XY{X: m.Lux, Y: m.Value}); m.Fate == station.UsedMinute && i%5 == 0 {
				used = append(used, at)
			} else if m.Fate == station.ShadedMinute {
				shaded = append(shaded, at)
			}
		}
	}
	low, high := ends(append(append(plotter.XYs{}, lamp...), used...))
	p.X.Min, p.X.Max = low/2, high*2
	if s.sign() > 0 { // the curve comes from the lower left
		p.Legend.XOffs = vg.Points(10)
	}
	if err := s.lawLine(p); err != nil {
		return nil, err
	}
	return p, errors.Join(
		dots(p, "under the lamp", lamp, draw.GlyphStyle{Color: lampInk, Radius: 4, Shape: draw.TriangleGlyph{}}),
		dots(p, "in the morning, every fifth minute", used, draw.GlyphStyle{Color: morningInk, Radius: 2, Shape: draw.CircleGlyph{}}),
		dots(p, "shade or cloud, left out", shaded, draw.GlyphStyle{Color: shadeInk, Radius: 2.5, Shape: draw.CrossGlyph{}}),
	)
}

// lampScale is what a lamp of unknown candela is multiplied by to lie on the law that
// the morning gave; 1 where there is nothing to do or to do it by.
func (s *story) lampScale() float64 {
	if s.lamp.absolute || s.best == nil {
		return 1
	}
	lights := s.lampLights()
	middle := math.Sqrt(least(lights) * greatest(lights))
	return s.best.LuxAt(s.lamp.ValueAt(middle)) / middle
}

// lawLine adds the best law and its 95 % band.
func (s *story) lawLine(p *plot.Plot) error {
	c := s.best
	if c == nil {
		c = &s.lamp.Calibration
	}
	var line, upper, lower plotter.XYs
	const n = 100
	for i := range n + 1 {
		lux := p.X.Min * math.Pow(p.X.Max/p.X.Min, float64(i)/n)
		v, u := c.ValueAt(lux), 1.96*c.LuxLnU(lux)*math.Abs(c.Slope)
		line = append(line, plotter.XY{X: lux, Y: v})
		upper, lower = append(upper, plotter.XY{X: lux, Y: v * math.Exp(u)}), append(lower, plotter.XY{X: lux, Y: v * math.Exp(-u)})
	}
	for i := range lower {
		upper = append(upper, lower[len(lower)-1-i])
	}
	band, err := plotter.NewPolygon(upper)
	if err != nil {
		return err
	}
	band.Color, band.LineStyle.Width = bandInk, 0
	curve, err := plotter.NewLine(line)
	if err != nil {
		return err
	}
	curve.Color, curve.Width = bestInk, 1.2
	p.Add(band, curve)
	p.Legend.Add("the law, exponent "+s.exponent(*c), curve)
	p.Legend.Add("its 95 % band", band)
	return nil
}

// langley draws the morning's beam against air mass, and the line of the extinction
// through its middle.
func (s *story) langley() (*plot.Plot, error) {
	f := s.fit()
	p := canvas(fmt.Sprintf("Station %s, %s: Langley's line\nlight of the Sun's disc on a surface that faces it, klx, as the fitted law reads it", s.station.Code, f.From.Format("2 January 2006")))
	p.X.Label.Text, p.X.Tick.Marker = "air mass", whole{}
	var used, shaded plotter.XYs
	var x, y float64
	for i, m := range f.Minutes {
		if at := (plotter.XY{X: m.AirMass, Y: m.Beam / 1000}); !(m.Beam > 0) {
			continue
		} else if m.Fate == station.UsedMinute {
			x, y = x+m.AirMass/float64(f.Used), y+math.Log(at.Y)/float64(f.Used)
			if i%3 == 0 {
				used = append(used, at)
			}
		} else if m.Fate == station.ShadedMinute {
			shaded = append(shaded, at)
		}
	}
	line := func(k float64) plotter.XYs {
		var out plotter.XYs
		for _, mass := range []float64{0, math.Ceil(f.AirMass[1])} {
			out = append(out, plotter.XY{X: mass, Y: math.Exp(y - k*(mass-x))})
		}
		return out
	}
	curve, err := plotter.NewLine(line(f.Extinction))
	if err != nil {
		return nil, err
	}
	curve.Color, curve.Width = bestInk, 1.2
	p.Add(curve)
	p.Legend.Add("extinction "+measured(f.Extinction, f.ExtinctionU)+" an air mass", curve)
	for i, k := range []float64{f.Extinction - 1.96*f.ExtinctionU, f.Extinction + 1.96*f.ExtinctionU} {
		edge, err := plotter.NewLine(line(k))
		if err != nil {
			return nil, err
		}
		edge.Color, edge.Dashes = shadeInk, []vg.Length{4, 3}
		p.Add(edge)
		if i == 0 {
			p.Legend.Add("between these with 95 %", edge)
		}
	}
	err = errors.Join(
		dots(p, "used, every third minute", used, draw.GlyphStyle{Color: morningInk, Radius: 2, Shape: draw.CircleGlyph{}}),
		dots(p, "shade or cloud, left out", shaded, draw.GlyphStyle{Color: shadeInk, Radius: 2.5, Shape: draw.CrossGlyph{}}),
	)
	p.X.Min, p.X.Max = 0, math.Ceil(f.AirMass[1])
	return p, err
}
