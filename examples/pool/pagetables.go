package main

import (
	"fmt"
	"math"
	"strings"

	"example.org/noonfall/eclipse/campaign"
	"example.org/noonfall/examples/internal/page"
)

// placeTable is where the stations are and what they got to see.
func (p *pooling) placeTable() page.Table {
	t := page.Table{Caption: "Where the stations were, and what they got to see", Columns: []page.Column{{Head: "Station"}, {Head: "Latitude (degrees north)", Number: true},
		{Head: "Longitude (degrees east)", Number: true}, {Head: "Seen"}, {Head: "Magnitude", Number: true}, {Head: "Clock set by"}, {Head: "Verdict"}}}
	for i := range p.Stations {
		m := &p.Stations[i]
		s := m.Summary
		answer := "told"
		if s.Refusal != nil {
			answer = "refused: " + s.Refusal.Reason
		}
		t.Rows = append(t.Rows, []string{m.Name, deg(s.Site.Lat), deg(s.Site.Lon), s.Seen, page.Number(s.Magnitude, 2), string(s.ClockSet), answer})
	}
	return t
}

// foundTable is what each station found.
func (p *pooling) foundTable() page.Table {
	t := page.Table{Caption: "What each station found", Columns: []page.Column{{Head: "Station"}, {Head: "Hours of a zone (h)", Number: true}, {Head: "Clock ahead of UTC (s)", Number: true},
		{Head: "Standard uncertainty (s)", Number: true}, {Head: "Its own (s)", Number: true}, {Head: "Response, power of light (1)", Number: true},
		{Head: "Cloud (% of the eclipse)", Number: true}, {Head: "Light above the others' (%)", Number: true}}}
	for i := range p.Stations {
		m := &p.Stations[i]
		c := m.Summary.Clock
		if c == nil {
			continue
		}
		digits := places(c.OffsetU)
		t.Rows = append(t.Rows, []string{m.Name, page.Number(c.ZoneH, 2), page.Number(m.Clock, digits), page.Number(c.OffsetU, digits),
			page.Number(m.Own, places(m.OwnU)), page.Number(c.Exponent.Value, 2), page.Number(100*c.Cloud, 0), logPercent(m.Light)})
	}
	return t
}

func (p *pooling) curveTable() page.Table {
	t := page.Table{Caption: "Light left of a clear sky's, by the covered part of the Sun", Columns: []page.Column{{Head: "Covered (%)", Number: true}, {Head: "Light, median (%)", Number: true},
		{Head: "Two thirds from (%)", Number: true}, {Head: "to (%)", Number: true}, {Head: "Stations", Number: true}}}
	bare := func(x float64) string { return strings.TrimSuffix(percent(x), " %") }
	for _, c := range p.someLight() {
		t.Rows = append(t.Rows, []string{page.Number(100*c.Obscuration, 1), bare(c.Median), bare(c.Low), bare(c.High), page.Count(c.N)})
	}
	return t
}

// figureTable has the figures of all, and how many stations carry each.
func (p *pooling) figureTable() page.Table {
	t := page.Table{Caption: "Figures of all stations together", Columns: []page.Column{{Head: "Quantity (unit)"}, {Head: "Value", Number: true}, {Head: "Standard uncertainty", Number: true},
		{Head: "Elements have", Number: true}, {Head: "Stations", Number: true}, {Head: "Which"}}}
	add := func(name string, digits int, f campaign.Figure, predicted float64, used []string) {
		t.Rows = append(t.Rows, []string{name, page.Number(f.Value, digits), page.Number(f.U, digits), page.Number(predicted, digits), page.Count(f.N), strings.Join(used, ", ")})
	}
	nan := math.NaN()
	if f := p.Shared; f.N > 0 {
		add("Offset that trusted clocks share (s)", 2, f, nan, nil)
		add("Spread of these beyond their uncertainties (s)", 1, campaign.Figure{Value: p.SharedSpread, U: nan, N: f.N}, nan, nil)
	}
	if s := p.Sweep; s != nil {
		add("Speed of the shadow over the ground (km/s)", places(s.Speed.U), s.Speed, s.Predicted.Speed, s.Used)
		add("Its heading, from north through east (degrees)", 0, campaign.Figure{Value: s.Heading.Value, U: math.Ceil(s.Heading.U), N: s.Heading.N}, s.Predicted.Heading, s.Used)
	}
	if m := p.Moon; m != nil {
		add("Distance of the Moon (1000 km)", 0, campaign.Figure{Value: m.Km.Value / 1e3, U: m.Km.U / 1e3, N: m.Km.N}, m.Predicted/1e3, m.Used)
		add("Distance of the Moon (radii of the Earth)", 0, campaign.Figure{Value: m.Km.Value / earthRadius, U: math.Ceil(m.Km.U / earthRadius), N: m.Km.N}, m.Predicted/earthRadius, m.Used)
	}
	if f := p.Darkening; f.N > 0 {
		add("Sun's brightness where seen at 60 degrees, over its centre's (1)", 3, f, nan, nil)
	}
	return t
}

// offTable lists the outliers.
func (p *pooling) offTable() page.Table {
	t := page.Table{Caption: "Figures that are off", Columns: []page.Column{{Head: "Station"}, {Head: "What (unit)"}, {Head: "Value", Number: true}, {Head: "The others have", Number: true}, {Head: "Deviations", Number: true}}}
	four := func(x float64) string { return fmt.Sprintf("%.4g", x) }
	for _, o := range p.Outliers {
		t.Rows = append(t.Rows, []string{o.Name, o.What + " (" + o.Unit + ")", four(o.Value), four(o.Usual), page.Number(o.Score, 1)})
	}
	return t
}
