package main

import (
	"io"
	"math"

	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/sensor"
)

// The JSON form. A value that does not exist is null.
type answer struct {
	Version  int           `json:"version"`
	Invented bool          `json:"invented"`
	Station  string        `json:"station"`
	Unit     string        `json:"unit"` // of the law's values
	Lamp     *lampAnswer   `json:"lamp"`
	Morning  *dayAnswer    `json:"morning"`
	Both     *bothAnswer   `json:"both"`
	Known    []known       `json:"known"`
	Chain    *sensor.Chain `json:"chain"`
}

// A law is ln value = ln_value + slope ln(lux / 10 lx).
type law struct {
	LnValue  cli.Number `json:"ln_value"`
	LnValueU cli.Number `json:"u_ln_value"`
	Slope    cli.Number `json:"slope"`
	SlopeU   cli.Number `json:"u_slope"`
	R        cli.Number `json:"correlation"`
}

func lawOf(c sensor.Calibration) law {
	return law{cli.Number(c.LnValue), cli.Number(c.LnValueU), cli.Number(c.Slope), cli.Number(c.SlopeU), cli.Number(c.R)}
}

type lampAnswer struct {
	law
	Absolute    bool       `json:"absolute"` // the candela is known, and lux are lux
	ZeroM       cli.Number `json:"zero_m"`
	ZeroU       cli.Number `json:"u_zero_m"`
	Room        cli.Number `json:"room_lx"`
	RoomU       cli.Number `json:"u_room_lx"`
	ChiSquare   cli.Number `json:"chi_square"`
	Freedom     int        `json:"freedom"`
	ResidualRMS cli.Number `json:"residual_rms_ln"`
	Warnings    []string   `json:"warnings"`
}

type dayAnswer struct {
	Verdict string       `json:"verdict"` // fitted or refused
	Reason  *string      `json:"reason"`
	Detail  *string      `json:"detail"`
	Law     *law         `json:"law"`
	Fit     *climbAnswer `json:"fit"`
	// NoZone says that stamps told no zone and were taken for UTC.
	NoZone bool `json:"zone_assumed"`
}

type climbAnswer struct {
	Extinction  cli.Number    `json:"extinction"`
	ExtinctionU cli.Number    `json:"u_extinction"`
	Drift       cli.Number    `json:"drift_per_h"`
	DriftU      cli.Number    `json:"u_drift_per_h"`
	ModelLnU    cli.Number    `json:"u_model_ln"`
	MinuteLnU   cli.Number    `json:"u_minute_ln"`
	SlowLnU     cli.Number    `json:"u_slow_ln"`
	From        cli.Instant   `json:"from"`
	To          cli.Instant   `json:"to"`
	Used        int           `json:"used_min"`
	Shaded      int           `json:"shaded_min"`
	AirMass     [2]cli.Number `json:"air_mass"`
	Lux         [2]cli.Number `json:"lx"`
	Warnings    []string      `json:"warnings"`
}

type bothAnswer struct {
	law
	ChiSquare cli.Number `json:"chi_square"`
	Agree     bool       `json:"agree"`
}

// known says how well a light is known.
type known struct {
	Lux cli.Number `json:"lx"`
	LnU cli.Number `json:"u_ln"`
}

func (s *story) answer() answer {
	a := answer{Version: 1, Invented: s.truth != nil, Station: s.station.Code, Unit: s.unit(), Known: []known{}, Chain: s.chain}
	if l := s.lamp; l != nil {
		r, _ := rms(l.Residuals)
		a.Lamp = &lampAnswer{law: lawOf(l.Calibration), Absolute: l.absolute, ZeroM: cli.Number(l.ZeroM), ZeroU: cli.Number(l.ZeroU),
			Room: cli.Number(l.BackgroundLux), RoomU: cli.Number(l.BackgroundU), ChiSquare: cli.Number(l.ChiSquare), Freedom: l.Freedom, ResidualRMS: cli.Number(r), Warnings: l.warnings()}
		if !l.absolute {
			a.Lamp.LnValue, a.Lamp.LnValueU, a.Lamp.R = cli.Number(math.NaN()), cli.Number(math.NaN()), cli.Number(math.NaN())
		}
	}
	if s.morning != nil {
		a.Morning = s.dayAnswer()
	}
	if s.both != nil {
		a.Both = &bothAnswer{lawOf(*s.both), cli.Number(s.both.ChiSquare), s.agree}
	}
	if s.best != nil {
		for _, lux := range lights {
			a.Known = append(a.Known, known{cli.Number(lux), cli.Number(s.best.LuxLnU(lux))})
		}
	}
	return a
}

func (s *story) dayAnswer() *dayAnswer {
	if no := s.morning.Refusal; no != nil {
		return &dayAnswer{Verdict: "refused", NoZone: s.noZone(), Reason: &no.Reason, Detail: &no.Detail}
	}
	f := s.fit()
	l := lawOf(f.Calibration)
	c := &climbAnswer{
		Extinction: cli.Number(f.Extinction), ExtinctionU: cli.Number(f.ExtinctionU), Drift: cli.Number(f.Drift), DriftU: cli.Number(f.DriftU),
		ModelLnU: cli.Number(f.ModelLnU), MinuteLnU: cli.Number(f.MinuteLnU), SlowLnU: cli.Number(f.SlowLnU),
		From: cli.Instant(f.From), To: cli.Instant(f.To), Used: f.Used, Warnings: f.Warnings,
		AirMass: [2]cli.Number{cli.Number(f.AirMass[0]), cli.Number(f.AirMass[1])}, Lux: [2]cli.Number{cli.Number(f.Lux[0]), cli.Number(f.Lux[1])},
	}
	for _, m := range f.Minutes {
		if m.Fate == station.ShadedMinute {
			c.Shaded++
		}
	}
	if c.Warnings == nil {
		c.Warnings = []string{}
	}
	return &dayAnswer{Verdict: "fitted", NoZone: s.noZone(), Law: &l, Fit: c}
}

func (s *story) writeJSON(w io.Writer) error { return cli.WriteJSON(w, s.answer()) }
