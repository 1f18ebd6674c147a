package main

import (
	"fmt"
	"math"

	"gonum.org/v1/plot"

	"example.org/noonfall/examples/internal/look"
	"example.org/noonfall/sensor"
)

// octaves draws what a doubling of the light is worth, for one sensor and for two.
func (s *story) octaves() (*look.Sheet, error) {
	c := s.onLight("what a doubling of the light is worth (counts)")
	c.Y.Scale, c.Y.Tick.Marker = plot.LogScale{}, look.Decades{}
	most := 0.0
	for _, l := range []struct {
		name  string
		load  sensor.Load
		style look.Stroke
	}{
		{ohms(s.best.Ohms) + ", one sensor", s.best.Load, bestStroke},
		{ohms(s.pair.Dim.Ohms) + ", the dim one of two", s.pair.Dim, strokes[0]},
		{ohms(s.pair.Bright.Ohms) + ", the bright one", s.pair.Bright, strokes[1]},
	} {
		conv, err := l.load.Chain.Compile()
		if err != nil {
			return nil, err
		}
		s.lineOf(c, l.name, l.style, func(lux float64) float64 {
			v := conv.CountsPerOctave(lux)
			most = math.Max(most, v)
			return v
		})
	}
	low, high := s.axis()
	bottom, top := math.Pow(10, math.Floor(math.Log10(s.fine/2))), 1.5*math.Max(most, s.fine)
	lights(c)
	c.Across(low, s.fine, high, s.fine, look.Thin(look.Black))
	c.Add(look.Labels{{X: low, Y: s.fine, Text: figure(s.fine, 3) + " are wanted", Side: look.After, Right: 4, Up: -7}})
	caption := "One sensor with the best load, and two"
	if s.pair.CountsPerOctave > 0 {
		at := s.pair.HandoverLux
		c.Across(at, bottom, at, s.pair.CountsPerOctave, look.Thin(look.Black))
		caption += fmt.Sprintf(" that hand over at %s lx, the upright line", figure(at, 2))
	}
	c.Y.Min, c.Y.Max = bottom, top
	return s.sheet("Counts for a doubling of the light", caption+".", c), nil
}

// sheet is a picture with what it was reckoned for.
func (s *story) sheet(title, caption string, c *look.Chart) *look.Sheet {
	return &look.Sheet{Title: title, Caption: caption + " " + s.circuit() + " Computed, not measured.", Charts: []*look.Chart{c}}
}
