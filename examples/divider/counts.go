package main

import (
	"fmt"
	"math"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
)

// counts draws counts against light for the best load, the common ones and one's own.
func (s *story) counts() (*plot.Plot, error) {
	p, full := s.onLight(s.caption()), math.Ldexp(1, s.bits)
	p.Y.Tick.Marker = quarters{full}
	if err := s.rails(p, full); err != nil {
		return nil, err
	}
	lights(p, 0, 1.085*full)
	for i, c := range s.drawn() {
		conv, err := c.Chain.Compile()
		if err != nil {
			return nil, err
		}
		st := bestStroke
		if i > 0 {
			st = strokes[i-1]
		}
		if err := s.lineOf(p, s.name(c), st, conv.Counts); err != nil {
			return nil, err
		}
	}
	p.Legend.YOffs = -vg.Points(78) // below the names of the lights and the rail
	switch {
	case s.falling():
		p.Legend.Top, p.Legend.YOffs = false, vg.Points(32)
	case s.chain.Phototransistor != nil: // whose rail is wide
		p.Legend.YOffs = -vg.Points(130)
	}
	p.Y.Min, p.Y.Max = -0.02*full, 1.16*full // with headroom for the names
	return p, nil
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

func (s *story) caption() string {
	if s.sensor == "phototransistor" {
		return fmt.Sprintf("Counts of a phototransistor of %s microamperes per lux,\n%s V and %d bits, with different loads", figure(1e6*s.amps, 3), figure(s.supply, 3), s.bits)
	}
	return fmt.Sprintf("Counts of a photoresistor of %s at 10 lx, exponent %s,\n%s V and %d bits, with different loads", ohms(s.r10), figure(s.gamma, 3), figure(s.supply, 3), s.bits)
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
func (s *story) rails(p *plot.Plot, full float64) error {
	low, high := s.axis()
	bottom, top := s.dead*full, full-s.dead*full
	dark, bright, free := "too dark to tell", "saturated", high/300 // where no curve passes
	switch {
	case s.falling():
		dark, bright, free = bright, dark, low
	case s.chain.Phototransistor != nil: // its line ends before the converter's does
		top, free = s.best.ends, low
	}
	for _, r := range []struct {
		from, to, edge, label, left float64
		text                        string
	}{
		{0, bottom, 0, bottom, free, fmt.Sprintf("below %.0f: %s", bottom, dark)},
		{top, full, full, full, low, fmt.Sprintf("above %.0f: %s", top, bright)},
	} {
		band, err := plotter.NewPolygon(plotter.XYs{{X: low, Y: r.from}, {X: high, Y: r.from}, {X: high, Y: r.to}, {X: low, Y: r.to}})
		if err != nil {
			return err
		}
		band.Color, band.LineStyle.Width = deadInk, 0
		p.Add(band, straight(low, r.edge, high, r.edge, nil), words(r.left, r.label, r.text, text.XLeft, 4, 2))
	}
	return nil
}

// quarters marks the counts at quarters of the full scale.
type quarters struct{ full float64 }

func (q quarters) Ticks(_, _ float64) []plot.Tick {
	var out []plot.Tick
	for i := range 5 {
		v := float64(i) * q.full / 4
		out = append(out, plot.Tick{Value: v, Label: strconv.FormatFloat(v, 'f', -1, 64)})
	}
	return out
}
