package logfile

import (
	"bytes"
	"math"
)

// read makes a record of a line, in r.rec, or accounts for it otherwise.
func (r *Reader) read(l *line) bool {
	text := bomless(l.text, l.number)
	switch {
	case l.cut:
		r.refuse(l, TooLong)
		return false
	case isBlank(text):
		r.count(&r.rep.Lines.Blanks, &r.rep.Bytes.Blanks, l)
		return false
	case isComment(text):
		r.count(&r.rep.Lines.Comments, &r.rep.Bytes.Comments, l)
		return false
	case l.odd:
		return r.readBehindZeros(text, l)
	}
	return r.careful(text, l)
}

// accept counts a record that was read from a line.
func (r *Reader) accept(l *line) {
	r.keep(l.number, l.offset, l.bytes, r.layout.lastDecimals(l.text))
}

// keep counts a record, by the line's number, place and size, and the decimals of the
// number that ends it.
func (r *Reader) keep(number int, offset, size int64, decimals int) {
	r.rep.Lines.Records++
	r.rep.Bytes.Records += size
	r.owner = &r.rep.Bytes.Records
	r.rec.Line, r.rec.Offset = number, offset
	r.first = r.firstNow
	r.next = nil
	r.rec.Restarted, r.rec.HeaderAgain = r.boot.restarted, r.again
	r.boot.restarted, r.again = false, false
	switch {
	case r.tail < 0:
		r.tail = decimals
	case r.tail > 0:
		r.tail = min(r.tail, decimals)
	}
	if r.now.missing != 0 {
		r.miss()
	}
	at := when{r.rec.Time.Unix(), r.rec.Time.Nanosecond(), true}
	switch b := &r.before; {
	case !b.set || at == *b:
	case at.second > b.second || at.second == b.second && at.nano > b.nano:
		r.rises++
	default:
		r.falls++
	}
	r.before = at
}

// miss counts the cells without a number.
func (r *Reader) miss() {
	for m, role := r.now.missing, 0; m != 0; m, role = m>>1, role+1 {
		r.missing[role] += int(m & 1)
	}
}

// A when is a time that compares quickly.
type when struct {
	second int64 // since 1970
	nano   int
	set    bool
}

// careful reads any line of text.
func (r *Reader) careful(text []byte, l *line) bool {
	var ok bool
	if r.fields, ok = split(r.fields[:0], text, r.layout.Delimiter); !ok {
		r.refuse(l, OpenQuote)
		return false
	}
	fields, fit := fits(r.fields, len(r.layout.Columns))
	switch {
	case fit && r.layout.Delimiter == ' ' && r.layout.strayDate(fields):
		r.refuse(l, RunTogether)
	case fit && r.record(fields, l):
		r.accept(l)
		return true
	case r.header(fields, fit), fit && r.layout.isBelow(fields), len(r.layout.headLine) > 0 && bytes.Equal(text, r.layout.headLine):
		r.count(&r.rep.Lines.Headers, &r.rep.Bytes.Headers, l)
		r.again = r.rep.Lines.Records > 0
	case l.number < r.preamble && r.rep.Lines.Records == 0 && beginsWithWord(fields):
		r.count(&r.rep.Lines.Comments, &r.rep.Bytes.Comments, l)
	case !likeData(fields):
		if l.number < r.preamble {
			r.count(&r.rep.Lines.Comments, &r.rep.Bytes.Comments, l)
		} else {
			r.refuse(l, NotARecord)
		}
	case r.adopt(fields, l):
		r.accept(l)
		return true
	case fit && r.cutShort(l):
		r.refuse(l, TornLine)
	case fit:
		r.refuse(l, r.unread())
	case len(fields) < len(r.layout.Columns) && saysWords(fields):
		r.refuse(l, NotARecord)
	case len(fields) < len(r.layout.Columns):
		r.refuse(l, TornLine)
	default:
		r.refuse(l, RunTogether)
	}
	return false
}

// strayDate says that a date stands where the layout has none. Only among blanks can
// half a line and another have the fields of one: any other delimiter makes more.
func (l *Layout) strayDate(fields [][]byte) bool {
	for i := range l.Columns {
		if l.Columns[i].stamped || l.Columns[i].Role.isStamp() {
			continue
		}
		if _, ok := parseNumber(fields[i], l.mark()); ok {
			continue
		}
		if s, form := parseStamp(fields[i], Auto); form && s.hasDate {
			return true
		}
	}
	return false
}

