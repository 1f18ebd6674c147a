package shadow

import (
	"fmt"
	"math"

	"example.org/noonfall/sun"
)

// An Area is a rectangle of sites in latitude and longitude: from South and West in
// equal steps as far as North and East, those included where the steps meet them.
// Poles are welcome, and so is the antimeridian: an East that is less than West lies
// beyond it, as in {West: 170, East: -170}. The zero value is refused for want of
// steps; Earth gives all of it.
type Area struct {
	South, North     float64 // degrees, [-90, 90]
	West, East       float64 // degrees, east positive, [-180, 360], one turn apart at most
	LatStep, LonStep float64 // degrees, above 0
	Height           float64 // of all sites, metres above the ellipsoid, [-500, 9000]
}

// Earth is the whole Earth at sea level in steps of some degrees, each meridian once.
func Earth(step float64) Area {
	return Area{South: -90, North: 90, West: -180, East: 180 - step, LatStep: step, LonStep: step}
}

// MostSites is how many an Area may have: two gigabytes of values.
const MostSites = 1 << 28

// A TooManySitesError is an area of more than MostSites.
type TooManySitesError struct {
	Rows, Cols float64 // of the area that was asked for
}

// Error says how many and what to do.
func (e *TooManySitesError) Error() string {
	return fmt.Sprintf("shadow: the area has %.0f rows of %.0f sites, want %d in all at most: widen Area.LatStep or Area.LonStep",
		e.Rows, e.Cols, MostSites)
}

// Validate returns a *sun.RangeError for the first field that cannot be used, or a
// *TooManySitesError.
func (a Area) Validate() error {
	const least = 1e-9 // degrees, a tenth of a millimetre
	for _, f := range []struct {
		name            string
		value, low, top float64
	}{
		{"Area.South", a.South, -90, 90},
		{"Area.North", a.North, a.South, 90},
		{"Area.West", a.West, -180, 360},
		{"Area.East", a.East, -180, 360},
		{"Area.LatStep", a.LatStep, least, 180},
		{"Area.LonStep", a.LonStep, least, 360},
		{"Area.Height", a.Height, -500, 9000},
	} {
		if !(f.value >= f.low && f.value <= f.top) {
			return &sun.RangeError{Field: f.name, Value: f.value, Min: f.low, Max: f.top}
		}
	}
	if w := a.width(); w > 360 {
		return &sun.RangeError{Field: "Area.East", Value: a.East, Min: a.West, Max: a.West + 360}
	}
	rows, cols := count(a.North-a.South, a.LatStep), count(a.width(), a.LonStep)
	if rows*cols > MostSites {
		return &TooManySitesError{rows, cols}
	}
	return nil
}

// width from West eastward to East, degrees.
func (a Area) width() float64 {
	if a.East < a.West {
		return a.East - a.West + 360
	}
	return a.East - a.West
}

// count is how many sites an extent has; the end counts where rounding alone has
// moved it.
func count(extent, step float64) float64 { return math.Floor(extent/step+1e-6) + 1 }

func (a Area) size() (rows, cols int) {
	return int(count(a.North-a.South, a.LatStep)), int(count(a.width(), a.LonStep))
}

// Dims returns the numbers of columns and rows.
func (g *Grid) Dims() (cols, rows int) { return g.Cols, g.Rows }

// X is the longitude of a column, degrees. It only grows, past 180 east of the
// antimeridian.
func (g *Grid) X(col int) float64 { return g.Area.West + float64(col)*g.Area.LonStep }

// Y is the latitude of a row, degrees.
func (g *Grid) Y(row int) float64 {
	return min(g.Area.North, g.Area.South+float64(row)*g.Area.LatStep)
}

// Z is the value of a column and a row. It panics outside the grid, as indexing does.
func (g *Grid) Z(col, row int) float64 { return g.At(row, col) }

// At is the value of a row and a column. It panics outside the grid, as indexing does.
func (g *Grid) At(row, col int) float64 {
	if col < 0 || col >= g.Cols {
		panic(fmt.Sprintf("shadow: column %d of a grid of %d", col, g.Cols))
	}
	return g.Values[row*g.Cols+col]
}

// Site is the place of a row and a column, its longitude in [-180, 180] or, where West
// is more than that, in [-180, 360).
func (g *Grid) Site(row, col int) sun.Site {
	lon := g.X(col)
	if !(lon < 360) {
		lon = math.Remainder(lon, 360)
	}
	return sun.Site{Lat: g.Y(row), Lon: lon, Height: g.Area.Height}
}
