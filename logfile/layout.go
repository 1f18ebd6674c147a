package logfile

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"
)

// A Column is one column of a layout.
type Column struct {
	Name string // from the header, without quotes; empty without one
	Role Role   // what it holds; Skip where it is not read
	// Unit is as the heading gives it, in brackets or after it, else as the cells
	// have it after their numbers; empty where there is none. Numbers are never
	// converted to another.
	Unit string
	// Scale divides a number to give seconds since 1970, for a Time column that
	// holds an epoch: 1, 1e3, 1e6 or 1e9; 0 where it holds a written stamp.
	Scale float64
	// Tick is what a number counts, for a Time column that counts from the logger's
	// start; 0 where it does not.
	Tick time.Duration

	counts         bool   // it counts from the logger's start
	zoned, seconds bool   // all stamps of the sample had a zone, had seconds
	torn           bool   // the last one: a stamp shorter than the sample's was cut short
	stamped        bool   // stamps or parts of them were seen in it
	suffix         string // what stands behind the number in every cell, byte for byte: a unit
	hint           string // a unit that is not from the heading
}

// A Layout is how a file's lines are to be read.
type Layout struct {
	Delimiter    byte     // a blank stands for runs of blanks and tabs
	DecimalComma bool     // numbers have a decimal comma
	Header       bool     // the sample had a header
	Columns      []Column // from left to right
	Order        Order    // YMD where no date of the file starts with day or month
	// Zone says in words where the zone of the stamps comes from; empty until one
	// has been read.
	Zone string
	// Reasons say in words what was decided and why.
	Reasons []string

	tick          time.Duration // of a count since the start, as given
	zoneByHeading bool          // the heading of the time says which
	headingZone   int           // seconds east of UTC
	either        bool          // no decimal mark has been seen yet: it may be a comma
	lively        bool          // light is what changes most, and no heading says so
	united        bool          // a column has units inside its cells
	headLine      []byte        // a header of another width, as it stands
	below         [][][]byte    // lines of words right below the header, cut
}

func (l *Layout) because(format string, args ...any) {
	if len(l.Reasons) >= mostReasons {
		return
	}
	why := fmt.Sprintf(format, args...)
	if len(l.Reasons) == mostReasons-1 {
		why = "and more, which are not listed"
	}
	if len(why) > reasonCap {
		why = strings.ToValidUTF8(why[:reasonCap], "") + "..."
	}
	l.Reasons = append(l.Reasons, why)
}

// has is the column of a role, or -1.
func (l *Layout) has(r Role) int {
	return slices.IndexFunc(l.Columns, func(c Column) bool { return c.Role == r })
}

// dateColumn is the one that holds written dates, or -1.
func (l *Layout) dateColumn() int {
	if i := l.has(Time); i >= 0 {
		if l.Columns[i].Scale != 0 || l.Columns[i].counts {
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
	if err := opt.marksGiven(fail); err != nil {
		return nil, nil, err
	}
	best, other := bestDraft(sample, opt)
	switch n := len(opt.Columns); {
	case best.score == 0 && opt.Delimiter != 0:
		return nil, nil, fail("delimiter", "%s, as given, does not cut the lines into columns with a time and a value", delimiterName(opt.Delimiter))
	case best.score == 0 && n > 0:
		return nil, nil, fail("columns", "%d columns are named, and no delimiter cuts the lines into as many", n)
	case best.score == 0:
		return nil, nil, fail("columns", "no delimiter cuts the lines into columns, %d at most, with a time and a value", mostColumns)
	}
	if cell := best.thousands; cell != "" && other != nil && opt.Decimal == 0 {
		// A semicolon stands where the comma is taken by the decimals.
		if best.delimiter != ';' {
			return nil, nil, fail("decimal", "numbers such as %q may have a decimal comma or a comma between thousands", cell)
		}
		best = other
	}
	l := &Layout{Delimiter: best.delimiter, DecimalComma: best.mark == ',', Columns: make([]Column, best.width)}
	l.either = best.mark == '.' && best.delimiter != ',' && !best.marked() && opt.Decimal == 0
	l.cutBecause(best, opt)
	if best.oddHead != nil {
		l.headLine = sample[best.oddHead.sample]
	}
	if l.headLine != nil && best.head == nil {
		l.because("the header %q has not as many names as the lines have fields, and names none", excerpt(l.headLine))
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
			l.because("there is no header")
			return
		}
		head = fields
		l.because("headings from the comment above the data")
	}
	for i, h := range head {
		l.Columns[i].Name = heading(h)
		l.Columns[i].Unit = unitOf(l.Columns[i].Name)
	}
	if l.Header {
		l.because("the header has the names %s", l.names())
		if d.oddHead != nil {
			l.because("the header has not as many names as the lines have fields: its names for the time stand over times")
		}
		l.unitsBelow(d)
	}
}

// unitsBelow takes the units from a line of words right below the header.
func (l *Layout) unitsBelow(d *draft) {
	for i, row := range d.below {
		l.below = append(l.below, row.fields)
		for j, f := range row.fields {
			c := &l.Columns[j]
			if unit := strings.Trim(heading(f), "()[]"); i == 0 && !isFailure([]byte(unit)) && c.Unit == "" {
				c.Unit, c.hint = unit, unit
			}
		}
		if i == 0 {
			l.because("the line below the header belongs to it, and gives the units")
		}
	}
}

// isBelow says that the fields are those of a line that belongs to the header.
func (l *Layout) isBelow(fields [][]byte) bool {
	return slices.ContainsFunc(l.below, func(b [][]byte) bool { return slices.EqualFunc(b, fields, bytes.Equal) })
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
