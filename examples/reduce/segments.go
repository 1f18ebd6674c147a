package main

import (
	"fmt"
	"io"
	"math"

	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/cli"
)

// A stretch is a part of the log between two moves of its clock, for programs.
type stretch struct {
	From    cli.Instant   `json:"from"` // stamps
	To      cli.Instant   `json:"to"`
	Verdict string        `json:"verdict"`
	Reason  *string       `json:"reason"`
	Offset  cli.Number    `json:"offset_s"`
	U       cli.Number    `json:"u_s"`
	CI95    [2]cli.Number `json:"ci95_s"`
}

func stretchesOf(rep *station.Report) []stretch {
	out := []stretch{}
	for _, s := range rep.Segments {
		k := stretch{From: cli.Instant(s.From), To: cli.Instant(s.To), Verdict: "refused", Offset: none, U: none, CI95: [2]cli.Number{none, none}}
		if s.Refusal != nil {
			reason := s.Refusal.Reason.String()
			k.Reason = &reason
		}
		if c := s.Clock; c != nil {
			k.Verdict, k.Offset, k.U = "fitted", cli.Number(c.Offset), cli.Number(c.OffsetU)
			k.CI95 = [2]cli.Number{cli.Number(c.CI95[0]), cli.Number(c.CI95[1])}
		}
		out = append(out, k)
	}
	return out
}

// writeStretches lists them for people.
func writeStretches(w io.Writer, rep *station.Report) {
	if len(rep.Segments) == 0 {
		return
	}
	fmt.Fprintf(w, "  The clock was moved; each stretch of the log has an offset of its own:\n")
	for _, s := range rep.Segments {
		fmt.Fprintf(w, "    %s to %s: ", s.From.Format("2 Jan 15:04:05"), s.To.Format("15:04:05"))
		if c := s.Clock; c != nil {
			fmt.Fprintf(w, "%+.1f s, 95 %% between %+.1f and %+.1f s\n", c.Offset, c.CI95[0], c.CI95[1])
		} else {
			fmt.Fprintf(w, "no verdict: %v\n", s.Refusal.Reason)
		}
	}
}

// writeChannels says what the light columns of a log with two say of the clock.
func writeChannels(w io.Writer, rep *station.Report) {
	for i, c := range rep.Channels {
		fmt.Fprintf(w, "  Light column %d alone: ", i+1)
		if c.Clock != nil {
			fmt.Fprintf(w, "%+.1f s, 95 %% between %+.1f and %+.1f s.\n", c.Clock.Offset, c.Clock.CI95[0], c.Clock.CI95[1])
		} else {
			fmt.Fprintf(w, "no verdict, %v.\n", c.Refusal.Reason)
		}
	}
}

// writeDrift says how fast the clock went, where that was asked.
func writeDrift(w io.Writer, ppm, u float64) {
	if u == 0 {
		return
	}
	way := "gained"
	if ppm < 0 {
		way = "lost"
	}
	fmt.Fprintf(w, "  It %s %.2f s an hour, give or take %.2f s.\n", way, math.Abs(ppm)*3.6e-3, u*3.6e-3)
}

// mistaken is a mistake with the site or the date that the light suggests, for programs.
type mistaken struct {
	What string     `json:"what"`
	Lat  cli.Number `json:"lat_deg"`
	Lon  cli.Number `json:"lon_deg"`
	Days int        `json:"days"` // by which the log's dates are ahead
	// Eclipse is the day of the eclipse that it is of; null for the station's own.
	Eclipse *string    `json:"eclipse"`
	Offset  cli.Number `json:"offset_s"` // null where dawn and dusk alone tell it
}

// foundZone is the zone of the stamps where the light shows another than was read.
type foundZone struct {
	Hours cli.Number `json:"hours"` // from the zone that was read
	Read  string     `json:"read"`
	Found string     `json:"found"`
	By    string     `json:"by"` // eclipse or daylight
}

func zoneFound(rep *station.Report) *foundZone {
	z := rep.Zone
	if z == nil {
		return nil
	}
	by := "eclipse"
	if z.ByDaylight {
		by = "daylight"
	}
	return &foundZone{cli.Number(z.Hours), z.Read, z.Found, by}
}

func mistakenOf(rep *station.Report) *mistaken {
	m := rep.Misplaced
	if m == nil {
		return nil
	}
	out := &mistaken{What: m.What, Lat: cli.Number(m.Site.Lat), Lon: cli.Number(m.Site.Lon), Days: m.Days, Offset: none}
	if m.Clock != nil {
		out.Offset = cli.Number(m.Clock.Offset)
	}
	if m.Eclipse != "" {
		out.Eclipse = &m.Eclipse
	}
	return out
}
