package station

import (
	"errors"
	"fmt"
	"time"

	"example.org/noonfall/logfile"
)

// A Layout overrules the reader where its inference must be overruled; empty
// fields leave it alone. They are logfile.Options in words.
type Layout struct {
	Order     string   `json:"order,omitempty"`     // ymd, dmy or mdy
	Light     string   `json:"light,omitempty"`     // light column, by name or number from 1
	Columns   []string `json:"columns,omitempty"`   // roles of a file without header
	Delimiter string   `json:"delimiter,omitempty"` // comma, semicolon, tab, bar or blank, or the sign itself
	Decimal   string   `json:"decimal,omitempty"`   // point or comma, or the sign itself
	// Starts are the instants, RFC 3339, from which a count since the logger's start
	// runs, one for each power-on in the order of the files; "" for one that is not known.
	Starts []string `json:"starts,omitempty"`
	Tick   string   `json:"tick,omitempty"` // what such a count counts: s, ms or us
}

var (
	delimiters = map[string]byte{"": 0, "comma": ',', "semicolon": ';', "tab": '\t', "bar": '|', "blank": ' ', ",": ',', ";": ';', "\t": '\t', "|": '|', " ": ' '}
	decimals   = map[string]byte{"": 0, "point": '.', "comma": ',', ".": '.', ",": ','}
	ticks      = map[string]time.Duration{"": 0, "s": time.Second, "ms": time.Millisecond, "us": time.Microsecond}
)

// Validate reports everything that is wrong with the layout at once.
func (l Layout) Validate() error {
	_, err := l.options()
	return err
}

// options are the layout in the reader's terms.
func (l Layout) options() (logfile.Options, error) {
	opt := logfile.Options{Light: l.Light}
	var faults []error
	fault := func(field, format string, args ...any) {
		faults = append(faults, &LayoutError{Field: field, Reason: fmt.Sprintf(format, args...)})
	}
	var err error
	if opt.Order, err = logfile.ParseOrder(l.Order); err != nil {
		fault("order", "%v", err)
	}
	for _, name := range l.Columns {
		role, err := logfile.ParseRole(name)
		if err != nil {
			fault("columns", "%v", err)
		}
		opt.Columns = append(opt.Columns, role)
	}
	var ok bool
	if opt.Delimiter, ok = delimiters[l.Delimiter]; !ok {
		fault("delimiter", "%q is none; comma, semicolon, tab, bar and blank are", l.Delimiter)
	}
	if opt.Decimal, ok = decimals[l.Decimal]; !ok {
		fault("decimal", "%q is no decimal mark; point and comma are", l.Decimal)
	}
	if opt.Tick, ok = ticks[l.Tick]; !ok {
		fault("tick", "%q is none; s, ms and us are", l.Tick)
	}
	for _, s := range l.Starts {
		var t time.Time
		if s != "" {
			if t, err = time.Parse(time.RFC3339, s); err != nil {
				fault("starts", "%q is no instant like 2027-08-02T06:30:00Z", s)
			}
		}
		opt.Starts = append(opt.Starts, t)
	}
	return opt, errors.Join(faults...)
}

// A LayoutError names a field of a Layout that cannot be, by its JSON key.
type LayoutError struct {
	Field  string // "order", "columns", ...
	Reason string // what was found and what is wanted
}

// Error names the key, what was found and what is wanted.
func (e *LayoutError) Error() string { return "layout." + e.Field + ": " + e.Reason }

// readerOptions are the station's settings in the reader's terms.
func (s *Station) readerOptions() (logfile.Options, error) {
	opt, faults := s.Layout.options()
	zone, err := ParseZone(s.Zone)
	if s.Zone != "" && err == nil { // else a heading may tell it, and the reader says where it assumes UTC
		opt.Zone = zone
	}
	return opt, errors.Join(faults, err)
}
