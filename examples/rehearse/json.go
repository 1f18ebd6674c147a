package main

import (
	"io"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/examples/internal/cli"
)

// The JSON form: a value that does not exist is null.
type answer struct {
	Version  int         `json:"version"`
	Invented bool        `json:"invented"` // everything in it is
	Site     cli.Site    `json:"site"`
	Eclipse  eclipseJSON `json:"eclipse"`
	Seen     string      `json:"seen"`
	Within   cli.Number  `json:"within_s"`
	Fears    []fearJSON  `json:"fears"`
	Change   []string    `json:"change"`
	Cautions []string    `json:"cautions"`
}

type eclipseJSON struct {
	Date string      `json:"date"`
	Type string      `json:"type"`
	Max  cli.Instant `json:"max_utc"`
}

type fearJSON struct {
	Key     string    `json:"key"`
	Put     string    `json:"put_in"`
	Verdict string    `json:"verdict"` // survived, blurred, refused, misled or untried
	Why     string    `json:"why"`
	Days    []dayJSON `json:"days"`
}

type dayJSON struct {
	Seed    uint64         `json:"seed"`
	Verdict string         `json:"verdict"` // fitted or refused
	Reason  *string        `json:"reason"`
	Truth   cli.Number     `json:"truth_offset_s"`
	Offset  *cli.Number    `json:"offset_s"`
	U       *cli.Number    `json:"u_s"`
	CI95    *[2]cli.Number `json:"ci95_s"`
	Zone    *cli.Number    `json:"zone_h"`
	Holds   *bool          `json:"holds"`
	Cloudy  cli.Number     `json:"truth_cloud_fraction"`
	Cloud   *cli.Number    `json:"cloud_fraction"`
	Written int            `json:"records_written"` // whole ones
	Read    int            `json:"records_read"`
	Lost    int            `json:"lines_refused"`
	Outage  cli.Number     `json:"outage_s"`
	Bytes   int64          `json:"bytes"`
}

func (r *result) writeJSON(w io.Writer) error {
	a := answer{
		Version: 1, Invented: true, Site: cli.SiteOf(r.o.desc.Site.Sun()),
		Eclipse: eclipseJSON{Date: r.elements.Date, Type: r.elements.Greatest().Type.String()},
		Seen:    r.local.Seen.String(), Within: cli.Number(r.o.within), Fears: []fearJSON{}, Change: []string{}, Cautions: mind,
	}
	if r.local.Seen != eclipse.None {
		a.Eclipse.Max, a.Change = cli.Instant(r.local.Max.UTC), r.changes()
	}
	for _, f := range r.fears {
		j := fearJSON{Key: f.key, Put: f.put, Verdict: f.verdict.word, Why: f.verdict.reason}
		if j.Verdict == misled {
			j.Verdict = "misled"
		}
		for _, d := range f.days {
			j.Days = append(j.Days, d.json())
		}
		a.Fears = append(a.Fears, j)
	}
	return cli.WriteJSON(w, a)
}

func (d day) json() dayJSON {
	j := dayJSON{
		Seed: d.seed, Verdict: "fitted", Truth: cli.Number(d.truth.Offset), Cloudy: cli.Number(d.truth.Cloudy),
		Written: d.truth.Lines.Records, Read: d.read, Lost: d.refused, Outage: cli.Number(d.dark()), Bytes: d.bytes,
	}
	if d.refusal != nil {
		j.Verdict, j.Reason = "refused", &d.refusal.Reason
		return j
	}
	holds := d.holds()
	j.Offset, j.U, j.Zone, j.Cloud, j.Holds = new(cli.Number(d.offset)), new(cli.Number(d.u)), new(cli.Number(d.zone)), new(cli.Number(d.cloud)), &holds
	j.CI95 = &[2]cli.Number{cli.Number(d.ci[0]), cli.Number(d.ci[1])}
	return j
}
