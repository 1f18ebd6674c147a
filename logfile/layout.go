package logfile

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"unicode/utf8"
)

// A Column is one column of a layout.
type Column struct {
	Name string // from the header, without quotes; empty without one
	Role Role
	// Unit is as the heading gives it, in brackets or behind it, else as the cells
	// have it behind their numbers; empty where there is none. Numbers are never
	// converted to another.
	Unit string
	// Scale divides a number to give seconds since 1970, for a Time column that
	// holds an epoch: 1, 1e3 or 1e6; 0 where it holds a written stamp.
	Scale float64

	zoned, seconds bool   // all stamps of the sample had a zone, had seconds
	torn           bool   // the last one: a stamp shorter than the sample's was cut short
	stamped        bool   // stamps or parts of them were seen in it
	suffix         string // what stands behind the number in every cell, byte for byte: a unit
	hint           string // a unit that is not from the heading
}

// A Layout is how a file's lines are to be read.
type Layout struct {
	Delimiter    byte // a blank stands for runs of blanks and tabs
	DecimalComma bool
	Header       bool // the sample had a header
	Columns      []Column
	Order        Order // YMD where no date of the file starts with day or month
	// Zone says in words where the zone of the stamps comes from; empty until one
	// has been read.
	Zone string
	// Reasons say in words what was decided and why.
	Reasons []string

	zoneByHeading bool // the heading of the time says which
	headingZone   int  // seconds east of UTC
	either        bool // no decimal mark has been seen yet: it may be a comma
	united        bool // a column has units inside its cells
}

func (l *Layout) because(format string, args ...any) {
	l.Reasons = append(l.Reasons, fmt.Sprintf(format, args...))
}

// has is the column of a role, or -1.
func (l *Layout) has(r Role) int {
	return slices.IndexFunc(l.Columns, func(c Column) bool { return c.Role == r })
}

// dateColumn is the one that holds written dates, or -1.
func (l *Layout) dateColumn() int {
	if i := l.has(Time); i >= 0 {
		if l.Columns[i].Scale != 0 {
			return -1
		}
		return i
	}
	return l.has(Date)
}

// looseStamp is a line's date and time of day as they are written, before their
// order is known.
func (l *Layout) looseStamp(fields [][]byte) stamp {
	s, form := parseStamp(fields[l.dateColumn()], Auto)
	if !form {
		return stamp{}
	}
	if i := l.has(Clock); i >= 0 && l.has(Time) < 0 {
		if c, form := parseStamp(fields[i], Auto); form {
			s.hour, s.minute, s.sec, s.hasClock = c.hour, c.minute, c.sec, c.hasClock
		}
	}
	return s
}

// markLast marks the column that suffers when a line is cut short.
func (l *Layout) markLast() {
	for i := range l.Columns {
		l.Columns[i].torn = i == len(l.Columns)-1
	}
}

// mark is the decimal mark.
func (l *Layout) mark() byte {
	if l.DecimalComma {
		return ','
	}
	return '.'
}

// infer decides the layout from a sample of lines; remark is the last comment
// above the data, which may hold the headings. The order of dates is left for the
// caller.
func infer(sample [][]byte, remark []byte, opt Options) (*Layout, *draft, error) {
	fail := func(decides, format string, args ...any) error {
		return &LayoutError{File: opt.Name, Decides: decides, Reason: fmt.Sprintf(format, args...)}
	}
	best := &draft{}
	widths := map[int]bool{}
	for _, d := range delimiters {
		for _, mark := range []byte(d.marks) {
			c := cut(sample, d.char, mark, len(opt.Columns))
			widths[c.width] = true
			if c.score*d.weight > best.score*1.0001 {
				best, best.score = c, c.score*d.weight
			}
		}
	}
	if best.score == 0 {
		if n := len(opt.Columns); n > 0 {
			return nil, nil, fail("columns", "%d columns are named, and no delimiter cuts the lines into as many", n)
		}
		return nil, nil, fail("columns", "no delimiter cuts the lines into columns with a time and a value")
	}
	l := &Layout{Delimiter: best.delimiter, DecimalComma: best.mark == ',', Columns: make([]Column, best.width)}
	l.either = best.mark == '.' && best.delimiter != ',' && !best.marked()
	l.because("cut at %s: %d of %d sampled lines with a number or a stamp have %d fields", strconv.QuoteRune(rune(best.delimiter)), len(best.rows), best.all, best.width)
	if l.DecimalComma {
		l.because("the decimal mark is a comma")
	}
	l.headings(best, remark)
	return l, best, l.assign(best, opt, fail)
}

// headings takes the names of the columns from the header, or from a comment of
// the same width that holds a word for the time or for light.
func (l *Layout) headings(d *draft, remark []byte) {
	var head [][]byte
	if l.Header = d.head != nil; l.Header {
		head = d.head.fields
	} else {
		fields, ok := split(nil, bytes.TrimLeft(remark, "#%/ "), d.delimiter)
		if !ok || len(fields) != d.width || !tellsHeading(fields) {
			return
		}
		head = fields
		l.because("headings from the comment above the data")
	}
	for i, h := range head {
		l.Columns[i].Name = heading(h)
		l.Columns[i].Unit = unitOf(l.Columns[i].Name)
	}
}

// heading makes a name of a cell: quotes made single, text that is not UTF-8 taken
// for Latin-1, whose bytes are the first code points.
func heading(b []byte) string {
	b = bytes.ReplaceAll(trim(b), []byte(`""`), []byte(`"`))
	if utf8.Valid(b) {
		return string(b)
	}
	runes := make([]rune, len(b))
	for i, c := range b {
		runes[i] = rune(c)
	}
	return string(runes)
}

// named finds a column by its heading or its number from 1.
func (l *Layout) named(name string) (int, error) {
	for i, c := range l.Columns {
		if equalFold(c.Name, name) && name != "" {
			return i, nil
		}
	}
	if n, err := strconv.Atoi(name); err == nil {
		if n >= 1 && n <= len(l.Columns) {
			return n - 1, nil
		}
		return 0, fmt.Errorf("there is no column %d, the lines have %d", n, len(l.Columns))
	}
	if !l.Header {
		return 0, fmt.Errorf("there is no column %q: the file has no header, columns go by number from 1 to %d", name, len(l.Columns))
	}
	return 0, fmt.Errorf("there is no column %q; there are %s", name, l.names())
}

// names lists the headings.
func (l *Layout) names() string {
	var b []byte
	for i, c := range l.Columns {
		if i > 0 {
			b = append(b, ", "...)
		}
		b = strconv.AppendQuote(b, c.Name)
	}
	return string(b)
}
