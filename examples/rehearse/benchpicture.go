package main

import (
	"fmt"
	"io"
	"math"
	"time"

	"gonum.org/v1/plot/plotter"

	"example.org/noonfall/examples/internal/look"
)

// most readings are drawn as they are; of more, every so many.
const most = 3000

// writePicture draws the readings of the bench and shades each passage.
func (b *benchLog) writePicture(w io.Writer) error {
	c := look.NewChart("reading (the logger's units, counts as a rule)", "stamp (hours and minutes)", 250)
	c.X.Tick.Marker = look.Clock{}
	var points plotter.XYs
	low, high := math.Inf(1), math.Inf(-1)
	every := 1 + len(b.readings)/most
	for i, s := range b.readings {
		if !(math.Abs(s.Counts) < 1e100) || i%every != 0 && !b.inside(s.Time) {
			continue
		}
		points = append(points, plotter.XY{X: look.Seconds(s.Time), Y: s.Counts})
		low, high = math.Min(low, s.Counts), math.Max(high, s.Counts)
	}
	room := 0.05 * math.Max(high-low, 1)
	low, high = low-room, high+room
	for i, d := range b.found.Dips {
		band := c.Band(look.Seconds(d.Start), low, look.Seconds(d.End), high, look.Shade)
		c.At(look.Seconds(d.Least), fmt.Sprint(i+1), look.Above)
		if i == 0 {
			c.Key("passage", band)
		}
	}
	c.Key("reading", c.Dots(points, look.Blue, look.Disc, 1.2))
	for i, d := range b.found.Dips {
		across := c.Across(look.Seconds(d.Start), d.Base, look.Seconds(d.End), d.Base, look.Bold(look.Orange))
		c.Across(look.Seconds(d.Least), d.Base, look.Seconds(d.Least), d.Bottom, look.Bold(look.Orange))
		if i == 0 {
			c.Key("its base and depth", across)
		}
	}
	c.Y.Min, c.Y.Max = low, high
	return (&look.Sheet{
		Title:   "Passages of a ball before a lamp",
		Caption: "Readings of " + b.name + ", and the passages that were found in them, numbered.",
		Charts:  []*look.Chart{c},
	}).WriteSVG(w)
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
