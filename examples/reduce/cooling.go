package main

import (
	"fmt"
	"io"
	"strings"

	"example.org/noonfall/eclipse/cooling"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/cli"
)

// cooled is the air's answer in JSON; lag from maximum eclipse.
type cooled struct {
	Verdict string        `json:"verdict"` // found or refused
	Reason  *string       `json:"reason"`
	Detail  *string       `json:"detail"`
	Drop    cli.Number    `json:"drop_c"`
	DropU   cli.Number    `json:"u_c"`
	DropCI  [2]cli.Number `json:"ci95_c"`
	Lag     cli.Number    `json:"lag_s"`
	LagU    cli.Number    `json:"u_lag_s"`
	LagCI   [2]cli.Number `json:"ci95_lag_s"`
	Tau     cli.Number    `json:"tau_s"`
	TauU    cli.Number    `json:"u_tau_s"`
	Min     *cli.Instant  `json:"min_utc"`
	MinC    cli.Number    `json:"min_c"`
	Control bool          `json:"control"` // the trend rests on a control day
}

func cooledOf(rep *station.Report) cooled {
	out := cooled{Verdict: "refused", Drop: none, DropU: none, DropCI: [2]cli.Number{none, none},
		Lag: none, LagU: none, LagCI: [2]cli.Number{none, none}, Tau: none, TauU: none, MinC: none}
	if no := rep.CoolingRefusal; no != nil {
		out.Reason, out.Detail = &no.Reason, &no.Detail
	}
	c := rep.Cooling
	if c == nil {
		return out
	}
	at := cli.Instant(c.Min)
	return cooled{
		Verdict: "found",
		Drop:    cli.Number(c.Drop.Value), DropU: cli.Number(c.Drop.U), DropCI: interval(c.Drop),
		Lag: cli.Number(c.Lag.Value), LagU: cli.Number(c.Lag.U), LagCI: interval(c.Lag),
		Tau: cli.Number(c.Tau.Value), TauU: cli.Number(c.Tau.U), Min: &at, MinC: cli.Number(c.MinC), Control: c.Control,
	}
}

func interval(v cooling.Value) [2]cli.Number {
	return [2]cli.Number{cli.Number(v.CI95[0]), cli.Number(v.CI95[1])}
}

// shaded is a dim time of the control day, on the eclipse's day.
type shaded struct {
	From  cli.Instant `json:"from"`
	To    cli.Instant `json:"to"`
	Depth cli.Number  `json:"depth"`
	Again bool        `json:"again"` // the eclipse's log is dim then, too
}

func shadedOf(rep *station.Report) []shaded {
	out := []shaded{}
	for _, s := range rep.Shade {
		out = append(out, shaded{cli.Instant(s.From), cli.Instant(s.To), cli.Number(s.Depth), s.Again})
	}
	return out
}

// writeAir is the paragraph on the air.
func writeAir(w io.Writer, rep *station.Report) {
	no := rep.CoolingRefusal
	if no != nil && (no.Reason == cooling.NoReadings.String() || rep.Refusal != nil && no.Reason == rep.Refusal.Reason) {
		return // a logger without a thermometer knows it, and the clock's refusal is said
	}
	fmt.Fprintln(w, "THE AIR")
	if no != nil {
		fmt.Fprintf(w, "  No verdict: %s.\n  %s\n\n", no.Reason, cli.Stop(no.Detail))
		return
	}
	c := rep.Cooling
	if c == nil {
		return
	}
	against := "the trend of a day without eclipse"
	if c.Control {
		against = "the control day"
	}
	fmt.Fprintf(w, "  It was %.1f +- %.1f degrees C colder than by %s, at most %.1f +- %.1f min after maximum\n",
		c.Drop.Value, c.Drop.U, against, c.Lag.Value/60, c.Lag.U/60)
	fmt.Fprintf(w, "  (95 %%: %.1f to %.1f degrees, %.1f to %.1f min). It answers the light in %.0f +- %.0f min (time constant),\n",
		c.Drop.CI95[0], c.Drop.CI95[1], c.Lag.CI95[0]/60, c.Lag.CI95[1]/60, c.Tau.Value/60, c.Tau.U/60)
	lag := "the thermometer's own lag is not known: a minute within a factor of two was taken out"
	if t := rep.Station.Thermometer; t != nil {
		lag = fmt.Sprintf("the thermometer's own %.0f +- %.0f s are taken out", t.TauS, t.TauU)
	}
	fmt.Fprintf(w, "  %s. Coldest was %.1f degrees at %s UTC.\n\n", lag, c.MinC, c.Min.Format("15:04"))
}

// controls are the files of -control, which may be given again.
type controls []string

func (c *controls) String() string { return strings.Join(*c, ",") }

// Set adds one, or several with commas between.
func (c *controls) Set(s string) error {
	*c = append(*c, strings.Split(s, ",")...)
	return nil
}
