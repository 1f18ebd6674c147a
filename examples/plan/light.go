package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"text/tabwriter"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/limb"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/sun/timescale"
)

// cadence is the step of the table of light.
const cadence = 15 * time.Minute

// light lists what a sensor that faces the zenith gets under a clear sky: every
// quarter of an hour while the logger runs, at the contacts, and at the deepest instant
// seen. The Sun is up in all of them.
func light(o *eclipse.Observer, p *plan) ([]eclipse.Point, error) {
	from, until, ok := p.hours()
	if !ok {
		return nil, nil
	}
	curve, err := p.curve(o)
	if errors.Is(err, eclipse.ErrNoEclipse) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	instants := []timescale.TT{p.local.MaxSeen.TT}
	v := p.advice()
	for _, m := range p.moments(v.second, v.third) {
		instants = append(instants, m.TT)
	}
	for t := from.Add(cadence - 1).Truncate(cadence); !t.After(until); t = t.Add(cadence) {
		instants = append(instants, o.Scale().TT(t))
	}
	slices.Sort(instants)
	instants = slices.Compact(instants)
	var points []eclipse.Point
	for _, t := range instants {
		if pt := curve.At(t); pt.Alt > 0 || t == p.local.MaxSeen.TT {
			points = append(points, pt)
		}
	}
	return points, nil
}

// A curve is the light of either Moon.
type curve interface {
	At(t timescale.TT) eclipse.Point
}

func (p *plan) curve(o *eclipse.Observer) (curve, error) {
	if p.limb == cli.Real {
		return limb.NewCurve(p.edge.moon, eclipse.CurveOptions{})
	}
	return eclipse.NewCurve(o, eclipse.CurveOptions{})
}

func (p *plan) lightTable(w io.Writer) {
	if len(p.light) == 0 {
		return
	}
	fmt.Fprint(w, "\nLight on a level sensor, by a model of a clear sky. A real one differs by a third\neither way, by a factor of two where the Sun is low; totality leaves 1 to 10 lx:\n\n")
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	names := p.stages()
	fmt.Fprintln(t, "UTC\t\theight\tcovered\tlight\t")
	low, high := math.Inf(1), 0.0
	for _, pt := range p.light {
		low, high = math.Min(low, pt.Lux), math.Max(high, pt.Lux)
		fmt.Fprintf(t, "%s\t%s\t%d\t%.1f %%\t%s lx\t\n", pt.UTC.Round(time.Second).Format(time.TimeOnly), names[pt.TT], whole(pt.Alt), 100*pt.Obscuration, twoDigits(pt.Lux))
	}
	t.Flush()
	fmt.Fprintf(w, "\nThe sensor must serve from %s to %s lx, or %.1f decades.\n", twoDigits(low), twoDigits(high), math.Log10(high/low))
}

// stages are the names of the contacts' instants.
func (p *plan) stages() map[timescale.TT]string {
	names := map[timescale.TT]string{}
	if p.local.MaxSeen.Exists {
		names[p.local.MaxSeen.TT] = "deepest seen"
	}
	v := p.advice()
	for _, m := range p.moments(v.second, v.third) {
		names[m.TT] = m.prose
	}
	return names
}

// twoDigits writes a positive number with the digits that a model of the sky can
// promise, without an exponent.
func twoDigits(v float64) string {
	if !(v > 0) {
		return "0"
	}
	unit := math.Pow(10, math.Floor(math.Log10(v))-1)
	v = math.Round(v/unit) * unit
	return fmt.Sprintf("%.*f", int(math.Max(0, math.Round(-math.Log10(unit)))), v)
}

type lightJSON struct {
	UTC         cli.Instant `json:"utc"`
	Alt         cli.Number  `json:"alt_deg"`
	Obscuration cli.Number  `json:"obscuration"`
	Flux        cli.Number  `json:"flux"`     // visible fraction of the Sun's light
	Lux         cli.Number  `json:"light_lx"` // on the horizontal, clear sky
}

func lightAnswer(points []eclipse.Point) []lightJSON {
	rows := []lightJSON{}
	for _, pt := range points {
		rows = append(rows, lightJSON{cli.Instant(pt.UTC), cli.Number(pt.Alt), cli.Number(pt.Obscuration), cli.Number(pt.Flux), cli.Number(fourDigits(pt.Lux))})
	}
	return rows
}

// fourDigits leaves of a light what a program may want to plot and the last bits of
// an arithmetic cannot move.
func fourDigits(lux float64) float64 {
	if !(lux > 0) {
		return lux
	}
	unit := math.Pow(10, math.Floor(math.Log10(lux))-3)
	return math.Round(lux/unit) * unit
}
