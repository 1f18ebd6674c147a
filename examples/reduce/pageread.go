package main

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/page"
)

// pageRows are how many refused lines, clock events and files a page lists before counts say more.
const pageRows = 30

// loggerSection is the station as its owner describes it, and what its log says of it.
func loggerSection(rep *station.Report) page.Section {
	s := page.Section{Part: "Material", Heading: "The station and its logger", Quote: rep.Station.Remarks}
	s.Text = append(s.Text, fmt.Sprintf("It stood at %s, %s m above the ellipsoid.", place(rep), page.Number(rep.Station.Site.Height, 0)))
	if rep.Station.Chain == nil {
		s.Text = append(s.Text, "Its sensor was not described: the light column was taken as it is.")
	} else {
		s.Text = append(s.Text, "Its sensor was described, so that counts became lux.")
	}
	health := page.Table{Caption: "What the log says of its logger", Columns: []page.Column{{Head: "What"}, {Head: "As recorded"}}}
	for _, t := range traits(rep) {
		health.Rows = append(health.Rows, []string{t.name, t.text})
	}
	s.Tables = []page.Table{health}
	s.Lead = "As far as this log shows nothing has to be changed before the day."
	for _, a := range rep.Health.Advice {
		s.List, s.Numbered, s.Lead = append(s.List, a.Text), true, "What to change before the day, most important first:"
	}
	return s
}

// readSection accounts for every line.
func readSection(rep *station.Report) page.Section {
	s := page.Section{Part: "Material", Heading: "What was read, and what was refused"}
	if len(rep.Files) == 0 {
		s.Text = []string{"Nothing: there is no file to read."}
		return s
	}
	s.Tables = []page.Table{fileTable(rep)}
	for _, t := range []page.Table{kindTable("Lines refused, by kind", rep.Problems), refusedTable(rep), kindTable("What the clock did, by kind", rep.EventCounts), eventTable(rep)} {
		if len(t.Rows) > 0 {
			s.Tables = append(s.Tables, t)
		}
	}
	if len(rep.Problems) == 0 {
		s.Text = append(s.Text, "No line was refused.")
	}
	s.List = layouts(rep)
	return s
}

func fileTable(rep *station.Report) page.Table {
	t := page.Table{Caption: "Files, by lines", Columns: []page.Column{{Head: "File"}, {Head: "Bytes", Number: true}, {Head: "Records", Number: true}, {Head: "Headers", Number: true},
		{Head: "Comments", Number: true}, {Head: "Blank", Number: true}, {Head: "Refused", Number: true}}}
	for _, f := range rep.Files[:min(len(rep.Files), pageRows)] {
		row := []string{f.Name, strconv.FormatInt(f.Bytes.Sum(), 10)}
		for _, n := range []int64{f.Lines.Records, f.Lines.Headers, f.Lines.Comments, f.Lines.Blanks, f.Lines.Problems} {
			row = append(row, strconv.FormatInt(n, 10))
		}
		t.Rows = append(t.Rows, row)
	}
	t.Caption += more(len(rep.Files))
	return t
}

// more says how many rows a table left out.
func more(all int) string {
	if all <= pageRows {
		return ""
	}
	return fmt.Sprintf(" (the first %d of %d; reduce.json has more)", pageRows, all)
}

// kindTable counts, the most first.
func kindTable(caption string, counts map[string]int) page.Table {
	t := page.Table{Caption: caption, Columns: []page.Column{{Head: "Kind"}, {Head: "Number", Number: true}}}
	for _, kind := range slices.SortedFunc(maps.Keys(counts), func(a, b string) int { return cmp.Or(counts[b]-counts[a], strings.Compare(a, b)) }) {
		t.Rows = append(t.Rows, []string{kind, page.Count(counts[kind])})
	}
	return t
}

func refusedTable(rep *station.Report) page.Table {
	all := 0
	for _, n := range rep.Problems {
		all += n
	}
	t := page.Table{Caption: "Lines refused" + more(all), Columns: []page.Column{{Head: "File"}, {Head: "Line", Number: true}, {Head: "At byte", Number: true}, {Head: "Kind"}, {Head: "Text"}}}
	for _, p := range firstRefused(rep, pageRows) {
		text := p.Text
		if len(text) > quoted {
			text = strings.ToValidUTF8(text[:quoted], "") + "..."
		}
		t.Rows = append(t.Rows, []string{p.File, page.Count(p.Line), strconv.FormatInt(p.Offset, 10), p.Kind.String(), text})
	}
	return t
}

func eventTable(rep *station.Report) page.Table {
	all := 0
	for _, n := range rep.EventCounts {
		all += n
	}
	t := page.Table{Caption: "What the clock did" + more(all), Columns: []page.Column{{Head: "Kind"}, {Head: "Line", Number: true}, {Head: "From (stamp)"}, {Head: "To (stamp)"}, {Head: "Seconds", Number: true}}}
	for _, e := range rep.Events[:min(len(rep.Events), pageRows)] {
		t.Rows = append(t.Rows, []string{e.Kind.String(), page.Count(e.Line), e.From.Format(time.DateTime), e.To.Format(time.DateTime), page.Number(math.Round(e.Seconds), 0)})
	}
	return t
}

// layouts say how the files were understood, once for each way.
func layouts(rep *station.Report) (out []string) {
	said := map[string]bool{}
	for _, f := range rep.Files {
		reasons := strings.Join(f.Layout.Reasons, "; ")
		if f.Layout.Zone != "" {
			reasons = strings.TrimPrefix(reasons+"; zone of the stamps: "+f.Layout.Zone, "; ")
		}
		if reasons == "" || said[reasons] || len(out) == pageRows {
			continue
		}
		said[reasons] = true
		out = append(out, f.Name+" was read so: "+reasons+".")
	}
	return out
}

// wrongSection is what a reader should doubt.
func wrongSection(rep *station.Report) page.Section {
	s := page.Section{Part: "Discussion", Heading: "What could be wrong"}
	if len(rep.Warnings) == 0 {
		s.Text = []string{"The program found nothing odd about this log. What always holds:"}
	} else {
		s.Text = []string{"What the program found odd about this log comes first, then what always holds."}
	}
	s.List = append(slices.Clone(rep.Warnings),
		"The description may be mistaken. The light checks it against the usual mistakes, a sign, coordinates exchanged, a zone, a date, but not against a site a few kilometres off: a kilometre is up to two seconds.",
		"The sensor's own lag makes a clock look fast, and the averaging of samples moves it too.",
		"Thin, even cloud that comes and goes with the eclipse cannot be told from the eclipse.",
		"How far the Earth has turned is a forecast for days to come.",
	)
	if rep.Curve != nil {
		s.List = append(s.List, edgeDoubt(rep))
	}
	if rep.Cooling != nil && !rep.Cooling.Control {
		s.List = append(s.List, "The air's fall is measured against a day that never was: a wind or a cloud may have cooled it, too. A control day would help.")
	}
	return s
}

func edgeDoubt(rep *station.Report) string {
	if realEdge(rep) {
		return "The Moon's edge is known to some tenths of a second, no better."
	}
	return "The Moon was taken for a smooth disc. It is none, and its light is off by a second or so: that is in the uncertainty."
}
