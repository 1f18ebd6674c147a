package look

import (
	"bytes"
	"image/png"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// two are charts of which the lower has the longer numbers.
func two() []*Chart {
	upper, lower := NewChart("up (1)", "", 100), NewChart("down (1)", "along (s)", 80)
	upper.Key("rising", upper.Line(plotter.XYs{{X: 0, Y: 0}, {X: 1, Y: 1}}, Bold(Blue)))
	lower.Line(plotter.XYs{{X: 0, Y: 1e6}, {X: 1, Y: 2e6}}, Dashed(Orange))
	return []*Chart{upper, lower}
}

func TestSheetHasAllItsWords(t *testing.T) {
	s := &Sheet{Title: "A title", Caption: "What it shows.", Charts: two()}
	var svg, dots bytes.Buffer
	require.NoError(t, s.WriteSVG(&svg))
	for _, want := range []string{">A title<", ">What it shows.<", ">up (1)<", ">down (1)<", ">along (s)<", ">rising<", ">1,000,000<", `viewBox="0 0 480 `} {
		if !strings.Contains(svg.String(), want) {
			t.Errorf("the drawing lacks %s", want)
		}
	}
	s.Charts = two()
	require.NoError(t, s.WritePNG(&dots))
	img, err := png.Decode(&dots)
	require.NoError(t, err)
	if wide := img.Bounds().Dx(); wide != 2*480 {
		t.Errorf("%d dots wide, want two a point", wide)
	}
}

// Charts that share an abscissa have it at the same place, whatever their numbers.
func TestChartsAreAligned(t *testing.T) {
	s := &Sheet{Charts: two()}
	whole := draw.Canvas{Rectangle: vg.Rectangle{Max: vg.Point{X: Width, Y: 100}}}
	axes := s.abscissa(whole)
	for _, c := range s.Charts {
		at := whole
		at.Min.X, at.Max.X = axes.Min.X-c.before(whole), axes.Max.X+c.after(whole)
		if got := c.data(at); !(math.Abs(float64(got.Min.X-axes.Min.X)) < 0.5 && math.Abs(float64(got.Max.X-axes.Max.X)) < 0.5) {
			t.Errorf("the data lie from %.1f to %.1f, want %.1f to %.1f", got.Min.X, got.Max.X, axes.Min.X, axes.Max.X)
		}
	}
}

func TestNoNumberIsAnError(t *testing.T) {
	bad := plotter.XYs{{X: 0, Y: math.NaN()}, {X: 1, Y: 1}, {X: 2, Y: 2}}
	for name, add := range map[string]func(*Chart){
		"line": func(c *Chart) { c.Line(bad, Plain(Black)) },
		"dots": func(c *Chart) { c.Dots(bad, Black, Disc, 2) },
		"area": func(c *Chart) { c.Area(bad, Shade) },
	} {
		c := NewChart("y (1)", "x (1)", 100)
		add(c)
		if err := (&Sheet{Charts: []*Chart{c}}).WriteSVG(new(bytes.Buffer)); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// Names of moments that are near each other stand on rows of their own; those outside of the
// chart are left out.
func TestMomentsKeepApart(t *testing.T) {
	c := NewChart("y (1)", "x (1)", 100)
	c.X.Min, c.X.Max = 0, 100
	for _, m := range []struct {
		x    float64
		name string
	}{{10, "C1"}, {48, "C2"}, {50, "max"}, {52, "C3"}, {90, "C4"}, {101, "after"}} {
		c.Contact(m.x, m.name)
	}
	row, rows := c.momentRows(0, 400)
	if want := []int{0, 0, 1, 0, 0, -1}; !slices.Equal(row, want) || rows != 2 {
		t.Errorf("rows %v of %d, want %v of 2", row, rows, want)
	}
}

func TestWrapped(t *testing.T) {
	style := words(small)
	got := wrapped(style, "one two three four five six seven\neight", 100)
	if strings.Join(got, " ") != "one two three four five six seven eight" || got[len(got)-1] != "eight" {
		t.Errorf("%q", got)
	}
	for _, line := range got {
		if style.Width(line)*wider > 100 {
			t.Errorf("%q is too wide", line)
		}
	}
	if got := wrapped(style, strings.Repeat("x", 99), 100); len(got) != 1 {
		t.Errorf("a long word is in %d lines", len(got))
	}
}

func TestShape(t *testing.T) {
	c := NewChart("y (1)", "x (1)", 0)
	c.Line(plotter.XYs{{X: 0, Y: 0}, {X: 1, Y: 1}}, Plain(Black))
	c.Shape(0.5)
	data := c.data(draw.Canvas{Rectangle: vg.Rectangle{Max: vg.Point{X: Width - left - right, Y: c.Height}}})
	wide, high := data.Max.X-data.Min.X, data.Max.Y-data.Min.Y
	if !(math.Abs(float64(high/wide)-0.5) < 0.01) {
		t.Errorf("%.1f by %.1f, want half as high as wide", wide, high)
	}
}

func TestOrigin(t *testing.T) {
	for remarks, want := range map[string]string{
		"Invented data: a rehearsal; nothing was measured.": Invented,
		"The box stood on a roof.":                          "Data: the station's own log.",
		"":                                                  "Data: the station's own log.",
	} {
		if got := Origin(remarks); got != want {
			t.Errorf("%q: %q, want %q", remarks, got, want)
		}
	}
}
