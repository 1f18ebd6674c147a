package main

import (
	"context"
	"fmt"
	"io"
	"math"
	"slices"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/shadow"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/sun"
)

// near is where there is more to see.
type near struct {
	view *sun.Site    // the nearest place that sees anything; nil where the site itself does
	line *shadow.Pass // the nearest point of the central line; nil without one
}

// look searches the Earth for both.
func (p *plan) look(ctx context.Context) (err error) {
	const all = 20037 // km, half a turn of the Earth
	elements := slices.Values([]*eclipse.Elements{p.elements})
	for pass, err := range shadow.Near(ctx, elements, p.site, all, p.options()) {
		if err != nil {
			return err
		}
		p.near.line = &pass
	}
	if p.local.Seen == eclipse.None {
		p.near.view, err = p.nearestView(ctx)
	}
	return err
}

// nearestView goes over the Earth in steps of two degrees, and then in steps of a twentieth
// about the nearest that sees something: the answer is good to some ten kilometres.
func (p *plan) nearestView(ctx context.Context) (*sun.Site, error) {
	const coarse, fine = 2, 0.05
	best, err := p.nearestOf(ctx, shadow.Earth(coarse))
	if err != nil || best == nil {
		return nil, err
	}
	wide := min(20, coarse/math.Max(0.01, math.Cos(best.Lat*math.Pi/180)))
	return p.nearestOf(ctx, shadow.Area{South: max(-90, best.Lat-coarse), North: min(90, best.Lat+coarse), LatStep: fine,
		West: math.Remainder(best.Lon-wide, 360), East: math.Remainder(best.Lon-wide, 360) + 2*wide, LonStep: wide * fine / coarse})
}

func (p *plan) nearestOf(ctx context.Context, area shadow.Area) (best *sun.Site, err error) {
	grid, err := shadow.NewGrid(ctx, p.elements, area, shadow.SeenObscuration, shadow.GridOptions{Options: p.options()})
	if err != nil {
		return nil, err
	}
	least := math.Inf(1)
	for row := range grid.Rows {
		for col := range grid.Cols {
			if !(grid.At(row, col) > 0) {
				continue
			}
			site := grid.Site(row, col)
			if km, _ := towards(p.site, site); km < least {
				best, least = &site, km
			}
		}
	}
	return best, nil
}

// towards is the way from a to b along the great circle of a sphere, km, and the direction
// in which it begins, degrees from north through east. The sphere is within half a per cent
// of the Earth (J. Meeus, Astronomical Algorithms, 2nd ed. 1998, chapter 11).
func towards(a, b sun.Site) (km, direction float64) {
	const deg, radius = math.Pi / 180, 6371
	sinA, cosA := math.Sincos(a.Lat * deg)
	sinB, cosB := math.Sincos(b.Lat * deg)
	sinL, cosL := math.Sincos((b.Lon - a.Lon) * deg)
	east, north := cosB*sinL, cosA*sinB-sinA*cosB*cosL
	angle := math.Atan2(math.Hypot(east, north), sinA*sinB+cosA*cosB*cosL)
	return radius * angle, math.Mod(math.Atan2(east, north)/deg+360, 360)
}

// wind is a direction in words.
func wind(direction float64) string {
	names := []string{"north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"}
	return names[int(math.Round(direction/45))%len(names)]
}

func place(s sun.Site) string {
	return fmt.Sprintf("%.2f %s, %.2f %s", math.Abs(s.Lat), side(s.Lat, "N", "S"), math.Abs(math.Remainder(s.Lon, 360)), side(math.Remainder(s.Lon, 360), "E", "W"))
}

func side(v float64, plus, minus string) string {
	if v < 0 {
		return minus
	}
	return plus
}

// nearWords says where to go.
func (p *plan) nearWords(w io.Writer) {
	if view := p.near.view; view != nil {
		km, direction := towards(p.site, *view)
		fmt.Fprint(w, "\n"+cli.Wrap(fmt.Sprintf("The nearest place that sees the Sun touched is about %.0f km to the %s, near %s: a sliver, with the Sun at the horizon or the Moon at the Sun's edge.",
			km, wind(direction), place(*view)), "", ""))
	}
	line := p.near.line
	if line == nil || line.Km < 1 || p.advice().seen == eclipse.None && p.near.view == nil {
		return
	}
	_, direction := towards(p.site, line.Nearest)
	fmt.Fprint(w, "\n"+cli.Wrap(fmt.Sprintf("The central line passes %.0f km to the %s, at %s, where the eclipse is %s at %s UTC.", line.Km, wind(direction),
		place(line.Nearest), line.Kind, p.edge.moon.Observer().Scale().UTC(line.TT).Round(time.Second).Format(time.TimeOnly)), "", ""))
}

type nearJSON struct {
	View *placeJSON `json:"view"`         // null where the site sees something
	Line *placeJSON `json:"central_line"` // null without one
}

type placeJSON struct {
	Lat       cli.Number `json:"lat_deg"`
	Lon       cli.Number `json:"lon_deg"`
	Km        cli.Number `json:"km"`
	Direction cli.Number `json:"direction_deg"` // from north through east
}

func (p *plan) nearAnswer() (a nearJSON) {
	told := func(s sun.Site) *placeJSON {
		km, direction := towards(p.site, s)
		return &placeJSON{cli.Number(s.Lat), cli.Number(s.Lon), cli.Number(km), cli.Number(direction)}
	}
	if p.near.view != nil {
		a.View = told(*p.near.view)
	}
	if p.near.line != nil {
		a.Line = told(p.near.line.Nearest)
		a.Line.Km = cli.Number(p.near.line.Km)
	}
	return a
}
