package main

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/plot/plotter"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/shadow"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/sun"
	"github.com/stretchr/testify/require"
)

// The site is on its map, which fits the Earth, wherever it is.
func TestRegion(t *testing.T) {
	for _, site := range []sun.Site{{Lat: 36, Lon: -5.6}, {Lat: 65, Lon: -175}, {Lat: 65, Lon: 179}, {Lat: 89, Lon: 10}, {Lat: -70, Lon: 100}, {Lat: 36, Lon: 354.4}} {
		p := planned(t, "2026-08-12", site.Lat, site.Lon, cli.Real)
		c := p.region()
		require.NoError(t, c.area.Validate())
		if x := c.lon(site.Lon); !(x >= c.west && x <= c.east && site.Lat >= c.south && site.Lat <= c.north && c.east-c.west <= 360) {
			t.Errorf("%v is not on the map %+v", site, c)
		}
	}
}

// Where a line of equal obscuration is named, an observer sees that much covered; on the
// central line, beside none of the Moon's radius, the kind that the eclipse has.
func TestLinesAreTrue(t *testing.T) {
	p := planned(t, "2027-08-02", 36, -5.6, cli.Real)
	c := p.region()
	grid, err := shadow.NewGrid(t.Context(), p.elements, c.area, shadow.SeenObscuration, shadow.GridOptions{})
	require.NoError(t, err)
	names := crossings(grid, grid.Cols/2)
	if len(names) < 6 {
		t.Errorf("%d names: %v", len(names), names)
	}
	for _, at := range names {
		seen := circumstancesAt(t, p, at.Y, at.X).SeenObscuration
		if got, want := 100*seen, at.Text; !(math.Abs(got-percentOf(t, want)) < 0.2) {
			t.Errorf("at %v %.2f %% are covered, named %s", at, got, want)
		}
	}
	s, err := shadow.New(p.elements, eclipse.Options{})
	require.NoError(t, err)
	path, err := s.Path(shadow.PathOptions{Km: 500})
	require.NoError(t, err)
	lines := joined(path, func(s *shadow.Section) shadow.Place { return s.Center })
	require.NotEmpty(t, lines)
	for _, at := range lines[0][1 : len(lines[0])-1] {
		if k := circumstancesAt(t, p, at.Y, at.X).Geometry; k != eclipse.Total {
			t.Errorf("%v on the central line: %v", at, k)
		}
	}
}

func circumstancesAt(t *testing.T, p *plan, lat, lon float64) eclipse.Circumstances {
	t.Helper()
	o, err := eclipse.NewObserver(p.elements, sun.Site{Lat: lat, Lon: lon}, eclipse.Options{})
	require.NoError(t, err)
	return o.Circumstances()
}

// A line over longitude 180 is one line, drawn whole wherever the map begins.
func TestLinesTurn(t *testing.T) {
	section := func(lon float64) shadow.Section {
		return shadow.Section{Center: shadow.Place{Exists: true, Site: sun.Site{Lat: 1, Lon: lon}}}
	}
	path := []shadow.Section{section(177), section(179), section(-179), section(-177), {}, section(-170), section(-169)}
	lines := joined(path, func(s *shadow.Section) shadow.Place { return s.Center })
	if len(lines) != 2 || lines[0][3].X != 183 {
		t.Fatalf("%d lines, want two that run on: %v", len(lines), lines)
	}
	for _, west := range []float64{170, -190} {
		c := chart{west: west, east: west + 30, south: -5, north: 5}
		var drawn []plotter.XYs
		for _, line := range lines {
			c.turned(line, func(piece plotter.XYs) { drawn = append(drawn, piece) })
		}
		if len(drawn) != 2 || math.Abs(math.Remainder(drawn[0][2].X-181, 360)) > 0 || drawn[1][1].X != c.lon(-169) {
			t.Errorf("a map from %g: %v", west, drawn)
		}
	}
	earth, ends := chart{west: -180, east: 180, south: -90, north: 90}, 0
	earth.turned(lines[0], func(plotter.XYs) { ends++ })
	if ends != 2 {
		t.Errorf("the map of the Earth has it %d times, want it at either end", ends)
	}
}

func percentOf(t *testing.T, name string) (v float64) {
	t.Helper()
	_, err := fmt.Sscanf(name, "%g %%", &v)
	require.NoError(t, err)
	return v
}
