package logfile

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"
)

// What every WriteError unwraps to.
var (
	// ErrField: the columns, or another setting of a Writer, make no file.
	ErrField = errors.New("no file can be written so")
	// ErrCell: a value that would not come back as it is. Its row is not written.
	ErrCell = errors.New("the value cannot be written")
)

// A WriteError says what cannot be written, and why.
type WriteError struct {
	Row    int    // from 1, the header not counted; 0 for the columns and settings
	Column string // its name, or the setting's
	Found  string // what was to be written
	Reason string // what was wanted, and what to do
	Kind   error  // ErrField or ErrCell
}

// Error names the row and the column, what was to be written and what is wanted.
func (e *WriteError) Error() string {
	if e.Row == 0 {
		return fmt.Sprintf("column or setting %q: %v: found %q, %s", e.Column, e.Kind, e.Found, e.Reason)
	}
	return fmt.Sprintf("row %d, column %q: %v: found %q, %s", e.Row, e.Column, e.Kind, e.Found, e.Reason)
}

// Unwrap returns the kind.
func (e *WriteError) Unwrap() error { return e.Kind }

// A Field is a column to be written.
type Field struct {
	// Name stands in the header: words, each name once.
	Name string
	// Role says which number of a Record goes there. Exactly one field is Time. Skip
	// is a column of the caller's own, whose cells come beside the Record.
	Role Role
	// Unit is the UCUM code of the numbers (lx, Cel, hPa, %, deg), for the metadata;
	// empty where there is none. Nothing is converted. A Skip column with a unit
	// holds numbers, one without holds text.
	Unit string
}

// WriterOptions tunes a Writer. The zero value loses nothing.
type WriterOptions struct {
	// Fraction is how many digits every stamp has after its whole second, 1 to 9, so
	// that lines sort as text; a stamp that has more is refused. Zero writes the
	// digits that each stamp has.
	Fraction int
	// Grid rounds Lat and Lon for privacy; the cells of Skip columns it leaves alone.
	Grid Grid
}

// A Writer writes records as canonical CSV: RFC 4180 with CRLF, one header, UTF-8,
// quotes only where a cell needs them, stamps as RFC 3339 in UTC, numbers in the
// fewest digits that read back as the same float64, NaN as an empty cell. Text
// goes through Guard. What it writes, a Reader with ReadOptions reads back record
// by record. Not safe for concurrent use.
type Writer struct {
	out    *bufio.Writer
	fields []Field
	opt    WriterOptions
	row    []byte
	rows   int
	own    int // Skip fields
	headed bool
	err    error // of the destination: nothing is written behind it
	digits int   // most behind a second so far
	leaps  int
	cost   PlaceCost
}

// NewWriter prepares to write columns of the given fields to w. Several mistakes
// in them come back together, each a *WriteError that unwraps to ErrField.
func NewWriter(w io.Writer, fields []Field, opt WriterOptions) (*Writer, error) {
	if err := errors.Join(checkFields(fields), checkFraction(opt.Fraction), opt.Grid.check(), checkPlace(fields, opt.Grid)); err != nil {
		return nil, err
	}
	out := &Writer{out: bufio.NewWriter(w), fields: append([]Field(nil), fields...), opt: opt, cost: PlaceCost{Seconds: math.NaN()}}
	for _, f := range fields {
		if f.Role == Skip {
			out.own++
		}
	}
	return out, nil
}

// ReadOptions is how a Reader reads the file back without having to guess.
func (w *Writer) ReadOptions() Options {
	roles := make([]Role, len(w.fields))
	for i, f := range w.fields {
		roles[i] = f.Role
	}
	return Options{Columns: roles}
}

// PlaceCost is what the rounding of coordinates costs at worst over the rows
// written so far; zero metres without a Grid or without coordinates.
func (w *Writer) PlaceCost() PlaceCost { return w.cost }

// Write writes a record, with the cells of the Skip columns in their order. A
// value that would not come back is refused with a *WriteError (ErrCell), nothing
// of its row is written and the writer goes on; an error of the destination stays.
func (w *Writer) Write(rec Record, own ...string) error {
	if w.err != nil {
		return w.err
	}
	if len(own) != w.own {
		return &WriteError{Row: w.rows + 1, Column: "Skip", Found: strconv.Itoa(len(own)) + " cells", Kind: ErrCell,
			Reason: fmt.Sprintf("wanted %d, one for each column of the caller's own", w.own)}
	}
	w.row = w.row[:0]
	for i, f := range w.fields {
		if i > 0 {
			w.row = append(w.row, ',')
		}
		var text, reason string
		switch f.Role {
		case Skip:
			text, own = own[0], own[1:]
			reason = w.ownCell(f, text)
		case Time:
			reason = w.stamp(&rec)
		default:
			reason = w.number(f.Role, rec.number(f.Role))
		}
		if reason != "" {
			return &WriteError{Row: w.rows + 1, Column: f.Name, Found: found(f, &rec, text), Reason: reason, Kind: ErrCell}
		}
	}
	if len(w.row) >= lineCap {
		return &WriteError{Row: w.rows + 1, Column: "row", Found: excerpt(w.row), Kind: ErrCell,
			Reason: fmt.Sprintf("its %d bytes are more than a reader takes for a line, %d: shorten the text", len(w.row), lineCap)}
	}
	w.row = append(w.row, "\r\n"...)
	return w.emit(&rec)
}

