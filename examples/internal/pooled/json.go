package pooled

import (
	"io"
	"math"

	"example.org/noonfall/eclipse/campaign"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/cli"
)

// An Answer is the JSON form: what programs rely on. A value that does not exist is null.
type Answer struct {
	Version  int               `json:"version"`
	Eclipse  string            `json:"eclipse"`
	Stations []member          `json:"stations"`
	Curve    []point           `json:"curve"`
	Outliers []outlier         `json:"outliers"`
	Rule     string            `json:"outlier_rule"`
	Shared   shared            `json:"shared_offset"`
	Shadow   swept             `json:"shadow"`
	Moon     moon              `json:"moon"`
	Law      figure            `json:"limb_darkening"` // brightness at a cosine of one half over the centre's
	Apart    map[string]int    `json:"other_eclipses"` // summaries by day
	Failed   []Failure         `json:"failed"`
	Untold   map[string]string `json:"untold"` // why a figure is null
	Warnings []string          `json:"warnings"`
}

// member is a station's summary, and what it is among the others.
type member struct {
	Name string `json:"name"`
	*station.Summary
	Clock cli.Number `json:"clock_s"` // the offset less the hours of a zone
	Own   cli.Number `json:"own_s"`   // less what all trusted clocks share
	OwnU  cli.Number `json:"u_own_s"`
	Off   cli.Number `json:"light_off"` // natural logarithm of its light over the pooled one
}

type point struct {
	Obscuration float64 `json:"obscuration"`
	Median      float64 `json:"median"`
	Low         float64 `json:"low"`
	High        float64 `json:"high"`
	N           int     `json:"n"`
}

type outlier struct {
	Name  string     `json:"name"`
	What  string     `json:"what"`
	Value cli.Number `json:"value"`
	Usual cli.Number `json:"usual"`
	Score cli.Number `json:"score"`
	Unit  string     `json:"unit"`
}

type figure struct {
	Value cli.Number `json:"value"`
	U     cli.Number `json:"u"`
	N     int        `json:"n"`
}

type shared struct {
	Offset cli.Number `json:"offset_s"`
	U      cli.Number `json:"u_s"`
	Spread cli.Number `json:"spread_s"`
	N      int        `json:"n"`
}

type swept struct {
	Speed     cli.Number `json:"speed_km_s"`
	SpeedU    cli.Number `json:"u_km_s"`
	Heading   cli.Number `json:"heading_deg"`
	HeadingU  cli.Number `json:"u_heading_deg"`
	N         int        `json:"n"`
	Lat       cli.Number `json:"lat_deg"`
	Lon       cli.Number `json:"lon_deg"`
	Predicted cli.Number `json:"predicted_km_s"`
	Toward    cli.Number `json:"predicted_heading_deg"`
	Used      []string   `json:"used"`
}

type moon struct {
	Km        cli.Number `json:"distance_km"`
	U         cli.Number `json:"u_km"`
	N         int        `json:"n"`
	Predicted cli.Number `json:"predicted_km"`
	Base      cli.Number `json:"base_km"`
	Used      []string   `json:"used"`
}

var none = cli.Number(math.NaN())

func (p *Pooling) answer() Answer {
	a := Answer{
		Version: 1, Eclipse: p.Eclipse, Stations: []member{}, Curve: []point{}, Outliers: []outlier{}, Rule: campaign.Rule, Apart: p.Apart,
		Shared: shared{none, none, none, 0}, Shadow: swept{none, none, none, none, 0, none, none, none, none, []string{}}, Moon: moon{none, none, 0, none, none, []string{}},
		Law: figure{none, none, 0}, Failed: p.Failed, Untold: p.Untold, Warnings: p.Warnings,
	}
	if a.Failed == nil {
		a.Failed = []Failure{}
	}
	if a.Warnings == nil {
		a.Warnings = []string{}
	}
	for _, m := range p.Stations {
		a.Stations = append(a.Stations, member{m.Name, m.Summary, cli.Number(m.Clock), cli.Number(m.Own), cli.Number(m.OwnU), cli.Number(m.Light)})
	}
	for _, c := range p.Curve {
		a.Curve = append(a.Curve, point(c))
	}
	for _, o := range p.Outliers {
		a.Outliers = append(a.Outliers, outlier{o.Name, o.What, cli.Number(o.Value), cli.Number(o.Usual), cli.Number(o.Score), o.Unit})
	}
	if f := p.Shared; f.N > 0 {
		a.Shared = shared{cli.Number(f.Value), cli.Number(f.U), cli.Number(p.SharedSpread), f.N}
	}
	if f := p.Darkening; f.N > 0 {
		a.Law = figure{cli.Number(f.Value), cli.Number(f.U), f.N}
	}
	if s := p.Sweep; s != nil {
		a.Shadow = swept{cli.Number(s.Speed.Value), cli.Number(s.Speed.U), cli.Number(s.Heading.Value), cli.Number(s.Heading.U), s.Speed.N,
			cli.Number(s.Lat), cli.Number(s.Lon), cli.Number(s.Predicted.Speed), cli.Number(s.Predicted.Heading), s.Used}
	}
	if m := p.Moon; m != nil {
		a.Moon = moon{cli.Number(m.Km.Value), cli.Number(m.Km.U), m.Km.N, cli.Number(m.Predicted), cli.Number(m.BaseKm), m.Used}
	}
	return a
}

// WriteJSON writes the [Answer], indented: the same set of stations gives the same bytes.
func (p *Pooling) WriteJSON(w io.Writer) error { return cli.WriteJSON(w, p.answer()) }
