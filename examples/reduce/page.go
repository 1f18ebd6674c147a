package main

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/page"
)

// writePage writes the page to read, print and hang on a board: report.html.
func writePage(w io.Writer, rep *station.Report) error {
	p := page.Page{
		Title:   "How wrong was the clock of " + called(rep) + "?",
		About:   about(rep),
		Verdict: verdictOf(rep),
		Foot:    "Written by the program reduce of noonfall, a library for eclipse loggers.",
	}
	light, err := lightSection(rep)
	if err != nil {
		return err
	}
	air, err := airSection(rep)
	if err != nil {
		return err
	}
	for _, s := range []page.Section{light, air, methodSection(rep), numbersSection(rep), wrongSection(rep), loggerSection(rep), readSection(rep),
		{Part: "Safety", Heading: "Cautions", List: cautions}, sourcesSection(rep), citeSection(rep)} {
		if s.Heading != "" {
			p.Sections = append(p.Sections, s)
		}
	}
	return p.Write(w)
}

// told are the lines of a part of the text, which the page repeats to the letter: words and
// digits are written in one place. Headings are left out, and the sign that a terminal may lack is put in.
func told(part func(io.Writer)) (lines []string) {
	var b bytes.Buffer
	part(&b)
	for line := range strings.Lines(b.String()) {
		if strings.HasPrefix(line, "  ") {
			lines = append(lines, strings.ReplaceAll(strings.TrimSpace(line), "+-", "\u00b1"))
		}
	}
	return lines
}

func called(rep *station.Report) string {
	if rep.Station.Code == "" {
		return "a station without a name"
	}
	return "station " + rep.Station.Code
}

func place(rep *station.Report) string {
	s := rep.Station.Site
	return degrees(s.Lat, "N", "S") + " " + degrees(math.Remainder(s.Lon, 360), "E", "W")
}

// mostAbout is how much of the owner's remarks the top of the page has, characters.
const mostAbout = 220

func about(rep *station.Report) []string {
	kind := "no eclipse"
	if g := rep.Circumstances.Geometry; g != eclipse.None {
		kind = fmt.Sprintf("a %v eclipse", g)
	}
	out := []string{fmt.Sprintf("A light logger at %s, day of the eclipse %s: %s there.", place(rep), rep.Station.Eclipse, kind)}
	if words := []rune(rep.Station.Remarks); len(words) > mostAbout {
		out = append(out, "Its owner says: "+string(words[:mostAbout])+"...")
	} else if len(words) > 0 {
		out = append(out, "Its owner says: "+rep.Station.Remarks)
	}
	return out
}

// mostMind is how many warnings stand beside the verdict itself.
const mostMind = 3

func verdictOf(rep *station.Report) page.Verdict {
	lines := told(func(w io.Writer) { writeClock(w, rep) })
	v := page.Verdict{Answer: lines[0], Points: lines[1:], Refused: rep.Refusal != nil}
	for i, text := range rep.Warnings {
		if i == mostMind {
			v.Mind = append(v.Mind, fmt.Sprintf("%d more, under what could be wrong.", len(rep.Warnings)-i))
			break
		}
		v.Mind = append(v.Mind, text)
	}
	return v
}

// pictured says that there is something to draw.
func pictured(rep *station.Report) bool { return rep.Curve != nil && len(rep.Samples) > 0 }

func lightSection(rep *station.Report) (page.Section, error) {
	s := page.Section{Part: "Result", Heading: "The light, predicted and measured", Text: []string{skyInWords(rep)}}
	if rep.Clock != nil {
		s.List = told(func(w io.Writer) { writeEvidence(w, rep.Clock) })
	}
	if !pictured(rep) {
		s.Text = append(s.Text, "There is no picture: nothing was measured that could be laid over a prediction.")
		return s, nil
	}
	f, err := page.Draw("light", "Light at "+called(rep)+" during the eclipse of "+rep.Station.Eclipse, lightInWords(rep),
		"Each step of the upper scale is ten times the one below it. Points on the line: log and sky agree.",
		func(w io.Writer) error { return writePicture(w, rep) })
	s.Figures = []page.Figure{f}
	return s, err
}

// skyInWords is what the place got to see; the contacts stand in a table.
func skyInWords(rep *station.Report) string {
	c := &rep.Circumstances
	switch {
	case c.Geometry == eclipse.None:
		return "There was no eclipse at this place on that day."
	case c.Seen == eclipse.None:
		return "The Sun was below the horizon during the eclipse."
	}
	return fmt.Sprintf("The Moon covered %.1f %% of the Sun's area at most: a %v eclipse of magnitude %.3f, greatest at %s UTC.",
		100*c.Obscuration, c.Seen, c.Magnitude, c.Max.UTC.Format(time.TimeOnly))
}

// lightInWords is the picture for those who do not see it.
func lightInWords(rep *station.Report) string {
	most, least := math.Inf(-1), math.Inf(1)
	for q := range rep.Curve.All(60e9) {
		most, least = math.Max(most, q.Lux), math.Min(least, q.Lux)
	}
	text := fmt.Sprintf("A line falls from first contact to maximum eclipse and rises again until last contact, between %s and %s lx on a logarithmic scale: the predicted light.", twoDigits(most), twoDigits(least))
	for i, k := range contacts(rep) {
		text += fmt.Sprintf("%s %s at %s", map[bool]string{true: " Marked are", false: ","}[i == 0], k.name, k.UTC.Format(time.TimeOnly))
	}
	text += " UTC."
	c := rep.Clock
	if c == nil {
		return text + " No measured points are drawn, since the clock is not known."
	}
	text += fmt.Sprintf(" %d points are the measured light.", len(c.Points))
	for _, line := range told(func(w io.Writer) { writeResiduals(w, c) }) {
		text += " " + line
	}
	return fmt.Sprintf("%s %s shaded as cloud or shade.", text, plural(int64(len(c.Cloud)), "span"))
}

func airSection(rep *station.Report) (page.Section, error) {
	lines := told(func(w io.Writer) { writeAir(w, rep) })
	if len(lines) == 0 {
		return page.Section{}, nil
	}
	s := page.Section{Part: "Result", Heading: "How the air cooled", Text: []string{strings.Join(lines, " ")}}
	if rep.Cooling == nil || !pictured(rep) {
		return s, nil
	}
	f, err := page.Draw("air", "Air temperature at "+called(rep)+" during the eclipse of "+rep.Station.Eclipse,
		"Three courses of the temperature against UTC: what the thermometer showed, the air itself with the thermometer's lag taken out, and the day as it would have been without eclipse. "+s.Text[0],
		"What the eclipse did is the distance between the air and the day without it.",
		func(w io.Writer) error { return writeAirPicture(w, rep) })
	s.Figures = []page.Figure{f}
	return s, err
}
