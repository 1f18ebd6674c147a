package main

import (
	"fmt"
	"image/color"
	"io"
	"math"
	"time"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/examples/internal/cli"
)

// Colours that the colour-blind and a grey printer tell apart: light bands, dark
// points, an orange that is darker than the one and lighter than the other.
var (
	readingInk = color.RGBA{R: 0x1b, G: 0x3a, B: 0x5c, A: 0xff}
	foundInk   = color.RGBA{R: 0xd9, G: 0x7a, B: 0x06, A: 0xff}
	dipBand    = color.RGBA{R: 0xf7, G: 0xe3, B: 0xc4, A: 0xff}
	cloudBand  = color.RGBA{R: 0xdc, G: 0xe3, B: 0xea, A: 0xff}
	lostBand   = color.RGBA{R: 0xf0, G: 0xc0, B: 0xb8, A: 0xff}
	markInk    = color.RGBA{R: 0x77, G: 0x77, B: 0x77, A: 0xff}
)

// drawn writes a plot as an SVG, with room at the right for the last label.
func drawn(w io.Writer, p *plot.Plot, height vg.Length) error {
	c := vgsvg.New(9*vg.Inch, height)
	p.Draw(draw.Crop(draw.New(c), vg.Points(8), -vg.Points(24), vg.Points(4), -vg.Points(6)))
	_, err := c.WriteTo(w)
	return err
}

func seconds(t time.Time) float64 { return float64(t.UnixNano()) * 1e-9 }

// band shades from one abscissa to another.
func band(p *plot.Plot, from, to, low, high float64, ink color.Color) error {
	b, err := plotter.NewPolygon(plotter.XYs{{X: from, Y: low}, {X: to, Y: low}, {X: to, Y: high}, {X: from, Y: high}})
	if err != nil {
		return err
	}
	b.Color, b.LineStyle.Width = ink, 0
	p.Add(b)
	return nil
}

// upright is a dashed line with a word above it.
func upright(p *plot.Plot, x, low, high float64, word string, shift vg.Length) {
	p.Add(&plotter.Line{XYs: plotter.XYs{{X: x, Y: low}, {X: x, Y: high}},
		LineStyle: draw.LineStyle{Color: markInk, Width: vg.Points(0.8), Dashes: []vg.Length{vg.Points(3), vg.Points(3)}}})
	lettered(p, x, high, word, text.XCenter, shift, 2)
}

func lettered(p *plot.Plot, x, y float64, what string, align text.XAlignment, right, up vg.Length) {
	style := text.Style{Color: color.Black, Font: plot.DefaultFont, XAlign: align, Handler: plot.DefaultTextHandler}
	style.Font.Size = vg.Points(10)
	p.Add(&plotter.Labels{XYs: plotter.XYs{{X: x, Y: y}}, Labels: []string{what}, TextStyle: []text.Style{style}, Offset: vg.Point{X: right, Y: up}})
}

func dots(points plotter.XYs, ink color.Color, radius vg.Length) (*plotter.Scatter, error) {
	s, err := plotter.NewScatter(points)
	if err == nil {
		s.GlyphStyle = draw.GlyphStyle{Color: ink, Radius: radius, Shape: draw.CircleGlyph{}}
	}
	return s, err
}

// most readings are drawn as they are; of more, every so many.
const most = 3000

// writePicture draws the readings of the bench and shades each passage.
func (b *benchLog) writePicture(w io.Writer) error {
	p := plot.New()
	p.Title.Text = "Passages of a ball before a lamp: readings of " + b.name
	p.Title.Padding = vg.Points(8)
	p.X.Label.Text = "stamp"
	p.X.Tick.Marker = clockTicks(b.readings[0].Time)
	var points plotter.XYs
	low, high := math.Inf(1), math.Inf(-1)
	every := 1 + len(b.readings)/most
	for i, s := range b.readings {
		if !(math.Abs(s.Counts) < 1e100) || i%every != 0 && !b.inside(s.Time) {
			continue
		}
		points = append(points, plotter.XY{X: seconds(s.Time), Y: s.Counts})
		low, high = math.Min(low, s.Counts), math.Max(high, s.Counts)
	}
	room := 0.1 * math.Max(high-low, 1)
	low, high = low-room/2, high+room
	for i, d := range b.found.Dips {
		if err := band(p, seconds(d.Start), seconds(d.End), low, high, dipBand); err != nil {
			return err
		}
		upright(p, seconds(d.Least), low, high, fmt.Sprint(i+1), 0)
	}
	s, err := dots(points, readingInk, vg.Points(1.2))
	if err != nil {
		return err
	}
	p.Add(s)
	for _, d := range b.found.Dips {
		p.Add(&plotter.Line{XYs: plotter.XYs{{X: seconds(d.Start), Y: d.Base}, {X: seconds(d.End), Y: d.Base}},
			LineStyle: draw.LineStyle{Color: foundInk, Width: vg.Points(1.6)}},
			&plotter.Line{XYs: plotter.XYs{{X: seconds(d.Least), Y: d.Base}, {X: seconds(d.Least), Y: d.Bottom}},
				LineStyle: draw.LineStyle{Color: foundInk, Width: vg.Points(1.6)}})
	}
	p.Y.Min, p.Y.Max = low, high+0.4*room
	return drawn(w, p, 4.4*vg.Inch)
}

