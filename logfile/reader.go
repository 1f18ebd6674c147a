package logfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"iter"
	"math"
	"path/filepath"
	"regexp"
	"strconv"
	"time"
	"unicode/utf8"
)

// Options tunes a Reader. The zero value infers everything.
type Options struct {
	// Name is the file's name, for problems and for a date in it.
	Name string
	// Zone is that of stamps which carry none; nil means UTC.
	Zone *time.Location
	// Order is that of day, month and year; Auto decides or refuses.
	Order Order
	// Columns are the roles of a file's columns, where they cannot be inferred.
	Columns []Role
	// Light names the light column by its heading or its number from 1.
	Light string
	// Date is the day of stamps that are times of day. Zero takes it from Name,
	// and where that holds none from NearDate.
	Date, NearDate time.Time
	// MaxProblems caps the list in the report, not the counts. Zero means 1000.
	MaxProblems int
}

// Accounts are lines or bytes by what they were taken for.
type Accounts struct {
	Records, Headers, Comments, Blanks, Problems int64
}

// Sum is all of them.
func (a Accounts) Sum() int64 { return a.Records + a.Headers + a.Comments + a.Blanks + a.Problems }

// A Report is the book-keeping of a Reader. Once the records are walked to the
// end, Bytes.Sum is the length of the input, always.
type Report struct {
	Name   string
	Lines  Accounts
	Bytes  Accounts
	ByKind map[Kind]int // complete, also where List is capped
	List   []Problem
	// Unreadable counts cells of light that were empty or no number, in lines
	// that are records all the same.
	Unreadable int
	Layout     Layout
	// ZoneAssumed says that stamps carried no zone and none was given: they were
	// read as UTC.
	ZoneAssumed bool
}

// A Reader reads one log. It is single-use and not safe for concurrent use.
type Reader struct {
	lines  *lines
	opt    Options
	layout *Layout
	date   time.Time // day of a time of day, moved on at midnight
	last   int64     // seconds of the clock read last
	rep    Report
	fields [][]byte
	held   []line // the sample, until it is read
}

// NewReader prepares to read from r, which may be a file, a pipe or a live
// stream: after the first lines have shown the layout, each record comes out as
// soon as its line ends. Memory stays below a megabyte whatever the input.
func NewReader(r io.Reader, opt Options) *Reader {
	if opt.Zone == nil {
		opt.Zone = time.UTC
	}
	if opt.MaxProblems == 0 {
		opt.MaxProblems = 1000
	}
	if opt.Date.IsZero() {
		opt.Date = dateInName(opt.Name)
	}
	if opt.Date.IsZero() {
		opt.Date = opt.NearDate
	}
	return &Reader{lines: newLines(r), opt: opt, date: opt.Date, rep: Report{Name: opt.Name, ByKind: map[Kind]int{}}}
}

var nameDate = regexp.MustCompile(`(?:^|[^0-9])((?:19|20)\d\d)-?(\d\d)-?(\d\d)(?:[^0-9]|$)`)

// dateInName finds YYYYMMDD or YYYY-MM-DD in a file's name.
func dateInName(name string) time.Time {
	m := nameDate.FindStringSubmatch(filepath.Base(name))
	if m == nil {
		return time.Time{}
	}
	t, err := time.Parse("20060102", m[1]+m[2]+m[3])
	if err != nil {
		return time.Time{}
	}
	return t
}

// Report returns the book-keeping so far.
func (r *Reader) Report() Report {
	out := r.rep
	if r.layout != nil {
		out.Layout = *r.layout
	}
	return out
}

// Records returns a single-use iterator over the readable lines in file order.
// Refused lines are counted in the Report and the walk goes on. The error is
// non-nil once at most, last: the source failed, or the layout cannot be decided
// (*LayoutError, ErrEmpty, ErrBinary).
func (r *Reader) Records() iter.Seq2[Record, error] {
	return func(yield func(Record, error) bool) {
		if err := r.open(); err != nil {
			yield(Record{}, err)
			return
		}
		for _, l := range r.held {
			if rec, ok := r.read(l); ok && !yield(rec, nil) {
				return
			}
		}
		r.held = nil
		for {
			l, ok := r.lines.next()
			if !ok {
				break
			}
			if rec, ok := r.read(l); ok && !yield(rec, nil) {
				return
			}
		}
		if err := r.lines.err; err != nil && !errors.Is(err, io.EOF) {
			yield(Record{}, fmt.Errorf("after %d bytes: %w", r.lines.offset, err))
		}
	}
}

