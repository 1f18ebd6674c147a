package main

import (
	"math"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
)

// names puts each station's name beside its dot, on the side where it hides least of the
// others' names and dots.
func (p *pooling) names(f *frame) (out plotter.XYLabels) {
	// Degrees in a point of the map, and a letter's size in points, all but.
	const margins, letter, line, gap = 80, 0.62 * nameSize, 1.25 * nameSize, 4
	perX := (f.east - f.west) / (float64(wide) - margins)
	perY := perX * math.Cos((f.south+f.north)/2*math.Pi/180)
	type box struct{ x0, x1, y0, y1 float64 }
	var taken []box
	for _, m := range p.Stations {
		x, y := f.lon(m.Summary.Site.Lon), m.Summary.Site.Lat
		taken = append(taken, box{x - gap*perX, x + gap*perX, y - gap*perY, y + gap*perY})
	}
	for _, m := range p.Stations {
		x, y := f.lon(m.Summary.Site.Lon), m.Summary.Site.Lat
		w := letter * float64(len([]rune(m.Name)))
		var best box
		least := math.Inf(1)
		for _, side := range [][2]float64{{gap, -line / 3}, {-w - gap, -line / 3}, {-w / 2, gap}, {-w / 2, -line - gap}, {gap, gap}, {gap, -line - gap}, {-w - gap, gap}, {-w - gap, -line - gap},
			{gap, 3 * gap}, {gap, -line - 3*gap}, {-w - gap, 3 * gap}, {-w - gap, -line - 3*gap}} {
			b := box{x + side[0]*perX, x + (side[0]+w)*perX, y + side[1]*perY, y + (side[1]+line)*perY}
			hides := 0.0
			for _, t := range taken {
				hides += math.Max(0, math.Min(b.x1, t.x1)-math.Max(b.x0, t.x0)) * math.Max(0, math.Min(b.y1, t.y1)-math.Max(b.y0, t.y0))
			}
			if b.x1 > f.east || b.x0 < f.west {
				hides += w * line * perX * perY
			}
			if hides < least {
				least, best = hides, b
			}
		}
		taken = append(taken, best)
		out.XYs, out.Labels = append(out.XYs, plotter.XY{X: best.x0, Y: best.y0}), append(out.Labels, m.Name)
	}
	return out
}

// meridians are ticks at round numbers of degrees, not too many of them.
func meridians(degrees float64) plot.Ticker {
	for _, step := range []float64{0.5, 1, 2, 5, 10, 15, 30} {
		if degrees/step <= 12 {
			return every(step)
		}
	}
	return every(60)
}

// every marks an axis at multiples of a number, those of longitude a turn off as they are called.
type every float64

// Ticks is for [plot.Axis].
func (d every) Ticks(low, high float64) (out []plot.Tick) {
	step := float64(d)
	for k := math.Ceil(low / step); k*step <= high; k++ {
		out = append(out, plot.Tick{Value: k * step, Label: strconv.FormatFloat(turned(k*step), 'f', -1, 64)})
	}
	return out
}

// turned is a longitude of the map as it is called: -180 to 180. What is no longitude is left alone.
func turned(x float64) float64 {
	if math.Abs(x) <= 180 {
		return x
	}
	return math.Remainder(x, 360)
}
