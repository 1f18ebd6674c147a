package main

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/look"
)

// sheet is a picture of the station with its origin.
func (s *story) sheet(title, caption string, chart *look.Chart) *look.Sheet {
	if s.station.Remarks != "" {
		caption += " " + look.Origin(s.station.Remarks)
	}
	return &look.Sheet{Title: fmt.Sprintf("%s, station %s", title, s.station.Code), Caption: caption, Charts: []*look.Chart{chart}}
}

// law draws readings against lux, with the law that is recommended and its band.
func (s *story) law() *look.Sheet {
	c := look.NewChart(fmt.Sprintf("reading (%s)", s.unit()), "illuminance (lx)", 270)
	c.X.Scale, c.X.Tick.Marker, c.Y.Scale, c.Y.Tick.Marker = plot.LogScale{}, look.Decades{}, plot.LogScale{}, look.Decades{}
	var lamp, used, shaded plotter.XYs
	if l := s.lamp; l != nil {
		scale := s.lampScale()
		for i, lux := range s.lampLights() {
			lamp = append(lamp, plotter.XY{X: scale * lux, Y: l.points[i].Value})
		}
		if s.best == nil {
			c.X.Label.Text = "light (that of the lamp at 1 m = 1)"
		}
	}
	if f := s.fit(); f != nil {
		for i, m := range f.Minutes {
			if at := (plotter.XY{X: m.Lux, Y: m.Value}); m.Fate == station.UsedMinute && i%5 == 0 {
				used = append(used, at)
			} else if m.Fate == station.ShadedMinute {
				shaded = append(shaded, at)
			}
		}
	}
	low, high := ends(append(append(plotter.XYs{}, lamp...), used...))
	c.X.Min, c.X.Max = low/2, high*2
	s.lawLine(c)
	dots(c, "under the lamp", lamp, look.Orange, look.Triangle, 3.5)
	dots(c, "in the morning, every fifth minute", used, look.Blue, look.Disc, 2)
	dots(c, "shade or cloud, left out", shaded, look.Black, look.Cross, 2.5)
	return s.sheet("Reading over light", "Readings under known light, and the power law that fits them best.", c)
}

// dots adds points, where there are any, and names them.
func dots(c *look.Chart, name string, points plotter.XYs, ink color.RGBA, shape draw.GlyphDrawer, radius vg.Length) {
	if len(points) > 0 {
		c.Key(name, c.Dots(points, ink, shape, radius))
	}
}

// ends are the least and the greatest abscissa.
func ends(points plotter.XYs) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, q := range points {
		low, high = math.Min(low, q.X), math.Max(high, q.X)
	}
	return low, high
}

// lampScale is what a lamp of unknown candela is multiplied by to lie on the law that
// the morning gave; 1 where there is nothing to do or to do it by.
func (s *story) lampScale() float64 {
	if s.lamp.absolute || s.best == nil {
		return 1
	}
	lights := s.lampLights()
	middle := math.Sqrt(least(lights) * greatest(lights))
	return s.best.LuxAt(s.lamp.ValueAt(middle)) / middle
}

// lawLine adds the best law and its 95 % band.
func (s *story) lawLine(p *look.Chart) {
	c := s.best
	if c == nil {
		c = &s.lamp.Calibration
	}
	var line, upper, lower plotter.XYs
	const n = 100
	for i := range n + 1 {
		lux := p.X.Min * math.Pow(p.X.Max/p.X.Min, float64(i)/n)
		v, u := c.ValueAt(lux), 1.96*c.LuxLnU(lux)*math.Abs(c.Slope)
		line = append(line, plotter.XY{X: lux, Y: v})
		upper, lower = append(upper, plotter.XY{X: lux, Y: v * math.Exp(u)}), append(lower, plotter.XY{X: lux, Y: v * math.Exp(-u)})
	}
	for i := range lower {
		upper = append(upper, lower[len(lower)-1-i])
	}
	p.Key("its 95 % band", p.Area(upper, look.Shade))
	p.Key("the law, exponent "+s.exponent(*c), p.Line(line, look.Plain(look.Black)))
}

// langley draws the morning's beam against air mass, and the line of the extinction
// through its middle.
func (s *story) langley() *look.Sheet {
	f := s.fit()
	c := look.NewChart("light of the Sun's disc on a surface that faces it (klx)", "air mass (times the way straight down)", 270)
	c.X.Tick.Marker, c.Y.Scale, c.Y.Tick.Marker = look.Every(1), plot.LogScale{}, look.Decades{}
	var used, shaded plotter.XYs
	var x, y float64
	for i, m := range f.Minutes {
		if at := (plotter.XY{X: m.AirMass, Y: m.Beam / 1000}); !(m.Beam > 0) {
			continue
		} else if m.Fate == station.UsedMinute {
			x, y = x+m.AirMass/float64(f.Used), y+math.Log(at.Y)/float64(f.Used)
			if i%3 == 0 {
				used = append(used, at)
			}
		} else if m.Fate == station.ShadedMinute {
			shaded = append(shaded, at)
		}
	}
	line := func(k float64, style look.Stroke) *plotter.Line {
		from, to := 0.0, math.Ceil(f.AirMass[1])
		return c.Across(from, math.Exp(y-k*(from-x)), to, math.Exp(y-k*(to-x)), style)
	}
	c.Key("extinction "+measured(f.Extinction, f.ExtinctionU)+" an air mass", line(f.Extinction, look.Plain(look.Black)))
	line(f.Extinction-1.96*f.ExtinctionU, look.Dashed(look.Black))
	c.Key("between these with 95 %", line(f.Extinction+1.96*f.ExtinctionU, look.Dashed(look.Black)))
	dots(c, "used, every third minute", used, look.Blue, look.Disc, 2)
	dots(c, "shade or cloud, left out", shaded, look.Black, look.Cross, 2.5)
	c.X.Min, c.X.Max = 0, math.Ceil(f.AirMass[1])
	return s.sheet("Langley's line of "+f.From.Format("2 January 2006"), "The morning's light as the fitted law reads it, falling with the way through the air.", c)
}