// What the layout is inferred from.
const (
	sampleLines  = 60       // lines that could be records: enough where nothing is open
	sampleBytes  = 64 << 10 // at most, while the order of dates is still open
	leastSamples = 3
)

// open reads lines until the layout is decided, and holds them.
func (r *Reader) open() error {
	var sample [][]byte
	var size int
	var undecided error
	next := sampleLines
	for {
		l, ok := r.lines.next()
		if ok {
			l.text = bytes.Clone(l.text)
			r.held = append(r.held, l)
			size += len(l.text)
			if t := l.text; len(bytes.TrimSpace(t)) > 0 && !isComment(t) && !l.cut && isText(t) {
				sample = append(sample, bomless(t, l.number))
			}
		}
		if ok && len(sample) < next && size < sampleBytes {
			continue
		}
		if len(r.held) == 0 {
			if err := r.lines.err; err != nil && !errors.Is(err, io.EOF) {
				return fmt.Errorf("after %d bytes: %w", r.lines.offset, err)
			}
			return ErrEmpty
		}
		r.layout, undecided = infer(sample, r.opt)
		if undecided == nil {
			return nil
		}
		if !ok || size >= sampleBytes {
			break
		}
		next *= 2
	}
	// Nothing is lost: what was read is accounted for as problems.
	for _, l := range r.held {
		switch {
		case len(bytes.TrimSpace(l.text)) == 0 && !l.cut:
			r.count(&r.rep.Lines.Blanks, &r.rep.Bytes.Blanks, l)
		case isComment(l.text):
			r.count(&r.rep.Lines.Comments, &r.rep.Bytes.Comments, l)
		case !isText(l.text):
			r.refuse(l, NotText)
		default:
			r.refuse(l, NotARecord)
		}
	}
	r.held = nil
	for {
		l, ok := r.lines.next()
		if !ok {
			break
		}
		r.refuse(l, NotARecord)
	}
	if 2*r.rep.ByKind[NotText] > int(r.rep.Lines.Sum()) || len(sample) == 0 && r.rep.ByKind[NotText] > 0 {
		return ErrBinary
	}
	if len(sample) == 0 {
		return ErrEmpty
	}
	return undecided
}

func isComment(b []byte) bool { return len(b) > 0 && b[0] == '#' }

// bomless takes the byte order mark off the first line.
func bomless(b []byte, number int) []byte {
	if number == 1 {
		return bytes.TrimPrefix(b, []byte("\xef\xbb\xbf"))
	}
	return b
}

// isText says that there is no control byte but tabs. Bytes above 0x7f may be any
// encoding's letters.
func isText(b []byte) bool {
	for _, c := range b {
		if c < ' ' && c != '\t' && c != '\f' {
			return false
		}
	}
	return true
}

func (r *Reader) count(lines, bytes *int64, l line) {
	*lines++
	*bytes += l.bytes
}

func (r *Reader) refuse(l line, k Kind) {
	r.count(&r.rep.Lines.Problems, &r.rep.Bytes.Problems, l)
	r.rep.ByKind[k]++
	if len(r.rep.List) < r.opt.MaxProblems {
		text := l.text
		if len(text) > 120 {
			text = text[:120]
			for len(text) > 100 && !utf8.Valid(text) {
				text = text[:len(text)-1]
			}
		}
		r.rep.List = append(r.rep.List, Problem{File: r.opt.Name, Text: string(text), Line: l.number, Offset: l.offset, Kind: k})
	}
}

// read makes a record of a line, or accounts for it otherwise.
func (r *Reader) read(l line) (Record, bool) {
	text := bomless(l.text, l.number)
	switch {
	case l.cut:
		r.refuse(l, TooLong)
		return Record{}, false
	case len(bytes.TrimSpace(text)) == 0:
		r.count(&r.rep.Lines.Blanks, &r.rep.Bytes.Blanks, l)
		return Record{}, false
	case isComment(text):
		r.count(&r.rep.Lines.Comments, &r.rep.Bytes.Comments, l)
		return Record{}, false
	case !isText(text):
		r.refuse(l, NotText)
		return Record{}, false
	}
	var ok bool
	if r.fields, ok = split(r.fields[:0], text, r.layout.Delimiter); !ok {
		r.refuse(l, OpenQuote)
		return Record{}, false
	}
	width := len(r.layout.Columns)
	fields := r.fields
	if len(fields) == width+1 && len(trim(fields[width])) == 0 {
		fields = fields[:width] // a delimiter at the end
	}
	if len(fields) == width {
		if rec, ok := r.record(fields, l); ok {
			r.count(&r.rep.Lines.Records, &r.rep.Bytes.Records, l)
			return rec, true
		}
		if r.heading(fields) {
			r.count(&r.rep.Lines.Headers, &r.rep.Bytes.Headers, l)
			return Record{}, false
		}
		r.refuse(l, BadStamp)
		return Record{}, false
	}
	switch {
	case !r.anyNumber(fields):
		r.refuse(l, NotARecord)
	case len(fields) < width:
		r.refuse(l, TornLine)
	default:
		r.refuse(l, RunTogether)
	}
	return Record{}, false
}