// inside says that an instant lies in a passage, all of whose readings are drawn.
func (b *benchLog) inside(t time.Time) bool {
	for _, d := range b.found.Dips {
		if !t.Before(d.Start) && !t.After(d.End) {
			return true
		}
	}
	return false
}

// clockTicks mark round times of day, of whichever step gives six marks or so.
func clockTicks(time.Time) plot.TimeTicks {
	return plot.TimeTicks{Format: "15:04", Ticker: roundTimes{}}
}

type roundTimes struct{}

// Ticks marks whole multiples of a round number of seconds.
func (roundTimes) Ticks(low, high float64) []plot.Tick {
	step := 86400.0
	for _, s := range []float64{60, 120, 300, 600, 1800, 3600, 7200, 14400} {
		if (high-low)/s <= 12 {
			step = s
			break
		}
	}
	var out []plot.Tick
	for t := math.Ceil(low/step) * step; t <= high; t += step {
		out = append(out, plot.Tick{Value: t, Label: "x"})
	}
	return out
}

// save writes everything into the folder; none is asked for with an empty name.
func (r *result) save(folder string) error {
	if folder == "" {
		return nil
	}
	type piece struct {
		name  string
		write func(io.Writer) error
	}
	pieces := []piece{{"rehearse.txt", r.writeText}, {"rehearse.json", r.writeJSON}}
	for _, f := range r.fears {
		pieces = append(pieces,
			piece{f.key + ".csv", func(w io.Writer) error { _, err := w.Write(f.text); return err }},
			piece{f.key + ".truth.json", func(w io.Writer) error { return cli.WriteJSON(w, f.first.Truth) }})
	}
	if len(r.fears) > 0 {
		pieces = append(pieces, piece{"station.json", func(w io.Writer) error {
			s := *r.o.desc
			s.Files = []string{r.fears[0].key + ".csv"}
			return cli.WriteJSON(w, s)
		}}, piece{"day.svg", r.writeDay}, piece{"fears.svg", r.writeFears})
	}
	for _, p := range pieces {
		if err := cli.WriteFile(folder, p.name, p.write); err != nil {
			return err
		}
	}
	return nil
}

// writeDay draws the first made-up day of the last fear: all at once, where there are several.
func (r *result) writeDay(w io.Writer) error {
	f := r.fears[len(r.fears)-1]
	log := f.first
	p := plot.New()
	p.Title.Text = fmt.Sprintf("An invented day: %s\ncounts of the made-up logger, stamps put right", f.name)
	p.Title.Padding = vg.Points(8)
	p.X.Label.Text = "UTC"
	p.X.Tick.Marker = clockTicks(time.Time{})
	var points plotter.XYs
	every := 1 + len(log.Samples)/most
	low, high := math.Inf(1), math.Inf(-1)
	for i, s := range log.Samples {
		if i%every == 0 {
			points = append(points, plotter.XY{X: seconds(s.Stamp) - log.Truth.Offset, Y: s.Counts})
			low, high = math.Min(low, s.Counts), math.Max(high, s.Counts)
		}
	}
	room := 0.08 * math.Max(high-low, 1)
	low, high = low-room/2, high+room
	for _, x := range []struct {
		spans []rehearsal.Span
		ink   color.Color
		least float64 // s, so that it is seen
		name  string
	}{{log.Truth.Clouds, cloudBand, 0, "cloud or shade"}, {log.Truth.Outages, lostBand, 90, "no power"}} {
		for _, s := range x.spans {
			from, to := seconds(s.From), seconds(s.To)
			wider := math.Max(0, x.least-(to-from)) / 2
			if err := band(p, from-wider, to+wider, low, high, x.ink); err != nil {
				return err
			}
		}
		if len(x.spans) > 0 {
			patch, err := plotter.NewPolygon(plotter.XYs{{}, {X: 1}, {X: 1, Y: 1}})
			if err != nil {
				return err
			}
			patch.Color, patch.LineStyle.Width = x.ink, 0
			p.Legend.Add(x.name, patch)
		}
	}
	for _, k := range r.contacts() {
		upright(p, seconds(k.UTC), low, high, k.name, k.shift)
	}
	s, err := dots(points, readingInk, vg.Points(0.9))
	if err != nil {
		return err
	}
	p.Add(s)
	p.Legend.Left = true
	p.Legend.XOffs, p.Legend.YOffs = vg.Points(8), vg.Points(6)
	p.Y.Min, p.Y.Max = low, high+0.7*room
	return drawn(w, p, 4.6*vg.Inch)
}

