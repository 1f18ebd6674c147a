package main

import (
	"math"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"
)

// dots adds points, where there are any, and names them.
func dots(p *plot.Plot, name string, points plotter.XYs, style draw.GlyphStyle) error {
	if len(points) == 0 {
		return nil
	}
	s, err := plotter.NewScatter(points)
	if err != nil {
		return err
	}
	s.GlyphStyle = style
	p.Add(s)
	p.Legend.Add(name, s)
	return nil
}

// ends are the least and the greatest abscissa.
func ends(points plotter.XYs) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, q := range points {
		low, high = math.Min(low, q.X), math.Max(high, q.X)
	}
	return low, high
}

// whole marks an axis at every whole number.
type whole struct{}

func (whole) Ticks(low, high float64) []plot.Tick {
	var out []plot.Tick
	for v := math.Ceil(low); v <= high; v++ {
		out = append(out, plot.Tick{Value: v, Label: strconv.Itoa(int(v))})
	}
	return out
}
