package main

import (
	"context"
	"io"
	"math"

	"gonum.org/v1/plot/plotter"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/shadow"
	"example.org/noonfall/examples/internal/coast"
	"example.org/noonfall/examples/internal/look"
)

var levels = []float64{0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95}

// A chart is a map in plain latitude and longitude, true to scale in its middle latitude.
type chart struct {
	area                     shadow.Area // of the grid
	west, east, south, north float64
	middle                   float64 // latitude, degrees
}

const (
	// narrowest and widest are half of the map's height, degrees.
	narrowest, widest = 12, 40
	mapRows           = 90 // of the grid
)

// region is the map that has site and central line in it where these are near enough, and
// all of the Earth for a site that sees nothing.
func (p *plan) region() chart {
	if p.local.Seen == eclipse.None {
		return chart{area: shadow.Earth(2), west: -180, east: 180, south: -90, north: 90}
	}
	const kmPerDegree, room = 111.2, 8
	half := float64(narrowest)
	if line := p.edge.moon.Observer().CentralLine(); line.Exists {
		half = min(widest, max(half, line.Km/kmPerDegree+room))
	}
	south, north := max(-90, p.site.Lat-half), min(90, p.site.Lat+half)
	middle := (south + north) / 2
	across := min(360, 1.5*(north-south)/math.Cos(middle*math.Pi/180))
	west := math.Remainder(p.site.Lon-across/2, 360)
	step := (north - south) / mapRows
	area := shadow.Area{South: south, North: north, West: west, East: west + across, LatStep: step, LonStep: across / (1.5 * mapRows)}
	return chart{area: area, west: west, east: west + across, south: south, north: north, middle: middle}
}

// lon is a longitude as the map has it, a turn to the right of its west at most.
func (c *chart) lon(lon float64) float64 {
	return c.west + math.Mod(math.Mod(lon-c.west, 360)+360, 360)
}

// writeMap draws coastlines, central line, limits, lines of equal obscuration and the site.
func (p *plan) writeMap(ctx context.Context, w io.Writer) error {
	c := p.region()
	out := look.NewChart("latitude (degrees north)", "longitude (degrees east; west is negative)", 0)
	out.X.Tick.Marker, out.Y.Tick.Marker = look.Degrees{}, look.Degrees{}
	out.Grid()
	for _, line := range coast.Lines() {
		finest := (c.east - c.west) / 900 // half a point
		c.turned(line, func(piece plotter.XYs) { out.Line(sparse(piece, finest), look.Thin(look.Grey)) })
	}
	if err := p.drawLevels(ctx, out, &c); err != nil {
		return err
	}
	if err := p.drawPath(out, &c); err != nil {
		return err
	}
	site := out.Dots(plotter.XYs{{X: c.lon(p.site.Lon), Y: p.site.Lat}}, look.Black, look.Triangle, 4)
	out.Key("the site", site)
	out.X.Min, out.X.Max, out.Y.Min, out.Y.Max = c.west, c.east, c.south, c.north // last: what is added widens them
	out.Shape((c.north - c.south) / ((c.east - c.west) * math.Cos(c.middle*math.Pi/180)))
	return p.sheet("Map of the eclipse", "The path, and the most of the Sun that is covered while it is up, per cent of its area. Coastlines: Natural Earth.", out).WriteSVG(w)
}

// turned visits a line on the map's own turn and on those beside it, in pieces of what is
// on the map and the steps that lead there.
func (c *chart) turned(line plotter.XYs, visit func(plotter.XYs)) {
	for _, turn := range []float64{-720, -360, 0, 360, 720} {
		inside := func(i int) bool {
			return i >= 0 && i < len(line) && line[i].X+turn >= c.west && line[i].X+turn <= c.east && line[i].Y >= c.south && line[i].Y <= c.north
		}
		var piece plotter.XYs
		for i := range len(line) + 1 {
			if i < len(line) && (inside(i-1) || inside(i) || inside(i+1)) {
				piece = append(piece, plotter.XY{X: line[i].X + turn, Y: line[i].Y})
				continue
			}
			if len(piece) > 1 {
				visit(piece)
			}
			piece = nil
		}
	}
}

// sparse leaves out points that are nearer to the one before than can be seen.
func sparse(line plotter.XYs, finest float64) plotter.XYs {
	out := line[:1:1]
	for i, at := range line[1:] {
		last := out[len(out)-1]
		if math.Hypot(at.X-last.X, at.Y-last.Y) >= finest || i == len(line)-2 {
			out = append(out, at)
		}
	}
	return out
}
