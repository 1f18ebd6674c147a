package main

import (
	"fmt"
	"io"
	"math"
	"time"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/examples/internal/look"
	"example.org/noonfall/sun/timescale"
)

// A face is the Sun at an instant, for somebody who looks at it with the zenith up. The
// Moon's centre is X to the right of the Sun's and Y above it.
type face struct {
	eclipse.Contact
	X, Y, Sun, Moon float64 // degrees; Sun and Moon are radii
	Obscuration     float64
	deepest         bool
}

func faceAt(o *eclipse.Observer, t timescale.TT) face {
	c, a := o.Instant(t), o.Aspect(t)
	sin, cos := math.Sincos(c.V * math.Pi / 180)
	// V runs anticlockwise from the zenith, so that 90 is on the left.
	return face{Contact: c, X: -a.Separation * sin, Y: a.Separation * cos, Sun: a.SunRadius, Moon: a.MoonRadius, Obscuration: a.Obscuration}
}

// bite is the outline of what the Moon covers, about the Sun's centre in Sun's radii:
// places of the Moon's limb, drawn in to the Sun's edge where they are outside of it.
func (f *face) bite() (outline []vg.Point) {
	for i := range bitePoints {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / bitePoints)
		x, y := (f.X+f.Moon*cos)/f.Sun, (f.Y+f.Moon*sin)/f.Sun
		inwards := 1 / math.Max(1, math.Hypot(x, y))
		outline = append(outline, vg.Point{X: vg.Length(x * inwards), Y: vg.Length(y * inwards)})
	}
	return outline
}

const (
	sunsAcross, sunsDown = 3, 4
	// bitePoints make the bite's area too small by a thousandth of itself at most.
	bitePoints = 120
)

// faces are a dozen instants at equal steps from first contact to fourth, or while the Sun
// is up; the nearest to the deepest instant is put right there.
func (p *plan) faces() (all []face) {
	c := &p.local
	if c.Seen == eclipse.None {
		return nil
	}
	o := p.edge.moon.Observer()
	begin, end := c.C1, c.C4
	if !begin.Above && c.Rise.Exists {
		begin = c.Rise
	}
	if !end.Above && c.Set.Exists {
		end = c.Set
	}
	const n = sunsAcross * sunsDown
	step := (end.TT - begin.TT) / (n - 1)
	deepest := min(n-1, max(0, int(math.Round(float64((c.MaxSeen.TT-begin.TT)/step)))))
	for i := range n {
		at := begin.TT + timescale.TT(i)*step
		if i == deepest {
			at = c.MaxSeen.TT
		}
		f := faceAt(o, at)
		f.deepest = i == deepest
		all = append(all, f)
	}
	return all
}

// writeSuns draws them.
func (p *plan) writeSuns(w io.Writer) error {
	const wide, high, words = (look.Width - 30) / sunsAcross, 160, 46 // points
	c := look.Painted(sunsDown*high, func(at draw.Canvas) {
		style := look.Words()
		for i, f := range p.faces() {
			left, top := at.Min.X+wide*vg.Length(i%sunsAcross), at.Max.Y-high*vg.Length(i/sunsAcross)
			const half = (high - words) / 2
			f.draw(at, vg.Point{X: left + half, Y: top - half}, half-2)
			at.FillText(style, vg.Point{X: left + 2, Y: top - 2*half}, f.words())
		}
	})
	return p.sheet("The Sun", "Through a filter only. Up is the zenith, right is where the azimuth grows; a stroke shows where the discs touch. Heights and azimuths in degrees.", c).WriteSVG(w)
}

// draw paints a square of sky with the Sun in it.
func (f *face) draw(canvas vg.Canvas, centre vg.Point, half vg.Length) {
	radius := half * 0.72
	canvas.SetColor(look.Black)
	canvas.Fill(square(centre, half))
	canvas.SetColor(look.Yellow)
	canvas.Fill(circle(centre, radius))
	var bite vg.Path
	for i, at := range f.bite() {
		to := vg.Point{X: centre.X + at.X*radius, Y: centre.Y + at.Y*radius}
		if i == 0 {
			bite.Move(to)
		} else {
			bite.Line(to)
		}
	}
	bite.Close()
	canvas.SetColor(look.Black)
	canvas.Fill(bite)
	canvas.SetColor(look.Grey)
	canvas.SetLineWidth(0.5)
	canvas.Stroke(circle(centre, radius))
	if f.Obscuration < touching {
		canvas.SetColor(look.Yellow)
		canvas.SetLineWidth(2)
		canvas.Stroke(f.touch(centre, radius))
	}
}

// touching is the obscuration below which the place where the discs touch is pointed at.
const touching = 1e-3

// touch is a stroke outside of the Sun's edge, towards the Moon.
func (f *face) touch(centre vg.Point, radius vg.Length) (p vg.Path) {
	far := math.Hypot(f.X, f.Y)
	x, y := vg.Length(f.X/far)*radius, vg.Length(f.Y/far)*radius
	p.Move(vg.Point{X: centre.X + 1.05*x, Y: centre.Y + 1.05*y})
	p.Line(vg.Point{X: centre.X + 1.25*x, Y: centre.Y + 1.25*y})
	return p
}

func (f *face) words() string {
	depth := fmt.Sprintf("%.1f %% covered", 100*f.Obscuration)
	if f.deepest {
		depth += ", the most"
	}
	return fmt.Sprintf("%s UTC\n%s\nheight %d, azimuth %d", f.UTC.Round(time.Second).Format(time.TimeOnly), depth, int(math.Round(f.Alt)), int(math.Round(f.Az)))
}

func circle(centre vg.Point, radius vg.Length) (p vg.Path) {
	p.Move(vg.Point{X: centre.X + radius, Y: centre.Y})
	p.Arc(centre, radius, 0, 2*math.Pi)
	p.Close()
	return p
}

func square(centre vg.Point, half vg.Length) vg.Path {
	return vg.Rectangle{Min: vg.Point{X: centre.X - half, Y: centre.Y - half}, Max: vg.Point{X: centre.X + half, Y: centre.Y + half}}.Path()
}
