package logfile

import (
	"errors"
	"fmt"
	"io"
	"iter"
	"math"
	"path/filepath"
	"regexp"
	"time"
)

// Options tunes a Reader. The zero value infers everything.
type Options struct {
	// Name is the file's name, for problems and for a date in it.
	Name string
	// Zone is that of stamps which carry none; nil means UTC, and that the report
	// says so.
	Zone *time.Location
	// Order is that of day, month and year; Auto decides or refuses.
	Order Order
	// Columns are the roles of a file's columns, where they cannot be inferred.
	Columns []Role
	// Delimiter stands between the fields: a comma, semicolon, tab, bar or blank, the
	// last for any run of blanks and tabs. 0 infers it.
	Delimiter byte
	// Decimal is the decimal mark, a point or a comma. 0 infers it.
	Decimal byte
	// Light names the light column by its heading or its number from 1.
	Light string
	// Date is the day of stamps that are times of day: that of the first record.
	// Zero takes it from Name (YYYYMMDD or YYYY-MM-DD), and where that holds none
	// from NearDate. Its own year, month and day count, whatever its zone.
	Date, NearDate time.Time
	// Starts are the instants from which a count since the logger's start runs, one for
	// each power-on in the order of the file. When the count falls, the next one holds
	// (a 32-bit counter that rolls over goes on); a zero one is not known. Lines that
	// count from a start that nobody gave are problems, NoStart. [Report].Starts is how
	// many the file has. They are not looked at where the file tells the time itself.
	Starts []time.Time
	// Tick is what such a count counts. 0 takes it from the heading, in words such as ms
	// or seconds, and refuses where that has none: no numbers can tell the one from the
	// other.
	Tick time.Duration
	// MaxProblems caps the list in the report, not the counts. Zero means 1000,
	// less than zero none.
	MaxProblems int
}

// A Reader reads one log. It is single-use and not safe for concurrent use.
type Reader struct {
	lines  *lines
	opt    Options
	layout *Layout
	next   *Layout // of another header, until the lines below it show that it holds
	left   *Layout // the one before that in force
	leftAt int64   // records when it was left
	began  bool

	rec       Record
	dest      [roleCount]*float64 // where a role's number goes in rec
	steps     []step              // of the short way
	now       moment
	day       dayCache
	zone      zoneCache
	boot      boot // of a count since the logger's start
	unstarted boot // the same behind the line at hand, if that is refused
	since     float64
	tick      time.Duration

	again    bool      // a header stood since the last record
	date     time.Time // day of a time of day, moved on at midnight
	last     int64     // seconds of the clock read last
	clocked  bool
	fields   [][]byte
	first    int  // length of the first field of the last record
	firstNow int  // and of the line at hand
	tail     int  // least decimals of the numbers that end records; -1 before there is one
	slow     bool // tests: never take the short way

	rep          Report
	owner        *int64 // the account of the last line, for an LF that may turn up
	missing      [roleCount]int
	rises, falls int
	zoned, bare  int
	before       when // of the last record
	sample       [][]byte
	sampleAt     []int  // their line numbers
	held         []line // the sample's lines, until they are read
	heldBytes    int
	remark       []byte // the last comment before the data
	preamble     int    // lines of words before this line are comments
}

// NewReader prepares to read from r, which may be a file, a pipe or a live
// stream: after the first lines have shown the layout, each record comes out as
// soon as its line ends. What it holds stays below 20 MiB whatever the input.
func NewReader(r io.Reader, opt Options) *Reader {
	switch {
	case opt.MaxProblems == 0:
		opt.MaxProblems = 1000
	case opt.MaxProblems < 0:
		opt.MaxProblems = 0
	}
	if opt.Date.IsZero() {
		opt.Date = dateInName(opt.Name)
	}
	if opt.Date.IsZero() {
		opt.Date = opt.NearDate
	}
	y, m, d := opt.Date.Date()
	out := &Reader{lines: newLines(r), opt: opt, tail: -1, date: time.Date(y, m, d, 0, 0, 0, 0, time.UTC), rep: Report{Name: opt.Name, ByKind: map[Kind]int{}}}
	rec := &out.rec
	out.dest = [roleCount]*float64{Light: &rec.Light, Light2: &rec.Light2, Temp: &rec.Temp, Pressure: &rec.Pressure,
		Humidity: &rec.Humidity, Lat: &rec.Lat, Lon: &rec.Lon}
	out.forget()
	return out
}

// forget empties the record, so that a role without a column is NaN.
func (r *Reader) forget() {
	for _, p := range r.dest {
		if p != nil {
			*p = math.NaN()
		}
	}
}

var nameDate = regexp.MustCompile(`(?:^|[^0-9])((?:19|20)\d\d)([-_.]?)(\d\d)([-_.]?)(\d\d)(?:[^0-9]|$)`)

// dateInName finds YYYYMMDD or YYYY-MM-DD in a file's name.
func dateInName(name string) time.Time {
	m := nameDate.FindStringSubmatch(filepath.Base(name))
	if m == nil || m[2] != m[4] {
		return time.Time{}
	}
	t, err := time.Parse("20060102", m[1]+m[3]+m[5])
	if err != nil {
		return time.Time{}
	}
	return t
}

// Records returns a single-use iterator over the readable lines in file order.
// Refused lines are counted in the Report and the walk goes on. The error is
// non-nil once at most, last: the source failed, or there is nothing to be read
// (*LayoutError, ErrEmpty, ErrNotText).
func (r *Reader) Records() iter.Seq2[Record, error] {
	return func(yield func(Record, error) bool) {
		if r.began {
			return
		}
		r.began = true
		if err := r.open(); err != nil {
			yield(Record{}, err)
			return
		}
		for i := range r.held {
			if r.read(&r.held[i]) && !yield(r.rec, nil) {
				return
			}
		}
		r.held, r.sample = nil, nil
		r.plan()
		for {
			for len(r.steps) > 0 && r.quick() {
				if !yield(r.rec, nil) {
					return
				}
			}
			l, ok := r.lines.next()
			r.credit(l.carry)
			if !ok {
				break
			}
			if r.read(&l) && !yield(r.rec, nil) {
				return
			}
		}
		if err := r.failure(); err != nil {
			yield(Record{}, err)
		}
	}
}

// failure is the source's error, unless it is its end.
func (r *Reader) failure() error {
	if err := r.lines.err; err != nil && !errors.Is(err, io.EOF) {
		return fmt.Errorf("logfile: after %d bytes: %w", r.lines.offset, err)
	}
	return nil
}