type named struct {
	name  string
	shift vg.Length // keeps neighbours apart
	eclipse.Contact
}

func (r *result) contacts() (out []named) {
	c := r.local
	for _, k := range []named{{"C1", 0, c.C1}, {"C2", -14, c.C2}, {"max", 0, c.Max}, {"C3", 14, c.C3}, {"C4", 0, c.C4}} {
		if k.Exists && (k.name != "max" || !c.C2.Exists) {
			out = append(out, k)
		}
	}
	return out
}

// writeFears draws each day's interval about the truth, a row for each fear.
func (r *result) writeFears(w io.Writer) error {
	p := plot.New()
	p.Title.Text = "How far off the clock that the light gave was, seconds, on invented days\nbars: 95 % intervals, a day each; grey: what is wanted; ring: refused"
	p.Title.Padding = vg.Points(8)
	p.X.Label.Text = "found minus truth, s"
	reach, rows := 1.5*r.o.within, float64(len(r.fears))
	if err := band(p, -r.o.within, r.o.within, -0.7, rows-0.3, cloudBand); err != nil {
		return err
	}
	p.Add(&plotter.Line{XYs: plotter.XYs{{Y: -0.7}, {Y: rows - 0.3}}, LineStyle: draw.LineStyle{Color: markInk, Width: vg.Points(0.8)}})
	var ticks plot.ConstantTicks
	for i, f := range r.fears {
		y := rows - 1 - float64(i)
		ticks = append(ticks, plot.Tick{Value: y, Label: f.name + "  "})
		for k, d := range f.days {
			at := y + 0.6*((float64(k)+0.5)/float64(len(f.days))-0.5)
			if err := bar(p, d, at, reach); err != nil {
				return err
			}
		}
	}
	p.Y.Tick.Marker = ticks
	p.X.Tick.Marker = plot.ConstantTicks{{Value: -r.o.within, Label: fmt.Sprintf("-%g", r.o.within)}, {Value: 0, Label: "0"}, {Value: r.o.within, Label: fmt.Sprintf("+%g", r.o.within)}}
	p.Y.Tick.LineStyle.Width = 0
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -reach, reach, -0.7, rows-0.3
	return drawn(w, p, vg.Points(110)+vg.Length(rows)*vg.Points(26))
}

// bar draws a day: a line with its middle, or a hollow ring.
func bar(p *plot.Plot, d day, y, reach float64) error {
	clip := func(v float64) float64 { return math.Max(-reach, math.Min(reach, v)) }
	x, ink, shape := 0.0, color.Color(readingInk), draw.GlyphDrawer(draw.CircleGlyph{})
	switch {
	case d.refusal != nil:
		ink, shape = markInk, draw.RingGlyph{}
	default:
		if !d.holds() {
			ink = foundInk
		}
		x = clip(d.offset - d.truth.Offset)
		p.Add(&plotter.Line{XYs: plotter.XYs{{X: clip(d.ci[0] - d.truth.Offset), Y: y}, {X: clip(d.ci[1] - d.truth.Offset), Y: y}},
			LineStyle: draw.LineStyle{Color: ink, Width: vg.Points(1.6)}})
	}
	s, err := plotter.NewScatter(plotter.XYs{{X: x, Y: y}})
	if err != nil {
		return err
	}
	s.GlyphStyle = draw.GlyphStyle{Color: ink, Radius: vg.Points(2.2), Shape: shape}
	p.Add(s)
	return nil
}
