package main

import (
	"cmp"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/logfile"
)

// How many lines a person reads before counts say more.
const (
	textRefused  = 6
	textEvents   = 6
	textFiles    = 12
	textWarnings = 12
	jsonRefused  = 100
	quoted       = 60 // bytes of a refused line
)

// writeFiles says what was read, what was refused and where, and what the clock did.
func writeFiles(w io.Writer, rep *station.Report) {
	fmt.Fprintln(w, "WHAT WAS READ")
	if len(rep.Files) == 0 {
		fmt.Fprintln(w, "  nothing: there is no file to read")
	}
	said := ""
	for i, f := range rep.Files {
		if i == textFiles {
			fmt.Fprintf(w, "  and %d more files\n", len(rep.Files)-i)
			break
		}
		fmt.Fprintf(w, "  %s: %d bytes; %s\n", f.Name, f.Bytes.Sum(), accountOf(f.Lines))
		reasons := strings.Join(f.Layout.Reasons, "\n")
		switch {
		case reasons == "":
		case reasons == said:
			fmt.Fprintln(w, "    laid out like the file before")
		default:
			for _, r := range f.Layout.Reasons {
				fmt.Fprintf(w, "    %s\n", r)
			}
		}
		said = reasons
		if f.Layout.Zone != "" {
			fmt.Fprintf(w, "    zone of the stamps: %s\n", f.Layout.Zone)
		}
	}
	writeRefused(w, rep)
	writeEvents(w, rep)
	fmt.Fprintln(w)
}

// accountOf lists what a file's lines were taken for, leaving out what it has none of.
func accountOf(a logfile.Accounts) string {
	parts := []string{plural(a.Records, "record")}
	for _, k := range []struct {
		n    int64
		name string
	}{{a.Headers, "header"}, {a.Comments, "comment"}, {a.Blanks, "blank line"}} {
		if k.n > 0 {
			parts = append(parts, plural(k.n, k.name))
		}
	}
	return strings.Join(append(parts, plural(a.Problems, "line")+" refused"), ", ")
}

func plural(n int64, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// firstRefused are the first lines refused, file by file.
func firstRefused(rep *station.Report, n int) []logfile.Problem {
	var out []logfile.Problem
	for _, f := range rep.Files {
		out = append(out, f.List[:min(len(f.List), n-len(out))]...)
	}
	return out
}

func writeRefused(w io.Writer, rep *station.Report) {
	rest := maps.Clone(rep.Problems)
	shown := firstRefused(rep, textRefused)
	if len(shown) > 0 {
		fmt.Fprintln(w, "  lines refused:")
	}
	for _, p := range shown {
		text := p.Text
		if len(text) > quoted {
			text = strings.ToValidUTF8(text[:quoted], "") + "..."
		}
		fmt.Fprintf(w, "    %s:%d (byte %d): %v: %q\n", p.File, p.Line, p.Offset, p.Kind, text)
		rest[p.Kind.String()]--
	}
	writeRest(w, rest)
}

func writeEvents(w io.Writer, rep *station.Report) {
	rest := maps.Clone(rep.EventCounts)
	if len(rep.Events) > 0 {
		fmt.Fprintln(w, "  what the clock did:")
	}
	for _, e := range rep.Events[:min(len(rep.Events), textEvents)] {
		fmt.Fprintf(w, "    %v, line %d: from %s to %s (%+.0f s)\n", e.Kind, e.Line, e.From.Format("2006-01-02 15:04:05"), e.To.Format("2006-01-02 15:04:05"), e.Seconds)
		rest[e.Kind.String()]--
	}
	writeRest(w, rest)
}

// writeRest lists what was not shown as counts by kind, the most first.
func writeRest(w io.Writer, rest map[string]int) {
	var parts []string
	kinds := slices.SortedFunc(maps.Keys(rest), func(a, b string) int { return cmp.Or(rest[b]-rest[a], strings.Compare(a, b)) })
	for _, kind := range kinds {
		if rest[kind] > 0 {
			parts = append(parts, fmt.Sprintf("%d x %s", rest[kind], kind))
		}
	}
	if len(parts) > 0 {
		fmt.Fprintf(w, "    and %s\n", strings.Join(parts, ", "))
	}
}
