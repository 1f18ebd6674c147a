package main

import (
	"fmt"
	"io"
	"math"
	"time"

	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/cli"
)

// notes are the clock beside a better one, for programs: offset_s is what they say at the
// instant at_utc, normalised their difference from the light's over both uncertainties.
type notes struct {
	At         cli.Instant `json:"at_utc"`
	Offset     cli.Number  `json:"offset_s"`
	U          cli.Number  `json:"u_s"`
	Drift      cli.Number  `json:"drift_ppm"`
	DriftU     cli.Number  `json:"u_drift_ppm"`
	Normalised cli.Number  `json:"normalised"`
	Notes      []note      `json:"notes"`
}

type note struct {
	Stamp      cli.Instant `json:"stamp"`
	UTC        cli.Instant `json:"utc"`
	Offset     cli.Number  `json:"offset_s"`
	U          cli.Number  `json:"u_s"`
	Normalised cli.Number  `json:"normalised"`
}

func notesOf(n *station.Noted) *notes {
	if n == nil {
		return nil
	}
	out := &notes{At: cli.Instant(n.At), Offset: cli.Number(n.Offset), U: cli.Number(n.OffsetU), Drift: none, DriftU: none, Normalised: number(n.Normalised)}
	if d := n.Drift; d != nil {
		out.Drift, out.DriftU = cli.Number(d.PPM), cli.Number(d.U)
	}
	for _, k := range n.Notes {
		out.Notes = append(out.Notes, note{cli.Instant(k.Stamp), cli.Instant(k.UTC), cli.Number(k.Offset), cli.Number(k.U), number(k.Normalised)})
	}
	return out
}

func number(v *float64) cli.Number {
	if v == nil {
		return none
	}
	return cli.Number(*v)
}

// setBy takes down how the clock was set.
func (c *clock) setBy(way station.ClockSet) {
	if way == "" {
		return
	}
	name := string(way)
	c.Set = &name
	if u := way.U(); !math.IsInf(u, 1) {
		c.SetU = cli.Number(u)
	}
}

// writeNotes says how the clock was set and what the notes of it say.
func writeNotes(w io.Writer, rep *station.Report) {
	if way := rep.Station.ClockSet; way != "" {
		fmt.Fprintf(w, "  It was set by %s", way)
		if way == station.SetUnknown {
			fmt.Fprint(w, " means")
		}
		if u := way.U(); !math.IsInf(u, 1) {
			fmt.Fprintf(w, ", to %g s as a rule on the day", u)
		}
		fmt.Fprintln(w, ".")
	}
	n := rep.Noted
	if n == nil {
		return
	}
	fmt.Fprintf(w, "  %s of it against a better clock: stamp minus UTC was %+.1f s +- %.1f s at %s", plural(int64(len(n.Notes)), "note"), n.Offset, n.OffsetU, n.At.Format(time.TimeOnly))
	if d := n.Drift; d != nil {
		fmt.Fprintf(w, ", gaining %.2f +- %.2f s an hour", d.PPM*3.6e-3, d.U*3.6e-3)
	}
	fmt.Fprintln(w, ".")
	if e := n.Normalised; e != nil {
		fmt.Fprintf(w, "  That is %+.1f s from what the light says, %.1f standard uncertainties of both.\n", n.Offset-n.Fit.Offset, math.Abs(*e))
	}
}