// heading says that a line of the right width has no number and no stamp in it.
func (r *Reader) heading(fields [][]byte) bool { return !r.anyNumber(fields) }

func (r *Reader) anyNumber(fields [][]byte) bool {
	for _, f := range fields {
		if _, ok := parseNumber(f, r.layout.DecimalComma); ok {
			return true
		}
		if _, ok := parseStamp(f, r.layout.Order); ok {
			return true
		}
	}
	return false
}

var nan = math.NaN()

// record reads the fields by their roles; false where the stamp cannot be read.
func (r *Reader) record(fields [][]byte, l line) (Record, bool) {
	rec := Record{Line: l.number, Offset: l.offset, Light: nan, Light2: nan, Temp: nan, Pressure: nan, Humidity: nan, Lat: nan, Lon: nan}
	var s stamp
	for i := range r.layout.Columns {
		c := &r.layout.Columns[i]
		switch c.Role {
		case Skip:
		case Time:
			if c.Scale != 0 {
				v, ok := parseNumber(fields[i], r.layout.DecimalComma)
				if !ok || !(math.Abs(v/c.Scale) < 2e11) {
					return rec, false
				}
				rec.Time = epoch(v, c.Scale)
				continue
			}
			var ok bool
			if s, ok = parseStamp(fields[i], r.layout.Order); !ok || !s.hasDate {
				return rec, false
			}
		case Date:
			d, ok := parseStamp(fields[i], r.layout.Order)
			if !ok || !d.hasDate {
				return rec, false
			}
			s.year, s.month, s.day, s.hasDate = d.year, d.month, d.day, true
		case Clock:
			d, ok := parseStamp(fields[i], r.layout.Order)
			if !ok || !d.hasClock {
				return rec, false
			}
			s.hour, s.minute, s.sec, s.nano, s.zone, s.hasZone, s.hasClock = d.hour, d.minute, d.sec, d.nano, d.zone, d.hasZone, true
		default:
			v, ok := parseNumber(fields[i], r.layout.DecimalComma)
			if !ok {
				v = nan
				if c.Role == Light {
					r.rep.Unreadable++
				}
			}
			switch c.Role {
			case Light:
				rec.Light = v
			case Light2:
				rec.Light2 = v
			case Temp:
				rec.Temp = v
			case Pressure:
				rec.Pressure = v
			case Humidity:
				rec.Humidity = v
			case Lat:
				rec.Lat = v
			case Lon:
				rec.Lon = v
			}
		}
	}
	if rec.Time.IsZero() {
		rec.Leap = s.sec == 60
		rec.Time = r.instant(&s)
	}
	return rec, true
}

// epoch turns a count since 1970 into an instant.
func epoch(v, scale float64) time.Time {
	whole := math.Floor(v / scale)
	rest := v - whole*scale
	return time.Unix(int64(whole), int64(math.Round(rest/scale*1e9))).UTC()
}

// instant completes a stamp with the day and the zone. A time of day that falls
// by more than half a day has passed midnight.
func (r *Reader) instant(s *stamp) time.Time {
	if !s.hasDate {
		now := s.clockSeconds()
		if now < r.last-43200 {
			r.date = r.date.AddDate(0, 0, 1)
		}
		r.last = now
		y, m, d := r.date.Date()
		s.year, s.month, s.day = y, int(m), d
	}
	switch {
	case s.hasZone:
		return time.Unix(s.unix()-int64(s.zone), int64(s.nano)).UTC()
	case r.opt.Zone == time.UTC:
		r.rep.ZoneAssumed = true
		return time.Unix(s.unix(), int64(s.nano)).UTC()
	}
	return time.Date(s.year, time.Month(s.month), s.day, s.hour, s.minute, s.sec, s.nano, r.opt.Zone).UTC()
}

// String sums the report up in a line.
func (r Report) String() string {
	return r.Name + ": " + strconv.FormatInt(r.Lines.Records, 10) + " records, " +
		strconv.FormatInt(r.Lines.Headers, 10) + " headers, " + strconv.FormatInt(r.Lines.Problems, 10) + " problems"
}
