package main

import (
	"example.org/noonfall/eclipse/limb"
	"example.org/noonfall/examples/internal/cli"
)

// What the Moon's real edge does. The contacts list has its instants too, but at a
// graze the real edge may make second and third contact where the smooth one has none.
type edgeJSON struct {
	Used      string       `json:"used"` // mean or real: the Moon that the light goes by
	Kind      string       `json:"kind"` // the horizon ignored
	Seen      string       `json:"seen"` // what the Sun above the horizon shows of it
	Duration  *cli.Number  `json:"duration_s"`
	DurationU *cli.Number  `json:"u_duration_s"`
	Larger    *cli.Number  `json:"duration_larger_sun_s"` // 0.3 arcsec larger; null where nothing is left
	C2        *touchJSON   `json:"c2"`
	C3        *touchJSON   `json:"c3"`
	Phases    []pieceJSON  `json:"phases"` // several near a limit
	Libration *librateJSON `json:"libration"`
}

type touchJSON struct {
	UTC    cli.Instant `json:"utc"`
	UT     cli.Instant `json:"ut"`
	U      cli.Number  `json:"u_s"`
	P      cli.Number  `json:"p_deg"` // from the Sun's centre, as in contacts
	V      cli.Number  `json:"v_deg"`
	OnMoon cli.Number  `json:"on_moon_deg"` // at the Moon's centre, from its axis through the sky's east
	Beads  cli.Number  `json:"beads_s"`     // before C2, after C3
}

type pieceJSON struct {
	From     cli.Instant `json:"from_utc"`
	Until    cli.Instant `json:"until_utc"`
	Duration cli.Number  `json:"duration_s"`
}

// librateJSON is how the Moon is turned in the middle.
type librateJSON struct {
	Lon  cli.Number `json:"lon_deg"` // east on the Moon
	Lat  cli.Number `json:"lat_deg"`
	Axis cli.Number `json:"axis_deg"` // position angle of its north pole
}

func (p *plan) edgeAnswer() edgeJSON {
	e := &p.edge
	a := edgeJSON{Used: p.limb.String(), Kind: e.LimbKind.String(), Seen: e.seen.String(), Phases: []pieceJSON{}}
	if t := p.middle(); t.Exists {
		l := e.moon.Libration(t.TT)
		a.Libration = &librateJSON{cli.Number(l.Lon), cli.Number(l.Lat), cli.Number(l.Axis)}
	}
	if e.Count == 0 {
		return a
	}
	a.Duration, a.DurationU = new(cli.Number(e.LimbDuration)), new(cli.Number(e.durationU()))
	if e.larger > 0 {
		a.Larger = new(cli.Number(e.larger))
	}
	a.C2, a.C3 = touch(&e.LimbC2), touch(&e.LimbC3)
	for _, piece := range e.Phases[:e.Count] {
		a.Phases = append(a.Phases, pieceJSON{cli.Instant(piece.Begin.UTC), cli.Instant(piece.End.UTC), cli.Number(piece.Duration)})
	}
	return a
}

func touch(c *limb.Contact) *touchJSON {
	return &touchJSON{cli.Instant(c.UTC), cli.Instant(c.UT), cli.Number(c.TimeU), cli.Number(c.P), cli.Number(c.V), cli.Number(c.OnMoon), cli.Number(c.Beads)}
}

// named returns the real edge's instant of a contact of the list, and its uncertainty;
// nil where it has none.
func (e *edge) named(name string) (*cli.Instant, *cli.Number) {
	c := map[string]*limb.Contact{"C2": &e.LimbC2, "C3": &e.LimbC3}[name]
	if c == nil || !c.Exists {
		return nil, nil
	}
	utc := cli.Instant(c.UTC)
	return &utc, new(cli.Number(c.TimeU))
}