// found is what was to stand in a cell, for an error.
func found(f Field, rec *Record, text string) string {
	switch f.Role {
	case Skip:
		return excerpt([]byte(text))
	case Time:
		return rec.Time.UTC().Format(time.RFC3339Nano)
	}
	return shortest(rec.number(f.Role))
}

// emit sends a whole row, and counts what it holds.
func (w *Writer) emit(rec *Record) error {
	w.head()
	if w.err == nil {
		_, w.err = w.out.Write(w.row)
	}
	if w.err != nil {
		w.err = fmt.Errorf("logfile: writing row %d: %w", w.rows+1, w.err)
		return w.err
	}
	w.rows++
	w.digits = max(w.digits, fractionDigits(rec.Time.Nanosecond()), w.opt.Fraction)
	if rec.Leap {
		w.leaps++
	}
	w.charge(rec.Lat, rec.Lon)
	return nil
}

// charge keeps what rounding costs at worst. A longitude alone is worth most at the
// equator.
func (w *Writer) charge(lat, lon float64) {
	if w.opt.Grid.Step == 0 {
		return
	}
	if math.IsNaN(lat) && !math.IsNaN(lon) {
		lat = 0
	}
	if c := w.opt.Grid.Cost(lat); c.Metres > w.cost.Metres { // false without a place
		w.cost = c
	}
}

// head writes the header, once.
func (w *Writer) head() {
	if w.headed {
		return
	}
	w.headed = true
	var b []byte
	for i, f := range w.fields {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendCell(b, f.Name)
	}
	_, w.err = w.out.Write(append(b, "\r\n"...))
}

// Flush sends what is held back; a file without records then has its header. The error is
// the destination's, from this call or an earlier one.
func (w *Writer) Flush() error {
	if w.err != nil {
		return w.err
	}
	if w.head(); w.err == nil {
		w.err = w.out.Flush()
	}
	if w.err != nil {
		w.err = fmt.Errorf("logfile: after row %d: %w", w.rows, w.err)
	}
	return w.err
}

// number is a record's value of a role.
func (rec *Record) number(r Role) float64 {
	switch r {
	case Light:
		return rec.Light
	case Light2:
		return rec.Light2
	case Temp:
		return rec.Temp
	case Pressure:
		return rec.Pressure
	case Humidity:
		return rec.Humidity
	case Lat:
		return rec.Lat
	case Lon:
		return rec.Lon
	}
	return math.NaN()
}

// checkFields looks at the columns one by one and together.
func checkFields(fields []Field) error {
	var all []error
	refuse := func(f Field, found, reason string) {
		all = append(all, &WriteError{Column: f.Name, Found: found, Reason: reason, Kind: ErrField})
	}
	names, roles := map[string]bool{}, map[Role]bool{}
	for _, f := range fields {
		key := strings.ToLower(f.Name)
		if reason := badName(f.Name); reason != "" {
			refuse(f, f.Name, reason)
		} else if names[key] {
			refuse(f, f.Name, "wanted each name once")
		}
		if f.Role >= roleCount || f.Role == Date || f.Role == Clock {
			refuse(f, f.Role.String(), "stamps are written whole: use time, a role of a number, or skip")
		} else if f.Role != Skip && roles[f.Role] {
			refuse(f, f.Role.String(), "wanted each role once")
		}
		if f.Unit != "" && (f.Role == Time || !validUnit(f.Unit)) {
			refuse(f, f.Unit, "wanted a UCUM code such as lx, Cel, hPa, %, deg, mV or {count}, and none for the time")
		}
		names[key], roles[f.Role] = true, true
	}
	if !roles[Time] {
		refuse(Field{Name: "time"}, "", "one field must have the role Time")
	}
	if len(fields) < 2 {
		refuse(Field{Name: "fields"}, strconv.Itoa(len(fields)), "wanted the time and something beside it")
	}
	return errors.Join(all...)
}

func checkFraction(n int) error {
	if n < 0 || n > 9 {
		return &WriteError{Column: "Fraction", Found: strconv.Itoa(n), Reason: "wanted 1 to 9 digits, or 0 for as many as each stamp has", Kind: ErrField}
	}
	return nil
}

// checkPlace refuses a grid that would round half a place, or none.
func checkPlace(fields []Field, g Grid) error {
	found := ""
	for _, f := range fields {
		if f.Role == Lat || f.Role == Lon {
			found += f.Role.String() + " "
		}
	}
	if g.Step == 0 || len(found) == len("lat lon ") {
		return nil
	}
	return &WriteError{Column: "Grid", Found: strings.TrimSpace(found), Reason: "a grid rounds places: wanted fields for both lat and lon", Kind: ErrField}
}
