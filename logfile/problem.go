package logfile

import (
	"errors"
	"fmt"
	"unicode/utf8"
)

// A Kind says why a line was refused. Kinds are errors, to be matched:
// errors.Is(err, logfile.TornLine).
type Kind uint8

// The kinds of refusal.
const (
	TornLine    Kind = iota + 1 // fewer fields than the layout has, or a last one cut short: a power failure
	RunTogether                 // more fields than the layout has: two lines without a break
	BadStamp                    // a whole line whose time cannot be read
	NotText                     // NUL or other control bytes: a torn sector
	TooLong                     // longer than any line of a log
	OpenQuote                   // a quote that is never closed
	NotARecord                  // text that is neither header nor record
	NoSuchTime                  // a time that does not exist: a clock that was not set, or damage
	NoStart                     // a count since a start that nobody gave
)

var kinds = [...]string{
	TornLine: "torn line", RunTogether: "lines run together", BadStamp: "unreadable stamp", NotText: "not text",
	TooLong: "line too long", OpenQuote: "open quote", NotARecord: "not a record",
	NoSuchTime: "a time that does not exist", NoStart: "a count since a start that nobody gave",
}

// String says in a few words what is wrong with the line, as "torn line".
func (k Kind) String() string {
	if int(k) < len(kinds) && kinds[k] != "" {
		return kinds[k]
	}
	return fmt.Sprintf("kind %d", uint8(k))
}

// Error makes a kind a sentinel; it is what String returns.
func (k Kind) Error() string { return k.String() }

// A Problem says which bytes of which file were refused, and why.
type Problem struct {
	File, Text string // Text is the line, cut to 120 bytes
	Line       int    // from 1
	Offset     int64  // bytes from the start of the file
	Kind       Kind   // why, for errors.Is
}

// Error is the file, the line, what is wrong with it, and its text.
func (p *Problem) Error() string { return fmt.Sprintf("%s:%d: %v: %q", p.File, p.Line, p.Kind, p.Text) }

// Unwrap returns the kind.
func (p *Problem) Unwrap() error { return p.Kind }

// excerpt cuts a line to what a Problem keeps, between letters where it can.
func excerpt(b []byte) string {
	if len(b) <= textCap {
		return string(b)
	}
	n := textCap
	for n > textCap-utf8.UTFMax && !utf8.RuneStart(b[n]) {
		n--
	}
	return string(b[:n])
}

// Errors of a whole file. Whatever the error, the Report accounts for every byte.
var (
	// ErrEmpty: nothing, or nothing but headers, comments, blank lines and what is
	// left of a torn one.
	ErrEmpty = errors.New("there are no data in the file")
	// ErrNotText: a picture, a compressed file, sectors that were never written, or
	// UTF-16 without a byte order mark.
	ErrNotText = errors.New("the file is not text (a picture, a compressed file, nothing but zeros, or UTF-16 without its mark?)")
	// ErrNoLayout is what every LayoutError unwraps to.
	ErrNoLayout = errors.New("the layout cannot be decided")
)

// A LayoutError says that a file's layout cannot be decided, and which option
// decides it.
type LayoutError struct {
	File    string // Options.Name
	Decides string // "columns", "delimiter", "decimal", "light", "order", "date", "starts" or "tick": the field of Options, in lower case
	Reason  string // in words, with what was found
}

var deciders = map[string]string{
	"columns":   "the columns option decides, with a role for each",
	"delimiter": "the delimiter option decides: a comma, semicolon, tab, bar or blank",
	"decimal":   "the decimal mark option decides: a point or a comma",
	"light":     "the light column option decides, by heading or by number from 1",
	"order":     "the order option decides: dmy, mdy or ymd",
	"date":      "the date option decides",
	"starts":    "give the start: the starts option decides, with an instant for each power-on",
	"tick":      "the tick option decides: what is counted, a second or a millisecond",
}

// Error names the file, says what cannot be decided and which option decides it.
func (e *LayoutError) Error() string {
	s := e.Reason + "; " + deciders[e.Decides]
	if e.File != "" {
		s = e.File + ": " + s
	}
	return s
}

// Unwrap returns ErrNoLayout.
func (e *LayoutError) Unwrap() error { return ErrNoLayout }
