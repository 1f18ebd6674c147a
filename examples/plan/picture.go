package main

import (
	"fmt"
	"image/color"
	"io"
	"math"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"

	"example.org/noonfall/eclipse/limb"
)

// Colours that the colour-blind and a grey printer tell apart, by their lightness too.
var (
	moonInk  = color.RGBA{R: 0x44, G: 0x44, B: 0x44, A: 0xff}
	bodyInk  = color.RGBA{R: 0xd8, G: 0xd8, B: 0xd8, A: 0xff}
	paths    = [2]color.RGBA{{R: 0xd5, G: 0x5e, B: 0x00, A: 0xff}, {R: 0x00, G: 0x50, B: 0x90, A: 0xff}}
	discInk  = color.RGBA{A: 0xff}
	dashed   = []vg.Length{vg.Points(5), vg.Points(3)}
	sunDash  = [2][]vg.Length{nil, {vg.Points(8), vg.Points(2)}}
	touchers = [2]draw.GlyphDrawer{draw.CircleGlyph{}, draw.BoxGlyph{}}
)

const pictureWidth, pictureHeight = 9 * vg.Inch, 4.6 * vg.Inch

// writePicture draws the limb's heights around the disc.
func (p *plan) writePicture(w io.Writer) error {
	picture, err := p.picture()
	if err != nil {
		return err
	}
	c := vgsvg.New(pictureWidth, pictureHeight)
	// Room at the sides for numbers in whatever font a viewer has.
	picture.Draw(draw.Crop(draw.New(c), vg.Points(16), -vg.Points(28), vg.Points(4), -vg.Points(4)))
	_, err = c.WriteTo(w)
	return err
}

func (p *plan) picture() (*plot.Plot, error) {
	at := p.middle()
	profile := p.edge.moon.Profile(at.TT)
	out := plot.New()
	out.Title.Text = fmt.Sprintf("The Moon's edge on %s from %s, %s\nheight above the almanacs' smooth disc, arcsec", p.elements.Date,
		sided(p.site.Lat, "N", "S"), sided(p.site.Lon, "E", "W"))
	out.Title.Padding = vg.Points(8)
	apart(out)
	out.X.Label.Text = "position angle at the Moon's centre, degrees from north through east"
	out.X.Min, out.X.Max, out.X.Tick.Marker = 0, 360, every(30)
	out.Y.Min, out.Y.Max, out.Y.Tick.Marker = -highest, highest+3.5, every(2) // the legend stands above
	out.Legend.Top, out.Legend.Left, out.Legend.XOffs = true, true, vg.Points(10)
	out.Legend.ThumbnailWidth, out.Legend.Padding = vg.Points(34), vg.Points(3)
	if err := heights(out, profile); err != nil {
		return nil, err
	}
	for i, c := range p.edge.ends() {
		if err := p.contact(out, profile, i, c); err != nil {
			return nil, err
		}
	}
	return out, nil
}

const (
	// steps are how many places are drawn around the limb: one in a fifth of a degree, as
	// the profile has them.
	steps = 1800
	// highest is what the limb stays below either way, arcsec: its peaks make four.
	highest = 5.5
)

// heights adds the limb, the disc beneath it, and the circle that stands best for it.
func heights(out *plot.Plot, profile *limb.Profile) error {
	var edge, body, circle plotter.XYs
	body = append(body, plotter.XY{X: 0, Y: out.Y.Min})
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
	moon, err := plotter.NewPolygon(body)
	if err != nil {
		return err
	}
	moon.Color, moon.LineStyle.Width = bodyInk, 0
	line, err := plotter.NewLine(edge)
	if err != nil {
		return err
	}
	line.Color, line.Width = moonInk, vg.Points(0.8)
	best, err := plotter.NewLine(circle)
	if err != nil {
		return err
	}
	best.Color, best.Width, best.Dashes = discInk, vg.Points(1), dashed
	out.Add(moon, line, best)
	out.Legend.Add("the Moon's edge", line)
	out.Legend.Add("circle that fits it best", best)
	return nil
}

// contact adds the Sun's edge at second or third contact, where it is in the picture,
// and the place where it touches.
func (p *plan) contact(out *plot.Plot, profile *limb.Profile, i int, c *limb.Contact) error {
	angle := onSky(profile, c)
	dot, err := plotter.NewScatter(plotter.XYs{{X: angle, Y: profile.Height(angle) * profile.Arcsec}})
	if err != nil {
		return err
	}
	dot.GlyphStyle = draw.GlyphStyle{Color: paths[i], Radius: vg.Points(4), Shape: touchers[i]}
	name := fmt.Sprintf("the Sun's edge at %s contact, %s UTC, touches at %.0f", [...]string{"second", "third"}[i], clock(c.Contact), angle)
	for _, part := range p.arcs(profile, c) {
		line, err := plotter.NewLine(part)
		if err != nil {
			return err
		}
		line.Color, line.Width, line.Dashes = paths[i], vg.Points(1.6), sunDash[i]
		out.Add(line)
		if name != "" {
			out.Legend.Add(name, line, dot)
			name = ""
		}
	}
	out.Add(dot)
	return nil
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

// every marks an axis at the multiples of itself.
type every float64

func (e every) Ticks(low, high float64) (out []plot.Tick) {
	for v := math.Ceil(low/float64(e)) * float64(e); v <= high; v += float64(e) {
		out = append(out, plot.Tick{Value: v, Label: strconv.FormatFloat(v, 'f', -1, 64)})
	}
	return out
}
