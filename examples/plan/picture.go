package main

import (
	"fmt"
	"image/color"
	"io"
	"math"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"

	"example.org/noonfall/eclipse/limb"
	"example.org/noonfall/examples/internal/look"
)

// writePicture draws the limb's heights around the disc.
func (p *plan) writePicture(w io.Writer) error {
	at := p.middle()
	profile := p.edge.moon.Profile(at.TT)
	c := look.NewChart("height above the almanacs' smooth disc (arcsec)", "position angle at the Moon's centre (degrees from north through east)", 250)
	c.X.Min, c.X.Max, c.X.Tick.Marker = 0, 360, look.Every(30)
	c.Y.Min, c.Y.Max, c.Y.Tick.Marker = -highest, highest, look.Every(2)
	heights(c, profile)
	for i, k := range p.edge.ends() {
		p.contact(c, profile, i, k)
	}
	return p.sheet("The Moon's edge", "The edge of the Moon as the site sees it, and the Sun's edge at second and third contact. Heights: the lunar orbiter laser altimeter's product LDEM_4.", c).WriteSVG(w)
}

// sheet is a picture of the plan, with its place, day and sources.
func (p *plan) sheet(title, caption string, charts ...*look.Chart) *look.Sheet {
	return &look.Sheet{
		Title:   fmt.Sprintf("%s, %s at %s, %s", title, p.elements.Date, sided(p.site.Lat, "N", "S"), sided(p.site.Lon, "E", "W")),
		Caption: caption + " Computed, not measured. Eclipse: " + p.elements.Source + ".", Charts: charts,
	}
}

const (
	// steps are how many places are drawn around the limb: one in a fifth of a degree, as
	// the profile has them.
	steps = 1800
	// highest is what the limb stays below either way, arcsec: its peaks make four.
	highest = 5.5
)

// heights adds the limb, the disc beneath it, and the circle that stands best for it.
func heights(out *look.Chart, profile *limb.Profile) {
	var edge, circle plotter.XYs
	body := plotter.XYs{{X: 0, Y: out.Y.Min}}
	figure := profile.Figure()
	for i := range steps + 1 {
		angle := 360 * float64(i) / steps
		at := plotter.XY{X: angle, Y: profile.Height(angle) * profile.Arcsec}
		edge, body = append(edge, at), append(body, at)
		sin, cos := math.Sincos((angle - profile.Axis) * math.Pi / 180)
		km := figure.Radius - profile.Base + figure.East*sin + figure.North*cos
		circle = append(circle, plotter.XY{X: angle, Y: km * profile.Arcsec})
	}
	body = append(body, plotter.XY{X: 360, Y: out.Y.Min})
	out.Area(body, look.Faint)
	out.Key("the Moon's edge", out.Line(edge, look.Thin(look.Black)))
	out.Key("circle that fits it best", out.Line(circle, look.Dashed(look.Black)))
}

// contact adds the Sun's edge at second or third contact, where it is in the picture,
// and the place where it touches.
func (p *plan) contact(out *look.Chart, profile *limb.Profile, i int, c *limb.Contact) {
	marks := [...]struct {
		name  string
		style look.Stroke
		ink   color.RGBA
		shape draw.GlyphDrawer
	}{{"second", look.Bold(look.Orange), look.Orange, look.Disc}, {"third", look.Dashed(look.Blue), look.Blue, look.Square}}[i]
	angle := onSky(profile, c)
	var line *plotter.Line
	for _, part := range p.arcs(profile, c) {
		line = out.Line(part, marks.style)
	}
	dot := out.Dots(plotter.XYs{{X: angle, Y: profile.Height(angle) * profile.Arcsec}}, marks.ink, marks.shape, 4)
	if line != nil {
		out.Key(fmt.Sprintf("the Sun's edge at %s contact, %s UTC, touches at %.0f", marks.name, clock(c.Contact), angle), line, dot)
	}
}

// onSky is the position angle of a contact at the Moon's centre from celestial north.
func onSky(profile *limb.Profile, c *limb.Contact) float64 {
	return math.Mod(c.OnMoon+profile.Axis+360, 360)
}

// arcs are the pieces of the Sun's edge that are in the picture.
func (p *plan) arcs(profile *limb.Profile, c *limb.Contact) (parts []plotter.XYs) {
	sun := p.sunEdge(c.Contact)
	inside := false
	for i := range steps + 1 {
		angle := 360 * float64(i) / steps
		y := sun(angle) - profile.Base*profile.Arcsec
		if !(math.Abs(y) <= highest) {
			inside = false
			continue
		}
		if !inside {
			parts, inside = append(parts, nil), true
		}
		parts[len(parts)-1] = append(parts[len(parts)-1], plotter.XY{X: angle, Y: y})
	}
	return parts
}
