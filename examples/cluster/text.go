package main

import (
	"context"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"example.org/noonfall/eclipse/campaign"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/examples/internal/pooled"
)

// write tells what came of it, and keeps the whole answer beside the parts. Of 100,000 stations
// that is most of a gigabyte, which is not made twice.
func (o *settings) write(ctx context.Context, out io.Writer, p *pooled.Pooling, counted map[string]int64) error {
	err := writeFile(ctx, o.folder()+"/pool.json", func(w io.Writer) error {
		if o.JSON {
			w = io.MultiWriter(w, out)
		}
		return p.WriteJSON(w)
	})
	if err != nil || o.JSON {
		return err
	}
	_, err = io.WriteString(out, told(p, counted))
	return err
}

// told is the short of it; who wants the stations one by one has them in the JSON.
func told(p *pooled.Pooling, counted map[string]int64) string {
	var b strings.Builder
	say := func(format string, args ...any) { b.WriteString(cli.Wrap(fmt.Sprintf(format, args...), "", "") + "\n") }
	say("%d stations of the solar eclipse of %s.", len(p.Stations), p.Eclipse)
	say("The engine counted %d summaries (%d of them refused a clock), %d failed, %d records, %d lines refused, %d files.",
		counted["stations"], counted["refused"], counted["failed"], counted["records"], counted["problems"], counted["files"])
	speed, moon := campaign.Figure{}, campaign.Figure{}
	if p.Sweep != nil {
		speed = p.Sweep.Speed
	}
	if p.Moon != nil {
		moon = p.Moon.Km
	}
	for _, f := range []struct {
		name, format string
		campaign.Figure
	}{
		{"shared offset", "The offset that trusted clocks share: %.2f +- %.2f s (%d stations).", p.Shared},
		{"shadow", "The shadow's speed over the ground: %.3f +- %.3f km/s (%d stations).", speed},
		{"moon", "The Moon's distance: %.0f +- %.0f km (%d stations).", moon},
	} {
		if f.N > 0 {
			say(f.format, f.Value, f.U, f.N)
		} else {
			say("No %s: %s.", f.name, p.Untold[f.name])
		}
	}
	for _, day := range slices.Sorted(maps.Keys(p.Apart)) {
		say("%d of the eclipse of %s are left out; -date %s pools them.", p.Apart[day], day, day)
	}
	for _, f := range p.Failed {
		say("Failed: %s.", f.Reason)
	}
	say("All of it, station by station: -json, the same bytes as of examples/pool.")
	return b.String()
}
