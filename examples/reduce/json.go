package main

import (
	"io"
	"math"

	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/logfile"
)

// The JSON form: what programs rely on. A value that does not exist is null.
type answer struct {
	Version  int            `json:"version"`
	Files    []file         `json:"files"`
	Records  int            `json:"records"`
	Problems map[string]int `json:"problems"`
	Refused  []refused      `json:"refused"` // the first of them
	Clock    clock          `json:"clock"`
	Notes    *notes         `json:"clock_notes"` // null without notes
	Response response       `json:"response"`
	Law      law            `json:"limb_darkening"`
	Cloud    cloud          `json:"cloud"`
	Contacts []seen         `json:"contacts_seen"`
	Unseen   []unseen       `json:"contacts_unseen"`
	Residual []residual     `json:"residuals"`
	Cooling  cooled         `json:"cooling"`
	Shade    []shaded       `json:"control_shade"`
	Mistaken *mistaken      `json:"misplaced"`  // null where nothing suggests it
	Zone     *foundZone     `json:"found_zone"` // null where it is the one that was read
	Health   health         `json:"health"`
	Warnings []string       `json:"warnings"`
}

type accounts struct {
	Records  int64 `json:"records"`
	Headers  int64 `json:"headers"`
	Comments int64 `json:"comments"`
	Blanks   int64 `json:"blanks"`
	Problems int64 `json:"problems"`
}

func account(a logfile.Accounts) accounts {
	return accounts{a.Records, a.Headers, a.Comments, a.Blanks, a.Problems}
}

type file struct {
	Name  string `json:"name"`
	Bytes int64  `json:"bytes"`
	accounts
	BytesBy accounts `json:"bytes_by"`
}

type clock struct {
	Verdict string        `json:"verdict"` // fitted or refused
	Reason  *string       `json:"reason"`
	Detail  *string       `json:"detail"`
	Offset  cli.Number    `json:"offset_s"`
	U       cli.Number    `json:"u_s"`
	CI95    [2]cli.Number `json:"ci95_s"`
	LightU  cli.Number    `json:"u_light_s"` // without the Moon's limb
	LimbU   cli.Number    `json:"u_limb_s"`
	Drift   cli.Number    `json:"drift_ppm"`
	Zone    cli.Number    `json:"zone_h"`
	DriftU  cli.Number    `json:"u_drift_ppm"`
	Set     *string       `json:"set"`     // how the station says it was set; null if not
	SetU    cli.Number    `json:"u_set_s"` // what is usual for that
	Events  []event       `json:"events"`
	// Segments are the stretches between moves of the clock; empty where there was none.
	Segments []stretch `json:"segments"`
}

type event struct {
	Kind    string      `json:"kind"`
	Line    int         `json:"line"`
	From    cli.Instant `json:"from"`
	To      cli.Instant `json:"to"`
	Seconds cli.Number  `json:"seconds"`
}

type response struct {
	Law       *string    `json:"law"`
	Exponent  cli.Number `json:"exponent"`
	ExponentU cli.Number `json:"u_exponent"`
}

// law is the Sun's limb darkening: the brightness at a cosine of one half over the
// centre's, and the wavelength at which that is the published one.
type law struct {
	Verdict string     `json:"verdict"` // found or refused
	Reason  *string    `json:"reason"`
	Half    cli.Number `json:"half"`
	HalfU   cli.Number `json:"u_half"`
	NM      cli.Number `json:"wavelength_nm"`
	NMU     cli.Number `json:"u_wavelength_nm"`
}

type cloud struct {
	Fraction cli.Number `json:"fraction"`
	Spans    []span     `json:"spans"`
}

type span struct {
	From  cli.Instant `json:"from"`
	To    cli.Instant `json:"to"`
	Depth cli.Number  `json:"depth"`
}

// seen is a contact that the light shows; u_s is that of late_s, the clock's part included,
// u_stamp_s that of the logger's own stamp.
type seen struct {
	Name   string      `json:"name"`
	UTC    cli.Instant `json:"utc"`
	U      cli.Number  `json:"u_s"`
	Late   cli.Number  `json:"late_s"` // after the prediction
	Stamp  cli.Instant `json:"stamp"`
	StampU cli.Number  `json:"u_stamp_s"`
}

type unseen struct {
	Name   string `json:"name"`
	Reason string `json:"reason"`
}

// health is the station's own, with the fit's counts.
type health struct {
	Cadence   cli.Number `json:"cadence_s"`
	Used      *int       `json:"used"`
	Saturated *int       `json:"saturated"`
	Dark      *int       `json:"dark"`
	*station.Health
}

