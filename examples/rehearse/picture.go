package main

import (
	"io"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/examples/internal/look"
)

// sheet is a picture of made-up days.
func (r *result) sheet(title, caption string, chart *look.Chart) *look.Sheet {
	return &look.Sheet{Title: title, Caption: caption + " " + look.Invented, Charts: []*look.Chart{chart}}
}

// writeDay draws the first made-up day of the last fear: all at once, where there are several.
func (r *result) writeDay(w io.Writer) error {
	f := r.fears[len(r.fears)-1]
	log := f.first
	c := look.NewChart("reading (counts)", "UTC (hours and minutes)", 250)
	c.X.Tick.Marker = look.Clock{}
	var points plotter.XYs
	every := 1 + len(log.Samples)/most
	low, high := math.Inf(1), math.Inf(-1)
	for i, s := range log.Samples {
		if i%every == 0 {
			points = append(points, plotter.XY{X: look.Seconds(s.Stamp) - log.Truth.Offset, Y: s.Counts})
			low, high = math.Min(low, s.Counts), math.Max(high, s.Counts)
		}
	}
	room := 0.05 * math.Max(high-low, 1)
	low, high = low-room, high+room
	for _, s := range log.Truth.Clouds {
		c.Band(look.Seconds(s.From), low, look.Seconds(s.To), high, look.Shade)
	}
	cuts(c, log.Truth.Outages, low, high)
	if len(log.Truth.Clouds) > 0 {
		c.Key("cloud or shade", &plotter.Polygon{Color: look.Shade})
	}
	c.Key("reading", c.Dots(points, look.Blue, look.Disc, 1))
	for _, k := range r.contacts() {
		c.Contact(look.Seconds(k.UTC), k.name)
	}
	c.Y.Min, c.Y.Max = low, high
	return r.sheet("A made-up day: "+f.name, "What a made-up logger would write, its stamps put right, and the contacts C1 to C4.", c).WriteSVG(w)
}

// cuts shades the times without power, wide enough to be seen.
func cuts(c *look.Chart, spans []rehearsal.Span, low, high float64) {
	const least = 90 // s
	for i, s := range spans {
		from, to := look.Seconds(s.From), look.Seconds(s.To)
		wider := math.Max(0, least-(to-from)) / 2
		band := c.Band(from-wider, low, to+wider, high, look.Orange)
		if i == 0 {
			c.Key("no power", band)
		}
	}
}

type named struct {
	name string
	eclipse.Contact
}

func (r *result) contacts() (out []named) {
	c := r.local
	for _, k := range []named{{"C1", c.C1}, {"C2", c.C2}, {"max", c.Max}, {"C3", c.C3}, {"C4", c.C4}} {
		if k.Exists && (k.name != "max" || !c.C2.Exists) {
			out = append(out, k)
		}
	}
	return out
}

// writeFears draws each day's interval about the truth, a row for each fear.
func (r *result) writeFears(w io.Writer) error {
	c := look.NewChart("what is feared (in words)", "clock error that the light gave minus the true one (s)", 0)
	reach, rows := 1.5*r.o.within, float64(len(r.fears))
	low, high := -0.7, rows-0.3
	c.Key("what is wanted", c.Band(-r.o.within, low, r.o.within, high, look.Shade))
	c.Across(0, low, 0, high, look.Thin(look.Black))
	var names plot.ConstantTicks
	marks := map[string]bool{}
	for i, f := range r.fears {
		y := rows - 1 - float64(i)
		names = append(names, plot.Tick{Value: y, Label: f.name})
		for k, d := range f.days {
			bar(c, d, y+0.6*((float64(k)+0.5)/float64(len(f.days))-0.5), reach, marks)
		}
	}
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = -reach, reach, low, high
	c.Y.Tick.Marker, c.Y.Tick.LineStyle.Width = names, 0
	c.Height = 40 + 24*vg.Length(rows)
	return r.sheet("How far off the light's clock was", "The 95 % interval of each made-up day about the truth; what reaches further than the axis ends at its edge.", c).WriteSVG(w)
}

// bar draws a day: a line with its middle, or a hollow ring; of each kind the first is named.
func bar(c *look.Chart, d day, y, reach float64, named map[string]bool) {
	clip := func(v float64) float64 { return math.Max(-reach, math.Min(reach, v)) }
	key := func(name string, marks ...plot.Thumbnailer) {
		if !named[name] {
			c.Key(name, marks...)
		}
		named[name] = true
	}
	if d.refusal != nil {
		key("refused", c.Dots(plotter.XYs{{Y: y}}, look.Black, look.Ring, 2.5))
		return
	}
	name, style, ink, shape := "a day that holds", look.Bold(look.Blue), look.Blue, draw.GlyphDrawer(look.Disc)
	if !d.holds() {
		name, style, ink, shape = "one that does not", look.Bold(look.Orange), look.Orange, look.Square
	}
	line := c.Across(clip(d.ci[0]-d.truth.Offset), y, clip(d.ci[1]-d.truth.Offset), y, style)
	key(name, line, c.Dots(plotter.XYs{{X: clip(d.offset - d.truth.Offset), Y: y}}, ink, shape, 2.4))
}
