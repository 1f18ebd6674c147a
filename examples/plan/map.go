package main

import (
	"context"
	"fmt"
	"image/color"
	"io"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/shadow"
	"example.org/noonfall/examples/internal/coast"
)

var (
	coastInk = color.RGBA{R: 0x80, G: 0x80, B: 0x80, A: 0xff}
	levelInk = color.RGBA{R: 0x2a, G: 0x8a, B: 0x5c, A: 0xff}
	siteInk  = color.RGBA{R: 0xa0, B: 0x60, A: 0xff}
	levels   = []float64{0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95}
)

// A chart is a map in plain latitude and longitude, true to scale in its middle latitude.
type chart struct {
	area                     shadow.Area // of the grid
	west, east, south, north float64
	middle                   float64 // latitude, degrees
}

const (
	mapWide = 9 * vg.Inch
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
	out := plot.New()
	out.Title.Text = fmt.Sprintf("Solar eclipse of %s. Triangle: the site.\nOrange: central line; limits of the path dashed.\nGreen: the most of the Sun that is covered while it is up", p.elements.Date)
	out.Title.Padding = vg.Points(6)
	apart(out)
	out.X.Label.Text, out.Y.Label.Text = "degrees east (west is negative). Coastlines: Natural Earth", "degrees north"
	out.X.Tick.Marker, out.Y.Tick.Marker = meridians{spacing(c.east - c.west)}, every(spacing(c.north-c.south))
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = bodyInk, bodyInk
	out.Add(grid)
	if err := c.drawCoasts(out); err != nil {
		return err
	}
	if err := p.drawLevels(ctx, out, &c); err != nil {
		return err
	}
	if err := p.drawPath(out, &c); err != nil {
		return err
	}
	if err := p.drawSite(out, &c); err != nil {
		return err
	}
	out.X.Min, out.X.Max, out.Y.Min, out.Y.Max = c.west, c.east, c.south, c.north // last: what is added widens them
	high := mapWide * vg.Length((c.north-c.south)/((c.east-c.west)*math.Cos(c.middle*math.Pi/180)))
	canvas := vgsvg.New(mapWide, high+56)
	out.Draw(draw.Crop(draw.New(canvas), vg.Points(16), -vg.Points(28), vg.Points(4), -vg.Points(4)))
	_, err := canvas.WriteTo(w)
	return err
}

// spacing is that of the lines across so many degrees.
func spacing(degrees float64) float64 {
	for _, s := range []float64{5, 10, 15} {
		if degrees/s <= 9 {
			return s
		}
	}
	return 30
}

// turned visits a line on the map's own turn and on those beside it, in pieces of what is
// on the map and the steps that lead there.
func (c *chart) turned(line plotter.XYs, visit func(plotter.XYs) error) error {
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
				if err := visit(piece); err != nil {
					return err
				}
			}
			piece = nil
		}
	}
	return nil
}

func (c *chart) drawCoasts(out *plot.Plot) error {
	finest := (c.east - c.west) / 1300 // half a point
	for _, line := range coast.Lines() {
		err := c.turned(line, func(piece plotter.XYs) error {
			shore, err := plotter.NewLine(sparse(piece, finest))
			if err != nil {
				return err
			}
			shore.Color, shore.Width = coastInk, vg.Points(0.6)
			out.Add(shore)
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
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

// meridians marks longitudes, past 180 as people say them.
type meridians struct{ step float64 }

func (m meridians) Ticks(low, high float64) []plot.Tick {
	ticks := every(m.step).Ticks(low, high)
	for i := range ticks {
		ticks[i].Label = fmt.Sprintf("%.0f", math.Remainder(ticks[i].Value, 360)+0) // no minus before 0
	}
	return ticks
}
