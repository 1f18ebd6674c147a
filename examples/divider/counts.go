package main

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/text"

	"example.org/noonfall/examples/internal/look"
)

// counts draws counts against light for the best load, the common ones and one's own.
func (s *story) counts() (*look.Sheet, error) {
	c, full := s.onLight("reading (counts)"), math.Ldexp(1, s.bits)
	c.Y.Tick.Marker = look.Every(full / 4)
	s.rails(c, full)
	lights(c)
	for i, l := range s.drawn() {
		conv, err := l.Chain.Compile()
		if err != nil {
			return nil, err
		}
		style := bestStroke
		if i > 0 {
			style = strokes[i-1]
		}
		s.lineOf(c, s.name(l), style, conv.Counts)
	}
	c.Y.Min, c.Y.Max = 0, 1.08*full // with room for the words on the rail
	return s.sheet("Counts over light", "A divider with different loads.", c), nil
}

func (s *story) name(c candidate) string {
	switch {
	case c.Ohms == s.best.Ohms:
		return ohms(c.Ohms) + ", the best"
	case s.own != nil && c.Ohms == s.own.Ohms:
		return ohms(c.Ohms) + ", yours"
	}
	return ohms(c.Ohms)
}

func (s *story) circuit() string {
	if s.sensor == "phototransistor" {
		return fmt.Sprintf("Phototransistor of %s microamperes per lux, %s V, %d bits.", figure(1e6*s.amps, 3), figure(s.supply, 3), s.bits)
	}
	return fmt.Sprintf("Photoresistor of %s at 10 lx, exponent %s, %s V, %d bits.", ohms(s.r10), figure(s.gamma, 3), figure(s.supply, 3), s.bits)
}

// drawn are the loads of the picture, the best first, none twice.
func (s *story) drawn() []candidate {
	out := []candidate{s.best}
	list := s.common
	if s.own != nil {
		list = append(list[:len(list):len(list)], *s.own)
	}
	for _, c := range list {
		seen := false
		for _, o := range out {
			seen = seen || o.Ohms == c.Ohms
		}
		if !seen {
			out = append(out, c)
		}
	}
	return out
}

// rails shades what the converter gives and is not to be believed.
func (s *story) rails(c *look.Chart, full float64) {
	low, high := s.axis()
	bottom, top := s.dead*full, full-s.dead*full
	dark, bright, free := "too dark to tell", "saturated", look.Before // where no curve passes
	switch {
	case s.falling():
		dark, bright, free = bright, dark, look.After
	case s.chain.Phototransistor != nil: // its line ends before the converter's does
		top, free = s.best.ends, look.After
	}
	for _, r := range []struct {
		from, to, edge, label float64
		side                  text.XAlignment
		text                  string
	}{
		{0, bottom, 0, bottom, free, fmt.Sprintf("below %.0f: %s", bottom, dark)},
		{top, full, full, full, look.After, fmt.Sprintf("above %.0f: %s", top, bright)},
	} {
		c.Band(low, r.from, high, r.to, look.Shade)
		c.Across(low, r.edge, high, r.edge, look.Thin(look.Black))
		at := look.Label{X: low, Y: r.label, Text: r.text, Side: r.side, Right: 4, Up: 7}
		if r.side == look.Before {
			at.X, at.Right = high, -18
		}
		c.Add(look.Labels{at})
	}
}
