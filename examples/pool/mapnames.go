package main

import (
	"math"
	"strings"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"

	"example.org/noonfall/examples/internal/look"
)

// A named place is one on the map that has a name, or one without that no name should hide.
type named struct {
	plotter.XY
	name string
}

// A box is a piece of the map, degrees.
type box struct{ x0, x1, y0, y1 float64 }

// shared is the area that two have in common.
func (b box) shared(o box) float64 {
	return math.Max(0, math.Min(b.x1, o.x1)-math.Max(b.x0, o.x0)) * math.Max(0, math.Min(b.y1, o.y1)-math.Max(b.y0, o.y0))
}

// mostNames is how many stations may have names on the map.
const mostNames = 30

// names puts a name beside each dot, of stations and of the axis on its path, where it hides least of the
// others' names and dots, near it if possible; from afar a line leads to it.
func (p *pooling) names(f *frame, path []named) look.Labels {
	// Degrees in a point of the map, and a letter's size in points, all but.
	const margins, letter, line = 70, 6.6, 11
	perX := (f.east - f.west) / (float64(look.Width) - margins)
	perY := perX * math.Cos((f.south+f.north)/2*math.Pi/180)
	var places []named
	prefix := p.prefix()
	for _, m := range p.Stations {
		places = append(places, named{plotter.XY{X: f.lon(m.Summary.Site.Lon), Y: m.Summary.Site.Lat}, strings.TrimPrefix(m.Name, prefix)})
	}
	stations := len(places)
	places = append(places, path...)
	var taken []box
	for _, at := range places {
		const dot = 3.5
		taken = append(taken, box{at.X - dot*perX, at.X + dot*perX, at.Y - dot*perY, at.Y + dot*perY})
	}
	var out look.Labels
	for i, at := range places {
		if at.name == "" || i < stations && stations > mostNames {
			continue
		}
		best, least := look.Label{}, math.Inf(1)
		var its box
		wide := letter * float64(len([]rune(at.name)))
		for _, side := range sides(wide) {
			b := box{at.X + side[0]*perX, at.X + (side[0]+wide)*perX, at.Y + (side[1]-line/2)*perY, at.Y + (side[1]+line/2)*perY}
			hides := (math.Abs(side[0]+wide/2) + 3*math.Abs(side[1])) / 50 * perX * perY // rather near
			for _, t := range taken {
				hides += b.shared(t)
			}
			if b.x1 > f.east || b.x0 < f.west || b.y1 > f.north || b.y0 < f.south {
				hides += wide * line * perX * perY
			}
			if hides < least {
				least, its = hides, b
				best = look.Label{X: at.X, Y: at.Y, Text: at.name, Side: look.After, Right: vg.Length(side[0]), Up: vg.Length(side[1]), Leader: math.Abs(side[1]) > line}
			}
		}
		taken, out = append(taken, its), append(out, best)
	}
	return out
}

// prefix is what the names of all stations begin with, up to a hyphen; the map leaves it out.
func (p *pooling) prefix() string {
	if len(p.Stations) == 1 {
		return ""
	}
	prefix := p.Stations[0].Name
	for _, m := range p.Stations {
		for !strings.HasPrefix(m.Name, prefix) {
			prefix = prefix[:len(prefix)-1]
		}
	}
	return prefix[:strings.LastIndex(prefix, "-")+1]
}

// sides are the places of a word from its dot, points: of its left end and of its middle's height.
func sides(wide float64) (all [][2]float64) {
	const gap, step = 5, 12
	all = [][2]float64{{gap, 0}, {-wide - gap, 0}}
	for rows := 1.0; rows <= 6; rows++ {
		for _, up := range []float64{rows * step, -rows * step} {
			all = append(all, [2]float64{-wide / 2, up}, [2]float64{gap, up}, [2]float64{-wide - gap, up})
		}
	}
	return all
}

// turned is a longitude of the map as it is called: -180 to 180. What is no longitude is left alone.
func turned(x float64) float64 {
	if math.Abs(x) <= 180 {
		return x
	}
	return math.Remainder(x, 360)
}
