package main

import (
	"fmt"
	"slices"

	"example.org/noonfall/eclipse/campaign"
	"example.org/noonfall/examples/internal/page"
)

// methodSection says in plain words how the figures were come by.
func methodSection() page.Section {
	return page.Section{Part: "Method", Heading: "How it was found out", Text: []string{
		"Every station's log was laid over the light predicted for its place, and slid along it until the two agreed: so far its clock was off. That needs nobody else.",
		"The light of all stations was then put on one scale, by the part of the Sun that was covered. The median does not care for a few that are wrong; the band shows by how much stations differ.",
		"Clocks that a network or a satellite sets are right but for what they have in common, a lag or a habit of stamping. It is the mean of their offsets, each weighted by how well it is known.",
		"The shadow's speed comes from when the middle of the eclipse was stamped at places far apart: distance over time. Only trusted clocks serve, and their stamps as they are; a stamp put right by the prediction would only give the prediction back.",
		"The Moon's distance is Hipparchus' old reckoning: from two places the Moon is seen at a slightly different spot before the Sun, and so the eclipse is deeper at one than at the other. The two depths and the distance of the places make a triangle.",
	}}
}

// offSection says who disagrees with the others.
func (p *pooling) offSection() page.Section {
	s := page.Section{Part: "Discussion", Heading: "Who is off"}
	if len(p.Outliers) == 0 {
		s.Text = []string{"Nobody: no station disagrees with the others by more than it says of itself."}
	} else {
		s.Text = []string{"Off is " + campaign.Rule + "."}
		s.Tables = []page.Table{p.offTable()}
	}
	s.List = told(p.doubts)
	return s
}

// missingSection is what was refused.
func (p *pooling) missingSection() page.Section {
	s := page.Section{Part: "Material", Heading: "What was refused", List: told(p.missing)}
	if len(s.List) == 0 {
		s.Text = []string{"Nothing: every station gave a summary, and every summary a clock."}
	}
	return s
}

// wrongSection is what a reader should doubt.
func (p *pooling) wrongSection() page.Section {
	return page.Section{Part: "Discussion", Heading: "What could be wrong", List: slices.Concat(told(p.warned), []string{
		"Stations of one make share their faults: what all of them do wrong looks like the sky.",
		"Places are rounded to about a kilometre, in which the shadow runs for a second or two, unless they were given exactly.",
		"The speed takes the shadow's front for straight over the stations' distances, and a clock for right where its owner says that a network or a satellite set it.",
		"The Moon's distance leans on how well calibrated sensors follow the light, and on how long totality seemed to last; cloud at maximum falsifies both.",
	})}
}

// sourcesSection names what the numbers rest on.
func (p *pooling) sourcesSection() page.Section {
	s := page.Section{Part: "Sources", Heading: "Where the data come from", List: []string{
		fmt.Sprintf("The eclipse: Besselian elements of %s from noonfall's catalogue; %s.", p.Elements.Date, p.Elements.Source),
	}}
	if p.RealLimb {
		s.List = append(s.List, "The Moon's edge: heights of the lunar orbiter laser altimeter, product LDEM_4 of data set LRO-L-LOLA-4-GDR-V1.0, planetary data archive.")
	}
	s.List = append(s.List,
		"Time: leap seconds after IERS Bulletin C; the Earth's rotation (Delta T) as observed by the US Naval Observatory and the IERS, and forecast from there.",
		"The light: limb darkening at 550 nm after H. Neckel & D. Labs, Solar Physics 153 (1994) 91.",
		"Means with a spread of their own: R. DerSimonian & N. Laird, Controlled Clinical Trials 7 (1986) 177. Outliers: B. Iglewicz & D. C. Hoaglin (1993).",
		"The Moon's distance: Hipparchus' method as Pappus hands it down, from memory.",
		"Coastlines: Natural Earth, public domain.",
		"The stations' logs: their owners'.",
	)
	return s
}

// citeSection is a line to copy.
func (p *pooling) citeSection() page.Section {
	edge := "smooth"
	if p.RealLimb {
		edge = "real"
	}
	return page.Section{Part: "Sources", Heading: "How to cite this", Text: []string{
		fmt.Sprintf("Light logs of %s, solar eclipse of %s, pooled with noonfall (Go module example.org/noonfall), program pool, the Moon's edge %s.", stations(len(p.Stations)), p.Eclipse, edge),
		"Add who recorded them, the day on which you pooled them, and the version of the library, and keep the summaries with it: whoever has them gets the same numbers, in whatever order.",
	}}
}
