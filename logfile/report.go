package logfile

import (
	"fmt"
	"maps"
	"slices"
)

// Accounts are lines or bytes by what they were taken for.
type Accounts struct {
	Records, Headers, Comments, Blanks, Problems int64 // lines, or their bytes with line ends
}

// Sum is all of them.
func (a Accounts) Sum() int64 { return a.Records + a.Headers + a.Comments + a.Blanks + a.Problems }

// A Direction is how the stamps of a file follow each other.
type Direction uint8

// The directions. A stamp that repeats the one before is of any.
const (
	Undirected Direction = iota // fewer than two different stamps
	Ascending
	Descending // newest first
	Mixed
)

var directions = [...]string{Undirected: "undirected", Ascending: "ascending", Descending: "descending", Mixed: "mixed"}

// String is one of "undirected", "ascending", "descending" and "mixed".
func (d Direction) String() string {
	if int(d) < len(directions) {
		return directions[d]
	}
	return fmt.Sprintf("direction %d", uint8(d))
}

// A Report is the book-keeping of a Reader. Once the records are walked to the
// end, Bytes.Sum() is the length of the input and Lines.Sum() its number of
// lines, always.
type Report struct {
	Name   string       // Options.Name
	Lines  Accounts     // by what they were taken for
	Bytes  Accounts     // the same in bytes, line ends included
	ByKind map[Kind]int // refused lines; complete, also where List is capped
	List   []Problem    // in the order of the file, at most Options.MaxProblems
	// Missing counts, for every column that is read, the cells that were empty, no
	// number or a failed sensor's value, in lines that are records all the same: the
	// Record has NaN there.
	Missing map[Role]int
	Layout  Layout // as found, or as given
	// Order is how the stamps follow each other, in the order of the file.
	Order Direction
	// Starts is how many power-ons a count since the logger's start has shown, also those
	// whose instant nobody gave.
	Starts int
	// ZoneAssumed says that stamps carried no zone, neither the heading nor the
	// caller gave one, and they were read as UTC.
	ZoneAssumed bool
}

// String sums the report up in a line.
func (r Report) String() string {
	return fmt.Sprintf("%s: %d records, %d headers, %d problems", r.Name, r.Lines.Records, r.Lines.Headers, r.Lines.Problems)
}

// Report returns the book-keeping so far, as a copy.
func (r *Reader) Report() Report {
	out := r.rep
	out.ByKind = maps.Clone(r.rep.ByKind)
	out.List = slices.Clone(r.rep.List)
	out.Missing = map[Role]int{}
	for role, n := range r.missing {
		if n > 0 {
			out.Missing[Role(role)] = n
		}
	}
	out.Starts = r.boot.at.run
	switch {
	case r.rises > 0 && r.falls > 0:
		out.Order = Mixed
	case r.rises > 0:
		out.Order = Ascending
	case r.falls > 0:
		out.Order = Descending
	}
	if r.layout != nil {
		out.Layout = *r.layout
		out.Layout.Columns = slices.Clone(r.layout.Columns)
		out.Layout.Reasons = slices.Clone(r.layout.Reasons)
		out.Layout.Zone, out.ZoneAssumed = r.zoneSeen()
	}
	return out
}

// zoneSeen says in words where the zone of the stamps read so far came from, and
// whether it was only assumed.
func (r *Reader) zoneSeen() (string, bool) {
	i := r.layout.has(Time)
	switch {
	case i >= 0 && r.layout.Columns[i].Scale != 0:
		return "UTC, counted since 1970", false
	case i >= 0 && r.layout.Columns[i].Tick != 0:
		return "UTC, counted from the starts given", false
	case r.bare == 0 && r.zoned == 0:
		return "", false
	case r.bare == 0:
		return "in the stamps", false
	case r.opt.Zone != nil:
		return "given: " + r.opt.Zone.String(), false
	case r.layout.zoneByHeading && r.layout.headingZone == 0:
		return "UTC, by the heading", false
	case r.layout.zoneByHeading:
		return fmt.Sprintf("%+g h from UTC, by the heading", float64(r.layout.headingZone)/3600), false
	}
	return "UTC, assumed", true
}

// count adds a line to an account, and remembers which, for an LF that may turn up.
func (r *Reader) count(lines, bytes *int64, l *line) {
	*lines++
	*bytes += l.bytes
	r.owner = bytes
}

// credit adds what the next line brought back to the one before.
func (r *Reader) credit(carry int64) {
	if carry > 0 && r.owner != nil {
		*r.owner += carry
	}
}

func (r *Reader) refuse(l *line, k Kind) {
	r.count(&r.rep.Lines.Problems, &r.rep.Bytes.Problems, l)
	r.rep.ByKind[k]++
	if len(r.rep.List) < r.opt.MaxProblems {
		r.rep.List = append(r.rep.List, Problem{File: r.opt.Name, Text: excerpt(l.text), Line: l.number, Offset: l.offset, Kind: k})
	}
}
