package main

import (
	"io"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/examples/internal/cli"
)

// The shape that programs rely on: keys may be added, not renamed. A pointer or a
// Number that does not exist is null.
type answer struct {
	Version         int           `json:"version"`
	Site            cli.Site      `json:"site"`
	Eclipse         eclipseJSON   `json:"eclipse"`
	Seen            string        `json:"seen"`
	Geometry        string        `json:"geometry"`
	DeltaT          cli.Number    `json:"delta_t_s"`
	DeltaTU         cli.Number    `json:"u_delta_t_s"`
	TimeU           cli.Number    `json:"u_time_s"` // of each instant, without the Moon's mountains
	UTCHeld         bool          `json:"utc_held"` // a leap second not yet announced may shift utc
	Contacts        []contactJSON `json:"contacts"`
	Magnitude       *cli.Number   `json:"magnitude"`
	Obscuration     *cli.Number   `json:"obscuration"`
	DiameterRatio   *cli.Number   `json:"diameter_ratio"`
	CentralDuration *cli.Number   `json:"central_duration_s"`
	Limb            edgeJSON      `json:"limb"`
	Logger          *loggerJSON   `json:"logger"` // null where there is nothing to record
	Light           []lightJSON   `json:"light"`  // every quarter of an hour while it runs, and at contacts, by limb.used
	Clock           *clockJSON    `json:"clock"`  // a battery clock by the deepest instant seen; null where there is none
	Near            nearJSON      `json:"near"`
	Next            []nextJSON    `json:"next"` // without -date, the site's next eclipses
	Cautions        []string      `json:"cautions"`
}

type eclipseJSON struct {
	Date  string     `json:"date"`
	Type  string     `json:"type"`
	Gamma cli.Number `json:"gamma"`
}

type contactJSON struct {
	Name  string      `json:"name"`
	UTC   cli.Instant `json:"utc"`
	UT    cli.Instant `json:"ut"`
	Alt   cli.Number  `json:"alt_deg"`
	Az    cli.Number  `json:"az_deg"`
	P     cli.Number  `json:"p_deg"`
	V     cli.Number  `json:"v_deg"`
	Above bool        `json:"above_horizon"`
	// With the Moon's real edge, at C2 and C3; all the others are the smooth one's.
	UTCLimb *cli.Instant `json:"utc_limb"`
	LimbU   *cli.Number  `json:"u_limb_s"`
}

type loggerJSON struct {
	From  cli.Instant `json:"from_utc"`
	Until cli.Instant `json:"until_utc"`
	Lines int         `json:"lines"` // at one a second
	Bytes int         `json:"bytes"`
	// Battery is how long it lasts, and null where no current was given.
	Battery *cli.Number `json:"battery_h"`
	Load    *loadJSON   `json:"load"` // of an invented cell; null where no load reads anything
}

func (p *plan) writeJSON(w io.Writer) error { return cli.WriteJSON(w, p.answer()) }

func (p *plan) answer() answer {
	c := &p.local
	a := answer{
		Version:  1,
		Site:     cli.SiteOf(p.site),
		Eclipse:  eclipseJSON{p.elements.Date, p.greatest.Type.String(), cli.Number(p.greatest.Gamma)},
		Seen:     c.Seen.String(),
		Geometry: c.Geometry.String(),
		DeltaT:   cli.Number(c.DeltaT.Seconds),
		DeltaTU:  cli.Number(c.DeltaT.SecondsU),
		TimeU:    cli.Number(c.TimeU),
		UTCHeld:  p.utcHeld,
		Contacts: []contactJSON{},
		Limb:     p.edgeAnswer(),
		Light:    lightAnswer(p.light),
		Clock:    p.clockAnswer(),
		Near:     p.nearAnswer(),
		Next:     p.nextAnswer(),
		Cautions: mind(),
	}
	for _, m := range p.moments(c.C2, c.C3) {
		utc, u := p.edge.named(m.name)
		a.Contacts = append(a.Contacts, contactJSON{
			Name: m.name, UTC: cli.Instant(m.UTC), UT: cli.Instant(m.UT),
			Alt: cli.Number(m.Alt), Az: cli.Number(m.Az), P: cli.Number(m.P), V: cli.Number(m.V), Above: m.Above,
			UTCLimb: utc, LimbU: u,
		})
	}
	if c.Geometry != eclipse.None {
		a.Magnitude, a.Obscuration, a.DiameterRatio = new(cli.Number(c.Magnitude)), new(cli.Number(c.Obscuration)), new(cli.Number(c.Ratio))
	}
	if c.C2.Exists {
		a.CentralDuration = new(cli.Number(c.Duration))
	}
	if from, until, ok := p.hours(); ok {
		n := lines(from, until)
		a.Logger = &loggerJSON{From: cli.Instant(from), Until: cli.Instant(until), Lines: n, Bytes: n * len(row), Load: p.loadAnswer()}
		if p.logger.current > 0 {
			a.Logger.Battery = new(cli.Number(p.logger.lasts()))
		}
	}
	return a
}