// refused is a line that was not read.
type refused struct {
	File   string `json:"file"`
	Line   int    `json:"line"`
	Offset int64  `json:"offset_bytes"`
	Kind   string `json:"kind"`
	Text   string `json:"text"`
}

var none = cli.Number(math.NaN())

func answerOf(rep *station.Report) answer {
	a := answer{
		Version: 1, Files: []file{}, Records: rep.Records, Problems: rep.Problems, Contacts: []seen{}, Unseen: []unseen{}, Warnings: rep.Warnings,
		Clock:    clock{Verdict: "refused", Offset: none, U: none, CI95: [2]cli.Number{none, none}, LightU: none, LimbU: none, Drift: none, DriftU: none, Zone: none, SetU: none, Events: []event{}, Segments: stretchesOf(rep)},
		Response: response{Exponent: none, ExponentU: none},
		Law:      law{Verdict: "refused", Half: none, HalfU: none, NM: none, NMU: none},
		Cloud:    cloud{Fraction: none, Spans: []span{}},
		Residual: residualsOf(rep.Clock),
		Cooling:  cooledOf(rep),
		Shade:    shadedOf(rep),
		Mistaken: mistakenOf(rep),
		Notes:    notesOf(rep.Noted),
		Zone:     zoneFound(rep),
		Health:   health{Cadence: none, Health: &rep.Health},
		Refused:  []refused{},
	}
	if a.Warnings == nil {
		a.Warnings = []string{}
	}
	if steps := rep.Health.Steps; steps != nil {
		a.Health.Cadence = cli.Number(steps.MedianS)
	}
	a.Clock.setBy(rep.Station.ClockSet)
	for _, p := range firstRefused(rep, jsonRefused) {
		a.Refused = append(a.Refused, refused{p.File, p.Line, p.Offset, p.Kind.String(), p.Text})
	}
	for _, f := range rep.Files {
		a.Files = append(a.Files, file{Name: f.Name, Bytes: f.Bytes.Sum(), accounts: account(f.Lines), BytesBy: account(f.Bytes)})
	}
	for _, e := range rep.Events {
		a.Clock.Events = append(a.Clock.Events, event{e.Kind.String(), e.Line, cli.Instant(e.From), cli.Instant(e.To), cli.Number(e.Seconds)})
	}
	if r := rep.Refusal; r != nil {
		a.Law.Reason = &r.Reason
		a.Clock.Reason, a.Clock.Detail = &r.Reason, &r.Detail
	}
	if c := rep.Clock; c != nil {
		a.Clock.Verdict = "fitted"
		a.Clock.Offset, a.Clock.U, a.Clock.LightU, a.Clock.LimbU = cli.Number(c.Offset), cli.Number(c.OffsetU), cli.Number(c.LightU), cli.Number(c.LimbU)
		a.Clock.CI95 = [2]cli.Number{cli.Number(c.CI95[0]), cli.Number(c.CI95[1])}
		a.Clock.Zone = cli.Number(c.ZoneH)
		if c.DriftU > 0 {
			a.Clock.Drift, a.Clock.DriftU = cli.Number(c.DriftPPM), cli.Number(c.DriftU)
		}
		a.Response = response{&c.Response.Law, cli.Number(c.Response.Exponent), cli.Number(c.Response.ExponentU)}
		a.Cloud.Fraction = cli.Number(c.CloudFraction)
		for _, s := range c.Cloud {
			a.Cloud.Spans = append(a.Cloud.Spans, span{cli.Instant(s.From), cli.Instant(s.To), cli.Number(s.Depth)})
		}
		if d := c.Darkening; d != nil {
			a.Law = law{"found", nil, cli.Number(d.Half), cli.Number(d.HalfU), cli.Number(d.NM), cli.Number(d.NMU)}
		} else {
			a.Law.Reason = &c.Undarkened
		}
		for _, s := range c.Contacts {
			a.Contacts = append(a.Contacts, seen{s.Name, cli.Instant(s.UTC), cli.Number(s.LateU), cli.Number(s.Late), cli.Instant(s.Stamp), cli.Number(s.StampU)})
		}
		for _, s := range c.Unseen {
			a.Unseen = append(a.Unseen, unseen{s.Name, s.Reason})
		}
		a.Health.Used, a.Health.Saturated, a.Health.Dark = &c.Used, &c.Saturated, &c.Dark
	}
	return a
}

func writeJSON(w io.Writer, rep *station.Report) error { return cli.WriteJSON(w, answerOf(rep)) }
