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

// steps marks a logarithmic axis with plain numbers: the decades, and where there are
// few of them what lies between.
type steps struct{}

func (steps) Ticks(low, high float64) []plot.Tick {
	decades := math.Log10(high / low)
	var out []plot.Tick
	for d := math.Floor(math.Log10(low)); d <= math.Log10(high); d++ {
		for k := 1.0; k < 10; k++ {
			v := k * math.Pow(10, d)
			if v < low || v > high {
				continue
			}
			label := ""
			if k == 1 || decades < 2.5 && (k == 2 || k == 5) || decades < 1.2 && k != 7 && k != 9 {
				label = strconv.FormatFloat(figures(v, 3), 'f', -1, 64)
			}
			out = append(out, plot.Tick{Value: v, Label: label})
		}
	}
	return out
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
