package main

import (
	"bytes"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"text/tabwriter"

	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/sensor"
)

// writeText writes the story for people.
func (s *story) writeText(w io.Writer) error {
	var b bytes.Buffer
	section(&b, "THE QUESTION", s.question())
	section(&b, "THE LIGHT")
	s.lightTable(&b)
	section(&b, "THE LOADS")
	s.loadTable(&b)
	section(&b, "THE ANSWER", s.answerWords()...)
	section(&b, "WHAT PEOPLE TAKE", s.practice()...)
	section(&b, "ONE SENSOR OR TWO", s.oneOrTwo()...)
	section(&b, "IF YOURS IS ANOTHER", s.doubt())
	s.spreadTable(&b)
	section(&b, "CAUTIONS")
	for _, c := range s.cautions() {
		b.WriteString(cli.Wrap(c, "- ", "  "))
	}
	_, err := w.Write(trailing.ReplaceAll(b.Bytes(), nil))
	return err
}

// trailing is what tables leave at the ends of lines.
var trailing = regexp.MustCompile(`(?m) +$`)

// section writes a heading and its paragraphs; an empty one is left out.
func section(b *bytes.Buffer, heading string, paragraphs ...string) {
	if b.Len() > 0 {
		b.WriteByte('\n')
	}
	fmt.Fprintln(b, heading)
	for _, p := range paragraphs {
		if p != "" {
			b.WriteString(cli.Wrap(p, "  ", "  "))
		}
	}
}

func (s *story) lightTable(w io.Writer) {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	cell := func(string) string { return "" }
	d := s.chain.Divider
	if d != nil {
		cell = func(text string) string { return text + "\t" }
	}
	fmt.Fprintf(t, "  %10s\t%s\t%ssource\n", "lx", "", cell("the cell"))
	for _, l := range levels {
		has := ""
		if d != nil {
			has = cell(ohms(d.Cell.Ohms(l.lux)))
		}
		fmt.Fprintf(t, "  %10s\t%s\t%s%d\n", figure(l.lux, 4), l.name, has, 1+slices.Index(sources, l.source))
	}
	t.Flush()
	for i, source := range sources {
		io.WriteString(w, cli.Wrap(fmt.Sprintf("%d  %s", i+1, source), "  ", "     "))
	}
	io.WriteString(w, cli.Wrap(totalities, "  ", "  "))
}

func (s *story) loadTable(w io.Writer) {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	top, names, lux := "", "load\t", "ohm\t"
	for range marked()[1:] {
		top += "\t"
	}
	for _, l := range marked() {
		names += l.short + "\t"
		lux += figure(l.lux, 4) + "\t"
	}
	fmt.Fprintf(t, "\tcounts at%s\tper octave\tat lx\treads\tlx\tfilter\t\n", top)
	fmt.Fprintf(t, "%s\t\t\t\t\t\n", names)
	fmt.Fprintf(t, "%s%s\t%s\tfrom\tto\tdensity\t\n", lux, figure(s.low, 4), figure(s.high, 4))
	for _, c := range s.table {
		fmt.Fprintf(t, "%s\t", figure(c.Ohms, 4))
		for _, r := range c.readings {
			fmt.Fprintf(t, "%s\t", counted(r))
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t  %s\n", scale(c.CountsPerOctaveLeast), scale(c.CountsPerOctaveGreatest),
			figure(c.DarkLux, 3), figure(c.SaturatesLux, 3), density(c.SunDensity), strings.Join(c.roles, ", "))
	}
	t.Flush()
	io.WriteString(w, cli.Wrap(s.legend(), "  ", "  "))
}

// counted is a count with a letter where it is a bound.
func counted(r reading) string {
	mark := map[sensor.Status]string{sensor.TooDark: "d", sensor.Saturated: "s"}[r.status]
	return fmt.Sprintf("%.0f%1s", r.counts, mark)
}

func scale(perOctave float64) string {
	if perOctave == 0 { // exactly: a bound
		return "-"
	}
	return fmt.Sprintf("%.0f", perOctave)
}

func density(d float64) string {
	if d == 0 { // exactly: none is needed
		return "-"
	}
	return fmt.Sprintf("%.2f", d)
}

func (s *story) spreadTable(w io.Writer) {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintf(t, "  \twith %s\t\twith %s and %s\n", ohms(s.best.Ohms), ohms(s.pair.Dim.Ohms), ohms(s.pair.Bright.Ohms))
	for _, v := range s.spread {
		one, two := v.keeps()
		fmt.Fprintf(t, "  %s\t%s to %s lx\t%s\t%s\n", v.what, figure(v.one.DarkLux, 3), figure(v.one.SaturatesLux, 3), one, two)
	}
	t.Flush()
}
