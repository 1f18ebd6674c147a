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
	"example.org/noonfall/eclipse/shadow"
	"example.org/noonfall/examples/internal/coast"
)

var (
	coastInk = color.RGBA{R: 0x9a, G: 0x9a, B: 0x9a, A: 0xff}
	lineInk  = color.RGBA{R: 0xd9, G: 0x7a, B: 0x06, A: 0xff}
	toldInk  = color.RGBA{R: 0x1b, G: 0x3a, B: 0x5c, A: 0xff}
)

const (
	wide     = 9 * vg.Inch // of the pictures
	nameSize = 8           // points
)

// A frame is the part of the world that is drawn, degrees; west to east may pass 180.
type frame struct{ west, east, south, north float64 }

// lon is a longitude within a turn of the frame's middle.
func (f *frame) lon(lon float64) float64 {
	middle := (f.west + f.east) / 2
	return middle + math.Remainder(lon-middle, 360)
}

func (f *frame) holds(x, y float64) bool {
	return x >= f.west && x <= f.east && y >= f.south && y <= f.north
}

// around holds all stations, with room beside them, as wide as the map.
func (p *pooling) around() frame {
	first := p.Stations[0].Summary.Site
	f := frame{first.Lon, first.Lon, first.Lat, first.Lat}
	for _, m := range p.Stations {
		lon := first.Lon + math.Remainder(m.Summary.Site.Lon-first.Lon, 360)
		f.west, f.east = math.Min(f.west, lon), math.Max(f.east, lon)
		f.south, f.north = math.Min(f.south, m.Summary.Site.Lat), math.Max(f.north, m.Summary.Site.Lat)
	}
	const room, least, shape = 1.5, 6.0, 1.6 // degrees; width over height
	f.south, f.north = math.Max(-90, f.south-room), math.Min(90, f.north+room)
	if d := (least - (f.north - f.south)) / 2; d > 0 {
		f.south, f.north = f.south-d, f.north+d
	}
	squeeze := math.Max(0.1, math.Cos((f.south+f.north)/2*math.Pi/180))
	f.west, f.east = f.west-room/squeeze, f.east+room/squeeze
	switch wide, high := (f.east-f.west)*squeeze, f.north-f.south; {
	case wide < shape*high:
		d := (shape*high - wide) / squeeze / 2
		f.west, f.east = f.west-d, f.east+d
	case wide > 3*high: // a path across a continent need not be a ribbon
		d := (wide/3 - high) / 2
		f.south, f.north = math.Max(-90, f.south-d), math.Min(90, f.north+d)
	}
	if f.east-f.west > 360 {
		middle := (f.west + f.east) / 2
		f.west, f.east = middle-180, middle+180
	}
	return f
}

// writeMap draws the stations, the path, and where the shadow's axis stands on the minutes.
func (p *pooling) writeMap(w io.Writer) error {
	f := p.around()
	out := plot.New()
	out.Title.Text = "Stations of the solar eclipse of " + p.Eclipse + ". Full dots: clock told; rings: refused.\nOrange: central line with the shadow's place in UTC, limits dashed"
	out.Title.Padding = vg.Points(6)
	out.X.Tick.Marker, out.Y.Tick.Marker = meridians(f.east-f.west), meridians(f.north-f.south)
	out.X.Label.Text, out.Y.Label.Text = "degrees east (west is negative). Coastlines: Natural Earth", "degrees north"
	for _, line := range coast.Lines() {
		if err := f.add(out, line, draw.LineStyle{Color: coastInk, Width: vg.Points(0.6)}); err != nil {
			return err
		}
	}
	if err := p.addPath(out, &f); err != nil {
		return err
	}
	if err := p.addStations(out, &f); err != nil {
		return err
	}
	out.X.Min, out.X.Max, out.Y.Min, out.Y.Max = f.west, f.east, f.south, f.north
	high := wide * vg.Length((f.north-f.south)/((f.east-f.west)*math.Cos((f.south+f.north)/2*math.Pi/180)))
	c := vgsvg.New(wide, max(2.5*vg.Inch, min(9*vg.Inch, high))+66)
	out.Draw(draw.Crop(draw.New(c), vg.Points(8), -vg.Points(12), vg.Points(4), -vg.Points(4)))
	_, err := c.WriteTo(w)
	return err
}

