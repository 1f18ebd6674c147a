package main

import (
	"fmt"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"

	"example.org/noonfall/examples/internal/axis"
	"example.org/noonfall/sensor"
)

// octaves draws what a doubling of the light is worth, for one sensor and for two.
func (s *story) octaves() (*plot.Plot, error) {
	p := s.onLight("Counts that a doubling of the light is worth,\none sensor with the best load" + s.handing())
	p.Y.Scale, p.Y.Tick.Marker = plot.LogScale{}, axis.Decades{}
	most := 0.0
	add := func(name string, l sensor.Load, st stroke) error {
		conv, err := l.Chain.Compile()
		if err != nil {
			return err
		}
		return s.lineOf(p, name, st, func(lux float64) float64 {
			v := conv.CountsPerOctave(lux)
			most = math.Max(most, v)
			return v
		})
	}
	if err := add(ohms(s.best.Ohms)+", one sensor", s.best.Load, bestStroke); err != nil {
		return nil, err
	}
	if err := add(ohms(s.pair.Dim.Ohms)+", the dim one of two", s.pair.Dim, strokes[0]); err != nil {
		return nil, err
	}
	if err := add(ohms(s.pair.Bright.Ohms)+", the bright one", s.pair.Bright, strokes[1]); err != nil {
		return nil, err
	}
	low, high := s.axis()
	bottom, top := math.Pow(10, math.Floor(math.Log10(s.fine/2))), 1.5*math.Max(most, s.fine)
	lights(p, bottom, top)
	p.Add(straight(low, s.fine, high, s.fine, nil), words(low, s.fine, fmt.Sprintf("%s are wanted", figure(s.fine, 3)), text.XLeft, 4, 3))
	if s.pair.CountsPerOctave > 0 {
		at := s.pair.HandoverLux
		p.Add(straight(at, bottom, at, s.pair.CountsPerOctave, nil))
	}
	p.Legend.YOffs = -vg.Points(4)
	p.Y.Min, p.Y.Max = bottom, top*math.Pow(top/bottom, 0.35) // with headroom for the names and the legend
	return p, nil
}

func (s *story) handing() string {
	if s.pair.CountsPerOctave > 0 {
		return fmt.Sprintf(", and two that hand over at %s lx", figure(s.pair.HandoverLux, 2))
	}
	return ", and two"
}
