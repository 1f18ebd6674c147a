package main

import (
	"io"
	"math"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/shadow"
	"example.org/noonfall/examples/internal/coast"
	"example.org/noonfall/examples/internal/look"
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
	out := look.NewChart("latitude (degrees north)", "longitude (degrees east; west is negative)", 0)
	out.X.Tick.Marker, out.Y.Tick.Marker = look.Degrees{}, look.Degrees{}
	for _, line := range coast.Lines() {
		f.add(out, line, look.Thin(look.Grey))
	}
	path, err := p.addPath(out, &f)
	if err != nil {
		return err
	}
	p.addStations(out, &f)
	out.X.Min, out.X.Max, out.Y.Min, out.Y.Max = f.west, f.east, f.south, f.north
	out.Shape(min(1.35, (f.north-f.south)/((f.east-f.west)*math.Cos((f.south+f.north)/2*math.Pi/180))))
	out.Add(p.names(&f, path))
	caption := "Where the stations stood, and where the axis of the shadow was at full minutes, UTC."
	if prefix := p.prefix(); prefix != "" {
		caption += " Of the stations' names " + prefix + " is left out."
	}
	return p.sheet("Stations and the shadow's path", caption+" Coastlines: Natural Earth.", out).WriteSVG(w)
}

// add draws what of a line lies within the frame, in pieces, and gives the last of them.
func (f *frame) add(out *look.Chart, line plotter.XYs, style look.Stroke) (last *plotter.Line) {
	var piece plotter.XYs
	end := func() {
		if len(piece) > 1 {
			last = out.Line(piece, style)
		}
		piece = nil
	}
	for _, at := range line {
		x := f.lon(at.X)
		broken := len(piece) > 0 && math.Abs(x-piece[len(piece)-1].X) > 180
		if !f.holds(x, at.Y) || broken {
			end()
			continue
		}
		piece = append(piece, plotter.XY{X: x, Y: at.Y})
	}
	end()
	return last
}

// addPath draws the central line, the limits, and the place of the axis every few minutes; it
// gives what names are to keep clear of.
func (p *pooling) addPath(out *look.Chart, f *frame) ([]named, error) {
	s, err := shadow.New(p.Elements, eclipse.Options{})
	if err != nil {
		return nil, err
	}
	path, err := s.Path(shadow.PathOptions{Km: 25})
	if err != nil {
		return nil, err
	}
	for _, of := range look.PathLines() {
		var line plotter.XYs
		for k := range path {
			if at := of.Place(&path[k]); at.Exists {
				line = append(line, plotter.XY{X: at.Site.Lon, Y: at.Site.Lat})
			}
		}
		if drawn := f.add(out, line, of.Stroke); drawn != nil && of.Name != "" {
			out.Key(of.Name, drawn)
		}
	}
	clear, err := addMinutes(out, f, s)
	for i := range path {
		if at := path[i].Center; at.Exists && f.holds(f.lon(at.Site.Lon), at.Site.Lat) {
			clear = append(clear, named{XY: plotter.XY{X: f.lon(at.Site.Lon), Y: at.Site.Lat}})
		}
	}
	return clear, err
}

// addMinutes marks the place of the axis at full minutes, eight at most.
func addMinutes(out *look.Chart, f *frame, s *shadow.Shadow) (some []named, err error) {
	path, err := s.Path(shadow.PathOptions{Every: 60e9})
	if err != nil {
		return nil, err
	}
	var inside []named
	for _, k := range path {
		if x := f.lon(k.Center.Site.Lon); k.Center.Exists && !k.Ends && f.holds(x, k.Center.Site.Lat) {
			inside = append(inside, named{plotter.XY{X: x, Y: k.Center.Site.Lat}, k.UTC.Format("15:04")})
		}
	}
	const most = 8
	var dots plotter.XYs
	for i := 0; i < len(inside); i += 1 + len(inside)/most {
		some, dots = append(some, inside[i]), append(dots, inside[i].XY)
	}
	if len(dots) > 0 {
		out.Key("the axis at full minutes", out.Dots(dots, look.Orange, look.Square, 2.5))
	}
	return some, nil
}

// addStations draws them.
func (p *pooling) addStations(out *look.Chart, f *frame) {
	for _, kind := range []struct {
		told  bool
		name  string
		shape draw.GlyphDrawer
	}{{true, "station whose clock the light told", look.Disc}, {false, "one where it was refused", look.Ring}} {
		var at plotter.XYs
		for _, m := range p.Stations {
			if (m.Summary.Clock != nil) == kind.told {
				at = append(at, plotter.XY{X: f.lon(m.Summary.Site.Lon), Y: m.Summary.Site.Lat})
			}
		}
		if len(at) > 0 {
			out.Key(kind.name, out.Dots(at, look.Blue, kind.shape, 3))
		}
	}
}