// likeData says that a field begins as numbers and stamps do, whole or torn.
func likeData(fields [][]byte) bool {
	for _, f := range fields {
		f = trim(f)
		if len(f) > 1 && (f[0] == '-' || f[0] == '+' || f[0] == '.' || f[0] == ',') {
			f = f[1:]
		}
		if len(f) > 0 && f[0]-'0' <= 9 {
			return true
		}
	}
	return false
}

// saysWords says that a line is a whole stamp and words behind it: what a logger has to
// say of itself, and not a record that was cut short.
func saysWords(fields [][]byte) bool {
	if len(fields) == 1 && hasLetter(fields[0]) {
		fields, _ = splitBlanks(nil, fields[0])
	}
	words := false
	for _, f := range fields {
		if s, form := parseStamp(f, Auto); form && (!words || s.hasDate) {
			continue
		}
		if len(trim(f)) < 3 || !hasLetter(f[:1]) || likeData([][]byte{f}) {
			return false
		}
		words = true
	}
	return words
}

// beginsWithWord says that the first cell is one, as in Interval (s),5 above a header.
func beginsWithWord(fields [][]byte) bool {
	return len(fields) > 0 && hasLetter(fields[0][:min(1, len(fields[0]))])
}

// record reads the fields by their roles; false where the stamp cannot be read,
// or the line ended with the file in the middle of its last number.
func (r *Reader) record(fields [][]byte, l *line) bool {
	r.now = moment{}
	for i := range r.layout.Columns {
		c := &r.layout.Columns[i]
		switch {
		case c.Role == Skip:
		case c.Role.isStamp():
			if !r.stampCell(c, fields[i]) {
				return false
			}
		default:
			r.numberCell(c, fields[i])
		}
	}
	if r.cutShort(l) {
		return false
	}
	r.firstNow = len(fields[0])
	return r.finish()
}

// cutShort says of a line without an end that its last number has fewer decimals
// than that of any record so far.
// Where its numbers end in a unit, the unit tells.
func (r *Reader) cutShort(l *line) bool {
	if !l.open {
		return false
	}
	if last := &r.layout.Columns[len(r.layout.Columns)-1]; last.counts {
		return r.now.sinceStart && r.since < r.boot.at.count-r.boot.at.base // no start, but a digit short
	} else if unit := last.suffix; unit != "" {
		return !bytes.HasSuffix(bytes.TrimRight(l.text, "\" \t"), []byte(unit))
	}
	return r.tail > 0 && r.layout.lastDecimals(l.text) < r.tail
}

// numberCell reads a number into the record, or NaN.
func (r *Reader) numberCell(c *Column, f []byte) {
	l := r.layout
	if c.suffix != "" {
		f = c.bare(f)
	}
	v, ok := parseNumber(f, l.mark())
	if l.either {
		if w, comma := parseNumber(f, ','); comma && bytes.IndexByte(f, ',') >= 0 {
			v, ok = w, true
			l.DecimalComma, l.either = true, false
			l.because("the decimal mark is a comma, first seen after the sample")
		} else if ok && bytes.IndexByte(f, '.') >= 0 {
			l.either = false
			r.plan()
		}
	}
	if !ok || !plausible(c.Role, v) {
		v = math.NaN()
		r.now.missing |= 1 << c.Role
	}
	*r.dest[c.Role] = v
}

// readBehindZeros reads a line with control bytes in it. A card that lost power
// can hold a run of zeros where the logger then went on: a whole line behind them
// is as good as any. It is whole if its first cell is as long as that of the
// record before, in a column whose cells keep their length; where they do not, and
// wherever else control bytes stand, the line is refused.
func (r *Reader) readBehindZeros(text []byte, l *line) bool {
	rest := bytes.TrimLeft(text, "\x00")
	if len(rest) == len(text) || len(rest) == 0 || !isText(rest) {
		r.refuse(l, NotText)
		return false
	}
	var ok bool
	if r.fields, ok = split(r.fields[:0], rest, r.layout.Delimiter); ok {
		fields, fit := fits(r.fields, len(r.layout.Columns))
		if fit && r.sameNames(fields) {
			r.count(&r.rep.Lines.Headers, &r.rep.Bytes.Headers, l)
			r.again = r.rep.Lines.Records > 0
			return false
		}
		if role := r.layout.Columns[0].Role; fit && role <= Lon && r.first == len(fields[0]) && r.record(fields, l) {
			r.accept(l)
			return true
		}
	}
	r.refuse(l, NotText)
	return false
}
