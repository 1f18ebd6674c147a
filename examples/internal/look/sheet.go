package look

import (
	"bytes"
	"errors"
	"io"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Width of every picture, points. Left and right are its margins.
const (
	Width        vg.Length = 480
	left, right  vg.Length = 8, 22
	above, below vg.Length = 6, 8
	between      vg.Length = 10 // charts
	thumb, gap   vg.Length = 24, 5
)

// A Sheet is a picture: a title above, charts one below the other, a caption at the foot. The
// caption says what is shown, whether it is invented, and whence the data are.
type Sheet struct {
	Title, Caption string
	Charts         []*Chart // with the same abscissa where they are several
}

// Invented is what a caption says of the demo's data.
const Invented = "Invented demo data: nothing was measured."

// Origin is what a caption says of the data of a station with such remarks: that they are
// invented, where the remarks say so as the demo's and a rehearsal's do, or else whose they are.
func Origin(remarks string) string {
	if strings.HasPrefix(remarks, "Invented data") {
		return Invented
	}
	return "Data: the station's own log."
}

// WriteSVG writes the sheet as a drawing.
func (s *Sheet) WriteSVG(w io.Writer) error {
	c := vgsvg.New(Width, s.height())
	if err := s.draw(c); err != nil {
		return err
	}
	var b bytes.Buffer
	if _, err := c.WriteTo(&b); err != nil {
		return err
	}
	// Who lacks the font takes any without serifs, not any.
	_, err := strings.NewReplacer("font-family:Liberation Sans;", "font-family:Liberation Sans,sans-serif;").WriteString(w, b.String())
	return err
}

// WritePNG writes the sheet as dots, 144 an inch.
func (s *Sheet) WritePNG(w io.Writer) error {
	c := vgimg.PngCanvas{Canvas: vgimg.NewWith(vgimg.UseWH(Width, s.height()), vgimg.UseDPI(144), vgimg.UseBackgroundColor(Paper))}
	if err := s.draw(c); err != nil {
		return err
	}
	_, err := c.WriteTo(w)
	return err
}

func (s *Sheet) title() ([]string, text.Style) {
	style := words(large)
	style.Font.Weight = 3 // bold, in steps of golang.org/x/image/font
	return wrapped(style, s.Title, Width-left-right), style
}

func (s *Sheet) caption() ([]string, text.Style) {
	style := words(small)
	return wrapped(style, s.Caption, Width-left-right), style
}

// leading is the height of a line of text.
func leading(style text.Style) vg.Length { return 1.2 * style.Font.Size }

func (s *Sheet) height() vg.Length {
	high := above + below
	title, t := s.title()
	caption, c := s.caption()
	high += vg.Length(len(title))*leading(t) + between/2 + vg.Length(len(caption))*leading(c)
	for _, c := range s.Charts {
		high += c.head() + c.Height + between
	}
	return high
}

func (s *Sheet) draw(canvas vg.CanvasSizer) error {
	c := draw.New(canvas)
	c.FillPolygon(Paper, []vg.Point{c.Min, {X: c.Max.X, Y: c.Min.Y}, c.Max, {X: c.Min.X, Y: c.Max.Y}})
	c.Min.X, c.Max.X = c.Min.X+left, c.Max.X-right
	y := c.Max.Y - above
	lines, style := s.title()
	y = write(c, y, lines, style) - between/2
	axes := s.abscissa(c)
	for _, chart := range s.Charts {
		if chart.err != nil {
			return errors.Join(errors.New("look: a picture of a point that is no number"), chart.err)
		}
		chart.drawHead(c, y)
		y -= chart.head()
		at := c
		at.Max.Y, at.Min.Y = y, y-chart.Height
		if chart.paint != nil {
			chart.paint(at)
		} else {
			at.Min.X, at.Max.X = axes.Min.X-chart.before(c), axes.Max.X+chart.after(c)
			chart.Draw(chart.inside(at))
			chart.drawMoments(at, chart.data(at).Rectangle)
		}
		y -= chart.Height + between
	}
	lines, style = s.caption()
	write(c, y, lines, style)
	return nil
}

// abscissa is where all charts have their data, left to right.
func (s *Sheet) abscissa(c draw.Canvas) vg.Rectangle {
	out := c.Rectangle
	for _, chart := range s.Charts {
		if chart.paint == nil {
			out.Min.X, out.Max.X = max(out.Min.X, c.Min.X+chart.before(c)), min(out.Max.X, c.Max.X-chart.after(c))
		}
	}
	return out
}

// before and after are what a chart needs beside its data.
func (c *Chart) before(at draw.Canvas) vg.Length { return c.data(at).Min.X - at.Min.X }
func (c *Chart) after(at draw.Canvas) vg.Length  { return at.Max.X - c.data(at).Max.X }

// write puts lines below a height and gives the height below them.
func write(c draw.Canvas, y vg.Length, lines []string, style text.Style) vg.Length {
	style.YAlign = draw.YTop
	for _, line := range lines {
		c.FillText(style, vg.Point{X: c.Min.X, Y: y}, line)
		y -= leading(style)
	}
	return y
}

// A place is that of a key, from the left upper corner.
type place struct{ x, y vg.Length }

// rows puts the keys beside each other, where they fit in a wider font too.
func (c *Chart) rows() (places []place, high vg.Length) {
	style := words(small)
	x, y := vg.Length(0), vg.Length(0)
	for _, k := range c.keys {
		wide := thumb + gap + wider*style.Width(k.name)
		if x > 0 && x+wide > Width-left-right {
			x, y = 0, y+1.25*leading(style)
		}
		places = append(places, place{x, y})
		x += wide + 3*gap
	}
	if len(c.keys) > 0 {
		y += 1.4 * leading(style)
	}
	return places, y
}

// head is the height of the key, of the ordinate's name and of the moments' names.
func (c *Chart) head() vg.Length {
	_, high := c.rows()
	if len(c.moments) > 0 {
		whole := draw.Canvas{Rectangle: vg.Rectangle{Max: vg.Point{X: Width - left - right, Y: c.Height}}}
		data := c.data(whole)
		_, rows := c.momentRows(data.Min.X, data.Max.X)
		high += rowHigh * vg.Length(rows)
	}
	if c.y != "" {
		high += 1.35 * leading(words(letters))
	}
	return high
}

func (c *Chart) drawHead(at draw.Canvas, top vg.Length) {
	places, high := c.rows()
	style := words(small)
	style.YAlign = draw.YCenter
	for i, k := range c.keys {
		x, y := at.Min.X+places[i].x, top-places[i].y-leading(style)/2
		icon := at
		icon.Min, icon.Max = vg.Point{X: x, Y: y - 5}, vg.Point{X: x + thumb, Y: y + 5}
		for _, t := range k.thumbs {
			t.Thumbnail(&icon)
		}
		at.FillText(style, vg.Point{X: x + thumb + gap, Y: y}, k.name)
	}
	if c.y != "" {
		write(at, top-high, []string{c.y}, words(letters))
	}
}

var _ plot.Plotter = Labels{}
