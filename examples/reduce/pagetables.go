package main

import (
	"math"
	"time"

	"gonum.org/v1/gonum/stat"

	"example.org/noonfall/eclipse/cooling"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/page"
)

// numbersSection is every number of the verdict, for a spreadsheet.
func numbersSection(rep *station.Report) page.Section {
	s := page.Section{Part: "Result", Heading: "The numbers", Text: []string{"The tables can be copied into a spreadsheet. Every digit, and all readings of the fit, are in reduce.json beside this page."}}
	for _, t := range []page.Table{figures(rep), contactTable(rep), cloudTable(rep), stretchTable(rep)} {
		if len(t.Rows) > 0 {
			s.Tables = append(s.Tables, t)
		}
	}
	if len(s.Tables) == 0 {
		return page.Section{}
	}
	return s
}

// figures are the numbers with their uncertainties, digits as in the text.
func figures(rep *station.Report) page.Table {
	t := page.Table{Caption: "What was found, with standard uncertainties and 95 % intervals", Columns: []page.Column{
		{Head: "Quantity (unit)"}, {Head: "Value", Number: true}, {Head: "Standard uncertainty", Number: true}, {Head: "95 % from", Number: true}, {Head: "95 % to", Number: true}}}
	nan := math.NaN()
	add := func(name string, digits int, v, u, from, to float64) {
		t.Rows = append(t.Rows, []string{name, page.Number(v, digits), page.Number(u, digits), page.Number(from, digits), page.Number(to, digits)})
	}
	if c := rep.Clock; c != nil {
		add("Clock, stamp minus UTC at maximum (s)", 1, c.Offset, c.OffsetU, c.CI95[0], c.CI95[1])
		if c.ZoneH != 0 {
			add("Hours of a zone in that (h)", 2, c.ZoneH, nan, nan, nan)
		}
		if c.DriftU > 0 {
			add("Clock gains (s in an hour)", 2, c.DriftPPM*3.6e-3, c.DriftU*3.6e-3, nan, nan)
		}
		add("Clock by the light, Moon's edge taken as known (s)", 2, c.Offset, c.LightU, c.LightCI95[0], c.LightCI95[1])
		add("Share of the Moon's edge in the uncertainty (s)", 2, nan, c.LimbU, nan, nan)
	}
	if n := rep.Noted; n != nil {
		add("Clock by notes beside a better one (s)", 1, n.Offset, n.OffsetU, nan, nan)
	}
	if c := rep.Clock; c != nil {
		add("Power of the light that the reading follows (1)", 3, c.Response.Exponent, c.Response.ExponentU, nan, nan)
		add("Eclipse under cloud or shade (%)", 0, 100*c.CloudFraction, nan, nan, nan)
		if len(c.Points) > 1 {
			add("Readings' distance from the fit, standard deviation (%)", 1, 100*stat.StdDev(leftOver(c), nil), nan, nan, nan)
		}
		if d := c.Darkening; d != nil {
			add("Sun's brightness where seen at 60 degrees, over its centre's (1)", 2, d.Half, d.HalfU, nan, nan)
		}
	}
	if c := rep.Cooling; c != nil {
		minutes := func(name string, digits int, v cooling.Value) {
			add(name, digits, v.Value/60, v.U/60, v.CI95[0]/60, v.CI95[1]/60)
		}
		add("Air colder than without eclipse, at most (degrees C)", 1, c.Drop.Value, c.Drop.U, c.Drop.CI95[0], c.Drop.CI95[1])
		minutes("That after maximum eclipse (min)", 1, c.Lag)
		minutes("Time constant of the air's answer (min)", 0, c.Tau)
		add("Coldest reading of the air (degrees C)", 1, c.MinC, nan, nan, nan)
	}
	return t
}

// contactTable has the predicted contacts beside those that the light shows.
func contactTable(rep *station.Report) page.Table {
	t := page.Table{Caption: "Contacts of the Moon with the Sun", Columns: []page.Column{
		{Head: "Contact"}, {Head: "Predicted (UTC)"}, {Head: "In the light (UTC)"}, {Head: "Later than predicted (s)", Number: true}, {Head: "Standard uncertainty (s)", Number: true}, {Head: "Not seen, because"}}}
	for _, k := range contacts(rep) {
		row := []string{k.name, k.UTC.Format("15:04:05.0"), "", "", "", ""}
		if c := rep.Clock; c != nil {
			for _, s := range c.Contacts {
				if s.Name == k.name {
					digits := contactDigits(s)
					copy(row[2:], []string{s.UTC.Format(time.TimeOnly), page.Number(s.Late, digits), page.Number(s.LateU, digits)})
				}
			}
			for _, s := range c.Unseen {
				if s.Name == k.name {
					row[5] = s.Reason
				}
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func cloudTable(rep *station.Report) page.Table {
	t := page.Table{Caption: "Spans of cloud or shade", Columns: []page.Column{{Head: "From (UTC)"}, {Head: "To (UTC)"}, {Head: "Light lost at worst (%)", Number: true}}}
	if rep.Clock == nil {
		return t
	}
	for _, s := range rep.Clock.Cloud {
		t.Rows = append(t.Rows, []string{s.From.Format(time.TimeOnly), s.To.Format(time.TimeOnly), page.Number(100*s.Depth, 0)})
	}
	return t
}

// stretchTable has the offsets before and after the clock was moved.
func stretchTable(rep *station.Report) page.Table {
	t := page.Table{Caption: "Stretches between which the clock was moved", Columns: []page.Column{{Head: "From (stamp)"}, {Head: "To (stamp)"},
		{Head: "Stamp minus UTC (s)", Number: true}, {Head: "Standard uncertainty (s)", Number: true}, {Head: "95 % from (s)", Number: true}, {Head: "95 % to (s)", Number: true}, {Head: "No verdict, because"}}}
	for _, s := range rep.Segments {
		row := []string{s.From.Format(time.DateTime), s.To.Format(time.DateTime), "", "", "", "", ""}
		if c := s.Clock; c != nil {
			copy(row[2:], []string{page.Number(c.Offset, 1), page.Number(c.OffsetU, 1), page.Number(c.CI95[0], 1), page.Number(c.CI95[1], 1)})
		} else {
			row[6] = s.Refusal.Reason.String()
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
