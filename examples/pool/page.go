package main

import (
	"bytes"
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strings"

	"example.org/noonfall/examples/internal/page"
)

// writePage writes the page to read, print and hang on a board: report.html.
func (p *pooling) writePage(w io.Writer) error {
	out := page.Page{
		Title:   p.question(),
		About:   []string{"Loggers of light, each at its place, during the solar eclipse of " + p.Eclipse + "."},
		Verdict: p.verdict(),
		Foot:    "Written by the program pool of noonfall, a library for eclipse loggers.",
	}
	if p.Invented {
		out.About = append(out.About, "Invented data: made-up loggers at made-up schools; nothing was measured.")
	}
	network, err := p.networkSection()
	if err != nil {
		return err
	}
	light, err := p.lightSection()
	if err != nil {
		return err
	}
	for _, s := range []page.Section{network, light, p.togetherSection(), methodSection(), p.offSection(), p.missingSection(), p.wrongSection(),
		{Part: "Safety", Heading: "Cautions", List: cautions}, p.sourcesSection(), p.citeSection()} {
		if s.Heading != "" {
			out.Sections = append(out.Sections, s)
		}
	}
	return out.Write(w)
}

func (p *pooling) question() string {
	if n := len(p.Stations); n != 1 {
		return fmt.Sprintf("What do %d stations say together?", n)
	}
	return "What does 1 station say?"
}

// told are the paragraphs of a part of the text, which the page repeats to the letter: words and
// digits are written in one place. The sign that a terminal may lack is put in.
func told(part func(io.Writer)) (paragraphs []string) {
	var b bytes.Buffer
	part(&b)
	for paragraph := range strings.SplitSeq(b.String(), "\n\n") {
		if text := strings.Join(strings.Fields(paragraph), " "); text != "" {
			paragraphs = append(paragraphs, strings.ReplaceAll(text, "+-", "\u00b1"))
		}
	}
	return paragraphs
}

func (p *pooling) verdict() page.Verdict {
	clocks := 0
	for _, m := range p.Stations {
		if m.Summary.Clock != nil {
			clocks++
		}
	}
	v := page.Verdict{Refused: clocks == 0}
	v.Answer = fmt.Sprintf("The light told how wrong the clock was at %d of %s.", clocks, stations(len(p.Stations)))
	for _, part := range []func(io.Writer){p.clocks, p.shadow, p.moon} {
		v.Points = append(v.Points, told(part)...)
	}
	if names := p.offNames(); len(names) > 0 {
		v.Mind = append(v.Mind, "off by more than chance: "+strings.Join(names, ", ")+".")
	}
	if n := len(p.Failed); n > 0 {
		v.Mind = append(v.Mind, stations(n)+" could not be read; see what was refused.")
	}
	return v
}

// mostNamed is how many stations that are off stand beside the verdict.
const mostNamed = 6

func (p *pooling) offNames() (names []string) {
	for i, o := range p.Outliers {
		if i == mostNamed {
			return append(names, fmt.Sprintf("and %d more", len(p.Outliers)-i))
		}
		names = append(names, o.Name+"'s "+o.What)
	}
	return names
}

// networkSection has the map and the table of stations.
func (p *pooling) networkSection() (page.Section, error) {
	s := page.Section{Part: "Material", Heading: "The stations", Tables: []page.Table{p.placeTable(), p.foundTable()}}
	f, err := page.Draw("map", "Map of the stations and of the shadow's path, eclipse of "+p.Eclipse, p.mapInWords(),
		"The places stand in the table below, as exactly as the summaries have them.", p.writeMap)
	s.Figures = []page.Figure{f}
	return s, err
}

func (p *pooling) mapInWords() string {
	f := p.around()
	seen := map[string]int{}
	for _, m := range p.Stations {
		seen[m.Summary.Seen]++
	}
	text := fmt.Sprintf("A map from %.0f to %.0f degrees north and %.0f to %.0f degrees east with coastlines, the central line of the eclipse and its limits.", f.south, f.north, turned(f.west), turned(f.east))
	for _, kind := range []string{"total", "annular", "partial", "none"} {
		if n := seen[kind]; n > 0 {
			what := map[string]string{"none": "no eclipse"}[kind]
			if what == "" {
				what = "a " + kind + " eclipse"
				if kind == "annular" {
					what = "an annular eclipse"
				}
			}
			text += fmt.Sprintf(" At %s there was %s.", stations(n), what)
		}
	}
	return text + " Their places stand in the table below the map."
}

func (p *pooling) lightSection() (page.Section, error) {
	if len(p.Curve) == 0 {
		return page.Section{}, nil
	}
	s := page.Section{Part: "Result", Heading: "The light of all stations", Text: told(p.light)[:1], Tables: []page.Table{p.curveTable()}}
	text := "Dots fall from the upper left to the lower right, slowly at first and steeply at the end, along the predicted line and within a band that holds two thirds of the stations."
	for _, c := range p.someLight() {
		text += fmt.Sprintf(" At %.1f %% covered the median is %s.", 100*c.Obscuration, percent(c.Median))
	}
	f, err := page.Draw("curve", "Light of all stations against the covered part of the Sun, eclipse of "+p.Eclipse, text,
		"Each step of the scale is ten times the one below it. The prediction is for the station that sees most.", p.writeCurve)
	s.Figures = []page.Figure{f}
	return s, err
}

// togetherSection has what no station can find alone.
func (p *pooling) togetherSection() page.Section {
	s := page.Section{Part: "Result", Heading: "What no station can find alone", Text: told(p.law)}
	if t := p.figureTable(); len(t.Rows) > 0 {
		s.Tables = []page.Table{t}
	}
	for _, what := range slices.Sorted(maps.Keys(p.Untold)) {
		s.List = append(s.List, what+": "+p.Untold[what])
	}
	if len(s.List) > 0 {
		s.Lead = "What the stations do not tell, and why:"
	}
	return s
}

// deg is a coordinate with as many digits as a summary has.
func deg(v float64) string { return page.Number(v, 2) }

// logPercent turns a natural logarithm into per cent more.
func logPercent(v float64) string { return page.Number(100*math.Expm1(v), 0) }
