package main

import (
	"fmt"
	"math"

	"example.org/noonfall/eclipse/limb"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/page"
)

// methodSection says in plain words how the verdict was come by.
func methodSection(rep *station.Report) page.Section {
	s := page.Section{Part: "Method", Heading: "How it was found out", Text: []string{
		"During an eclipse the Sun is a clock. Where the Moon stands before it is known for every second, and so is the light that it leaves at a place.",
		"The logger wrote down the light, and beside it the time that its own clock showed. Its record was slid along the predicted curve until the two agreed best. How far it had to be slid is by how much the clock was wrong.",
		"Nothing had to be known of the sensor. Its reading was taken to follow the light as a power of it, or by a curve where the log shows a bend, and that was found together with the shift; so were the slow changes of the sky, the light left in totality, and the minutes under cloud, which count for little.",
		"How sure the answer is the log says itself: by how much the readings scatter, and how far parts of it disagree with each other. What is not known of the Moon's edge is added. \"Give or take\" is one standard uncertainty; the 95 % interval should hold the truth in nineteen cases of twenty.",
	}}
	if c := rep.Cooling; c != nil {
		against := "the course that the day would have taken without eclipse, which follows the Sun's height"
		if c.Control {
			against = "the control day's course at the same hours"
		}
		s.Text = append(s.Text, "The air's fall is the distance of its temperature from "+against+". The thermometer's own lag was taken out first.")
	}
	return s
}

// realEdge says that the Moon had its mountains.
func realEdge(rep *station.Report) bool {
	_, real := rep.Curve.(*limb.Curve)
	return real
}

// sourcesSection names what the numbers rest on.
func sourcesSection(rep *station.Report) page.Section {
	s := page.Section{Part: "Sources", Heading: "Where the data come from"}
	if e := rep.Elements; e != nil {
		s.List = append(s.List, fmt.Sprintf("The eclipse: Besselian elements of %s from noonfall's catalogue; %s.", e.Date, e.Source))
	}
	if realEdge(rep) {
		s.List = append(s.List, "The Moon's edge: heights of the lunar orbiter laser altimeter, product LDEM_4 of data set LRO-L-LOLA-4-GDR-V1.0, planetary data archive.")
	}
	turn := "as observed by the US Naval Observatory and the IERS, and forecast from there"
	if d := rep.Station.DeltaT; d != nil {
		turn = fmt.Sprintf("as it was given: %g s", *d)
	}
	s.List = append(s.List,
		"Time: leap seconds after IERS Bulletin C; the Earth's rotation (Delta T) "+turn+".",
		"The light: limb darkening at 550 nm after H. Neckel & D. Labs, Solar Physics 153 (1994) 91; air mass after F. Kasten & A. T. Young, Applied Optics 28 (1989) 4735; clear sky after J. Illum. Eng. Soc. 13 (1984) 381.",
		"The clock: a structural time series after A. C. Harvey (1989); uncertainties after JCGM 100:2008.",
	)
	if rep.Cooling != nil {
		s.List = append(s.List, "The air: Gaussian processes after C. E. Rasmussen & C. K. I. Williams (2006), from memory.")
	}
	s.List = append(s.List, "The log: the station's own, in the files named above.")
	return s
}

// citeSection is a line to copy. It has the site to a hundredth of a degree, as a summary has.
func citeSection(rep *station.Report) page.Section {
	site := rep.Station.Site
	about := func(v float64, plus, minus string) string {
		if v < 0 {
			v, plus = -v, minus
		}
		return fmt.Sprintf("%.2f %s", v, plus)
	}
	edge := ""
	if realEdge(rep) {
		edge = ", the Moon's edge real"
	} else if rep.Curve != nil {
		edge = ", the Moon's edge smooth"
	}
	return page.Section{Part: "Sources", Heading: "How to cite this", Text: []string{
		fmt.Sprintf("Light log of %s, solar eclipse of %s, near %s %s, reduced with noonfall (Go module example.org/noonfall), program reduce%s.",
			called(rep), rep.Station.Eclipse, about(site.Lat, "N", "S"), about(math.Remainder(site.Lon, 360), "E", "W"), edge),
		"Add who recorded it, the day on which you reduced it, and the version of the library, and keep the log and the station's description with it: whoever has both gets the same numbers.",
		"Before you publish the page look through it: it names the site as exactly as it was given, and quotes the owner's words and lines of the log.",
	}}
}
