package look

import (
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// A moment is an abscissa with a name, which stands above the data.
type moment struct {
	x    float64
	name string
	side text.XAlignment
}

// At draws a dashed line up from an abscissa to a name above the data, on a side of the line.
// Names that would run into each other stand on different rows.
func (c *Chart) At(x float64, name string, side text.XAlignment) {
	c.moments = append(c.moments, moment{x, name, side})
}

// Contact marks one of an eclipse's; those around totality get out of each other's way.
func (c *Chart) Contact(x float64, name string) {
	side := Above
	switch name {
	case "C2":
		side = Before
	case "C3":
		side = After
	}
	c.At(x, name, side)
}

const rowHigh = 12 // of a moment's name, points

// momentRows gives each moment that is in the chart its row, from 0 at the data, and the number of rows.
// The places are reckoned for data from left to right.
func (c *Chart) momentRows(left, right vg.Length) (row []int, rows int) {
	style := words(small)
	var ends []vg.Length // of the rows
	for _, m := range c.moments {
		if m.x < c.X.Min || m.x > c.X.Max {
			row = append(row, -1)
			continue
		}
		wide := style.Width(m.name)
		from := left + (right-left)*vg.Length(c.X.Norm(m.x)) + wide*vg.Length(m.side)
		k := 0
		for k < len(ends) && from < ends[k] {
			k++
		}
		if k == len(ends) {
			ends = append(ends, 0)
		}
		ends[k] = from + wide*wider + 4 // another font begins there and ends further right
		row = append(row, k)
	}
	return row, len(ends)
}

// drawMoments draws them, once the chart is drawn; data is where its data are.
func (c *Chart) drawMoments(at draw.Canvas, data vg.Rectangle) {
	row, _ := c.momentRows(data.Min.X, data.Max.X)
	for i, m := range c.moments {
		if row[i] < 0 {
			continue
		}
		x := data.Min.X + (data.Max.X-data.Min.X)*vg.Length(c.X.Norm(m.x))
		y := data.Max.Y + rowHigh*vg.Length(row[i])
		at.StrokeLine2(Marking(), x, data.Min.Y, x, y+2)
		style := words(small)
		style.XAlign = m.side
		at.FillText(style, vg.Point{X: x, Y: y + 3}, m.name)
	}
}
