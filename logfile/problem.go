package logfile

import (
	"errors"
	"fmt"
)

// A Kind says why a line was refused. Kinds are errors, to be matched:
// errors.Is(err, logfile.TornLine).
type Kind uint8

// The kinds of refusal.
const (
	TornLine    Kind = iota + 1 // fewer fields than the layout has: cut by a power failure
	RunTogether                 // more fields than the layout has: two lines without a break
	BadStamp                    // a whole line whose time cannot be read
	NotText                     // NUL or other control bytes: a torn sector
	TooLong                     // longer than any line of a log
	OpenQuote                   // a quote that is never closed
	NotARecord                  // text that is neither header nor record
)

var kinds = [...]string{
	TornLine: "torn line", RunTogether: "lines run together", BadStamp: "unreadable stamp", NotText: "not text",
	TooLong: "line too long", OpenQuote: "open quote", NotARecord: "not a record",
}

func (k Kind) String() string {
	if int(k) < len(kinds) && kinds[k] != "" {
		return kinds[k]
	}
	return fmt.Sprintf("kind %d", uint8(k))
}

func (k Kind) Error() string { return k.String() }

// A Problem says which bytes of which file were refused, and why.
type Problem struct {
	File, Text string // Text is the line, cut to 120 bytes
	Line       int    // from 1
	Offset     int64  // bytes from the start of the file
	Kind       Kind
}

func (p *Problem) Error() string { return fmt.Sprintf("%s:%d: %v: %q", p.File, p.Line, p.Kind, p.Text) }

// Unwrap returns the kind.
func (p *Problem) Unwrap() error { return p.Kind }

// Errors of a whole file.
var (
	ErrEmpty  = errors.New("the file is empty")
	ErrBinary = errors.New("the file is not text (a picture, or a compressed or UTF-16 file)")
)

// A LayoutError says that a file's layout cannot be decided, and which option
// decides it: "columns", "light", "order" or "date".
type LayoutError struct {
	File    string
	Decides string
	Reason  string
}

func (e *LayoutError) Error() string { return e.Reason }
