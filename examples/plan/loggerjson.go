package main

import (
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/sensor/crystal"
)

type loadJSON struct {
	Low    cli.Number  `json:"low_lx"` // what is to be read
	High   cli.Number  `json:"high_lx"`
	One    cli.Number  `json:"one_ohm"`
	Enough bool        `json:"enough"`  // whether the one reads all of it finely
	Dim    *cli.Number `json:"dim_ohm"` // of two sensors; null where one is enough
	Bright *cli.Number `json:"bright_ohm"`
	// Density is the filter's before the one, or the bright one of the two; 0 without.
	Density cli.Number `json:"filter_density"`
}

func (p *plan) loadAnswer() *loadJSON {
	d := p.load
	if d == nil {
		return nil
	}
	low, high, _ := p.span()
	a := &loadJSON{Low: cli.Number(fourDigits(low)), High: cli.Number(fourDigits(high)), One: cli.Number(d.One.Ohms), Enough: d.Enough, Density: cli.Number(d.One.SunDensity)}
	if d.Two != nil {
		a.Dim, a.Bright, a.Density = new(cli.Number(d.Two.Dim.Ohms)), new(cli.Number(d.Two.Bright.Ohms)), cli.Number(d.Two.Bright.SunDensity)
	}
	return a
}

type clockJSON struct {
	Celsius cli.Number   `json:"celsius"`
	Wanders []wanderJSON `json:"set_before"`
	// SetFrom is the earliest setting by hand that leaves it right to a second; null where
	// there is none, or where any will do.
	SetFrom *cli.Instant `json:"set_from_utc"`
}

type wanderJSON struct {
	Hours  cli.Number `json:"hours"`
	Gained cli.Number `json:"gained_s"`
	U      cli.Number `json:"u_s"`
}

func (p *plan) clockAnswer() *clockJSON {
	c := &p.clocks
	if len(c.wanders) == 0 {
		return nil
	}
	a := &clockJSON{Celsius: cli.Number(p.logger.celsius)}
	for _, w := range c.wanders {
		a.Wanders = append(a.Wanders, wanderJSON{cli.Number(w.before.Hours()), cli.Number(w.Seconds), cli.Number(w.SecondsU)})
	}
	if c.setFrom.Verdict == crystal.By {
		utc := cli.Instant(c.setFrom.At)
		a.SetFrom = &utc
	}
	return a
}
