package shadow

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun"
)

func TestAreaSites(t *testing.T) {
	for _, tt := range []struct {
		name       string
		area       Area
		rows, cols int
		last       sun.Site
	}{
		{"the Earth by quarters of a degree", Earth(0.25), 721, 1440, sun.Site{Lat: 90, Lon: 179.75}},
		{"steps that no float holds", Earth(0.1), 1801, 3600, sun.Site{Lat: 90, Lon: 179.9}},
		{"steps that do not meet the end", Earth(7), 26, 51, sun.Site{Lat: 85, Lon: 170}},
		{"a circle closed for contours", Area{South: -90, North: 90, West: -180, East: 180, LatStep: 90, LonStep: 90}, 3, 5, sun.Site{Lat: 90, Lon: 180}},
		{"across the antimeridian", Area{West: 170, East: -170, LatStep: 1, LonStep: 5}, 1, 5, sun.Site{Lon: 190}},
		{"across both meridians", Area{West: 350, East: 20, LatStep: 1, LonStep: 10}, 1, 4, sun.Site{Lon: 20}},
		{"longitudes from zero", Area{West: 0, East: 359, LatStep: 1, LonStep: 1}, 1, 360, sun.Site{Lon: 359}},
		{"one site", Area{South: 36, North: 36, West: -5.6, East: -5.6, LatStep: 1, LonStep: 1, Height: 10}, 1, 1, sun.Site{Lat: 36, Lon: -5.6, Height: 10}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.NoError(t, tt.area.Validate())
			g := Grid{Area: tt.area}
			g.Rows, g.Cols = tt.area.size()
			if g.Rows != tt.rows || g.Cols != tt.cols {
				t.Fatalf("%d rows of %d, want %d of %d", g.Rows, g.Cols, tt.rows, tt.cols)
			}
			s := g.Site(g.Rows-1, g.Cols-1)
			if !(math.Abs(s.Lat-tt.last.Lat) <= 1e-9 && math.Abs(s.Lon-tt.last.Lon) <= 1e-9 && s.Height == tt.last.Height) {
				t.Errorf("last site %+v, want %+v", s, tt.last)
			}
			for j := range g.Cols {
				if err := g.Site(0, j).Validate(); err != nil {
					t.Errorf("column %d: %v", j, err)
				}
				if j > 0 && !(g.X(j) > g.X(j-1)) {
					t.Errorf("longitude %g after %g", g.X(j), g.X(j-1))
				}
			}
		})
	}
}

func TestAreaRefuses(t *testing.T) {
	nan := math.NaN()
	for _, tt := range []struct {
		field  string
		change func(a *Area)
	}{
		{"Area.South", func(a *Area) { a.South = -91 }},
		{"Area.South", func(a *Area) { a.South = nan }},
		{"Area.North", func(a *Area) { a.North = 91 }},
		{"Area.North", func(a *Area) { a.South, a.North = 10, 9 }},
		{"Area.West", func(a *Area) { a.West = -181 }},
		{"Area.West", func(a *Area) { a.West = nan }},
		{"Area.East", func(a *Area) { a.East = 361 }},
		{"Area.East", func(a *Area) { a.West, a.East = -180, 181 }},
		{"Area.LatStep", func(a *Area) { a.LatStep = 0 }},
		{"Area.LatStep", func(a *Area) { a.LatStep = -1 }},
		{"Area.LonStep", func(a *Area) { a.LonStep = nan }},
		{"Area.LonStep", func(a *Area) { a.LonStep = math.Inf(1) }},
		{"Area.Height", func(a *Area) { a.Height = 9001 }},
	} {
		a := Earth(1)
		tt.change(&a)
		var wrong *sun.RangeError
		if err := a.Validate(); !errors.As(err, &wrong) || wrong.Field != tt.field {
			t.Errorf("%+v: %v, want %s refused", a, err, tt.field)
		}
	}
	var many *TooManySitesError
	for _, step := range []float64{0.01, 1e-9} { // 648 million, and more than an int holds
		if err := Earth(step).Validate(); !errors.As(err, &many) {
			t.Errorf("steps of %g degrees: %v, want a TooManySitesError", step, err)
		}
	}
}

func TestGridIndices(t *testing.T) {
	g := Grid{Area: Area{West: 10, East: 30, South: 1, North: 2, LatStep: 1, LonStep: 10}, Rows: 2, Cols: 3, Values: []float64{0, 1, 2, 3, 4, 5}}
	if cols, rows := g.Dims(); cols != 3 || rows != 2 {
		t.Errorf("%d by %d, want 3 by 2", cols, rows)
	}
	if g.At(1, 2) != 5 || g.Z(2, 0) != 2 || g.X(2) != 30 || g.Y(1) != 2 {
		t.Errorf("%g %g at %g %g, want 5 2 at 30 2", g.At(1, 2), g.Z(2, 0), g.X(2), g.Y(1))
	}
	for _, at := range [][2]int{{0, 3}, {0, -1}, {2, 0}, {-1, 0}} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("row %d, column %d of 2 by 3 gave a value", at[0], at[1])
				}
			}()
			g.At(at[0], at[1])
		}()
	}
}