// add draws what of a line lies within the frame, in pieces.
func (f *frame) add(out *plot.Plot, line plotter.XYs, style draw.LineStyle) error {
	var piece plotter.XYs
	end := func() error {
		if len(piece) > 1 {
			l, err := plotter.NewLine(piece)
			if err != nil {
				return err
			}
			l.LineStyle = style
			out.Add(l)
		}
		piece = nil
		return nil
	}
	for _, at := range line {
		x := f.lon(at.X)
		broken := len(piece) > 0 && math.Abs(x-piece[len(piece)-1].X) > 180
		if !f.holds(x, at.Y) || broken {
			if err := end(); err != nil {
				return err
			}
			continue
		}
		piece = append(piece, plotter.XY{X: x, Y: at.Y})
	}
	return end()
}

// addPath draws the central line, the limits, and the place of the axis every few minutes.
func (p *pooling) addPath(out *plot.Plot, f *frame) error {
	s, err := shadow.New(p.Elements, eclipse.Options{})
	if err != nil {
		return err
	}
	path, err := s.Path(shadow.PathOptions{Km: 25})
	if err != nil {
		return err
	}
	for i, of := range []func(*shadow.Section) shadow.Place{
		func(s *shadow.Section) shadow.Place { return s.Center },
		func(s *shadow.Section) shadow.Place { return s.North },
		func(s *shadow.Section) shadow.Place { return s.South },
	} {
		style := draw.LineStyle{Color: lineInk, Width: vg.Points(1.2)}
		if i > 0 {
			style.Dashes = []vg.Length{vg.Points(4), vg.Points(3)}
		}
		var line plotter.XYs
		for k := range path {
			if at := of(&path[k]); at.Exists {
				line = append(line, plotter.XY{X: at.Site.Lon, Y: at.Site.Lat})
			}
		}
		if err := f.add(out, line, style); err != nil {
			return err
		}
	}
	return p.addMinutes(out, f, s)
}

// addMinutes names the place of the axis at full minutes, a dozen at most.
func (p *pooling) addMinutes(out *plot.Plot, f *frame, s *shadow.Shadow) error {
	var inside plotter.XYLabels
	path, err := s.Path(shadow.PathOptions{Every: 60e9})
	if err != nil {
		return err
	}
	for _, k := range path {
		if x := f.lon(k.Center.Site.Lon); k.Center.Exists && !k.Ends && f.holds(x, k.Center.Site.Lat) {
			inside.XYs = append(inside.XYs, plotter.XY{X: x, Y: k.Center.Site.Lat})
			inside.Labels = append(inside.Labels, " "+k.UTC.Format("15:04"))
		}
	}
	const most = 12
	var some plotter.XYLabels
	for i := 0; i < len(inside.XYs); i += 1 + len(inside.XYs)/most {
		some.XYs, some.Labels = append(some.XYs, inside.XYs[i]), append(some.Labels, inside.Labels[i])
	}
	if len(some.XYs) == 0 {
		return nil
	}
	dots, err := plotter.NewScatter(some)
	if err != nil {
		return err
	}
	dots.GlyphStyle = draw.GlyphStyle{Color: lineInk, Radius: vg.Points(2), Shape: draw.BoxGlyph{}}
	names, err := plotter.NewLabels(some)
	if err != nil {
		return err
	}
	for i := range names.TextStyle {
		names.TextStyle[i].Color, names.TextStyle[i].Font.Size = lineInk, 8
		names.Offset = vg.Point{X: 2, Y: -10}
	}
	out.Add(dots, names)
	return nil
}

// addStations draws them, with names while there are few.
func (p *pooling) addStations(out *plot.Plot, f *frame) error {
	const named = 30
	for _, told := range []bool{true, false} {
		var at plotter.XYs
		for _, m := range p.Stations {
			if (m.Summary.Clock != nil) == told {
				at = append(at, plotter.XY{X: f.lon(m.Summary.Site.Lon), Y: m.Summary.Site.Lat})
			}
		}
		if len(at) == 0 {
			continue
		}
		dots, err := plotter.NewScatter(at)
		if err != nil {
			return err
		}
		dots.GlyphStyle = draw.GlyphStyle{Color: toldInk, Radius: vg.Points(3), Shape: draw.CircleGlyph{}}
		if !told {
			dots.GlyphStyle.Shape = draw.RingGlyph{}
		}
		out.Add(dots)
	}
	if len(p.Stations) > named {
		return nil
	}
	names, err := plotter.NewLabels(p.names(f))
	if err != nil {
		return err
	}
	for i := range names.TextStyle {
		names.TextStyle[i].Color, names.TextStyle[i].Font.Size = toldInk, nameSize
	}
	out.Add(names)
	return nil
}
