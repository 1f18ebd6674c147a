package main

import (
	"io"
	"time"

	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/sensor/dips"
)

type benchAnswer struct {
	Version  int         `json:"version"`
	File     string      `json:"file"`
	Records  int64       `json:"records"`
	Problems int64       `json:"problems"`
	Skipped  int         `json:"skipped"`
	Sense    dips.Sense  `json:"sense"`
	Cadence  cli.Number  `json:"cadence_s"`
	Jitter   cli.Number  `json:"jitter"`
	Step     cli.Number  `json:"step"`
	Dips     []dipJSON   `json:"dips"`
	Aside    []asideJSON `json:"aside"`
	Cautions []string    `json:"cautions"`
}

type dipJSON struct {
	Start    cli.Instant `json:"start"`
	StartU   cli.Number  `json:"u_start_s"`
	Least    cli.Instant `json:"least"`
	LeastU   cli.Number  `json:"u_least_s"`
	End      cli.Instant `json:"end"`
	EndU     cli.Number  `json:"u_end_s"`
	Depth    cli.Number  `json:"depth"`
	DepthU   cli.Number  `json:"u_depth"`
	Shape    dips.Shape  `json:"shape"`
	Base     cli.Number  `json:"base"`
	Bottom   cli.Number  `json:"bottom"`
	Signal   cli.Number  `json:"signal"`
	Readings int         `json:"readings"`
}

type asideJSON struct {
	Time   cli.Instant `json:"time"`
	Reason dips.Reason `json:"reason"`
}

func (b *benchLog) writeJSON(w io.Writer) error {
	f := b.found
	a := benchAnswer{
		Version: 1, File: b.name, Records: b.lines.Records, Problems: b.lines.Problems, Skipped: f.Skipped, Sense: f.Sense,
		Cadence: cli.Number(f.Cadence.Seconds()), Jitter: cli.Number(f.Jitter), Step: cli.Number(f.Step),
		Dips: []dipJSON{}, Aside: []asideJSON{}, Cautions: mind,
	}
	s := func(d time.Duration) cli.Number { return cli.Number(d.Seconds()) }
	for _, d := range f.Dips {
		a.Dips = append(a.Dips, dipJSON{cli.Instant(d.Start), s(d.StartU), cli.Instant(d.Least), s(d.LeastU), cli.Instant(d.End), s(d.EndU),
			cli.Number(d.Depth), cli.Number(d.DepthU), d.Shape, cli.Number(d.Base), cli.Number(d.Bottom), cli.Number(d.Signal), d.Readings})
	}
	for _, x := range f.Aside {
		a.Aside = append(a.Aside, asideJSON{cli.Instant(x.Time), x.Reason})
	}
	return cli.WriteJSON(w, a)
}
