package logfile

import (
	"slices"
)

// header recognises a header, wherever it stands: the one known, or another line
// of words that tells the time or light. Another one that still names what is read
// changes the layout: new firmware, perhaps.
func (r *Reader) header(fields [][]byte, fit bool) bool {
	if fit && r.sameNames(fields) {
		return true
	}
	if len(fields) < 2 || len(fields) > max(mostColumns, len(r.layout.Columns)) || anyTyped(fields, r.layout.mark()) || !tellsHeading(fields) {
		return false
	}
	if !r.layout.Header {
		return fit
	}
	other := r.renamed(fields)
	switch {
	case other == nil:
		return fit
	case fit:
		r.change(other)
	default: // or else a header cut between two names: the next lines will show
		r.next = other
	}
	return true
}

// sameNames says that the fields are the header's, half of them at least unharmed.
func (r *Reader) sameNames(fields [][]byte) bool {
	if !r.layout.Header {
		return false
	}
	whole := 0
	for i := range fields {
		name, known := heading(fields[i]), r.layout.Columns[i].Name
		switch {
		case equalFold(known, name):
			whole++
		case r.layout.heads(name):
			return false // the columns have changed places
		case spliced(name, known):
		case i == 0 && (endsAs(name, known) || endsAs(known, name)):
		case i == len(fields)-1 && (beginsAs(name, known) || beginsAs(known, name)):
		default:
			return false
		}
	}
	return 2*whole >= len(fields)
}

// heads says that a column has the name.
func (l *Layout) heads(name string) bool {
	return name != "" && slices.ContainsFunc(l.Columns, func(c Column) bool { return equalFold(c.Name, name) })
}

// spliced says that one of two headings is left of the other where a sector that was
// lost or stands twice has cut it, or is made of its front and its end: lolon, ln, te.
func spliced(a, b string) bool {
	front, end := 0, 0
	for front < min(len(a), len(b)) && a[front] == b[front] {
		front++
	}
	for end < min(len(a), len(b)) && a[len(a)-1-end] == b[len(b)-1-end] {
		end++
	}
	return front+end >= min(len(a), len(b))
}

// endsAs says that a first heading stands behind a torn line: 36.00lat, 36.00at.
func endsAs(text, name string) bool {
	n := 0
	for n < len(text) && n < len(name) && text[len(text)-1-n] == name[len(name)-1-n] {
		n++
	}
	return n > 0 && tornOff(text[:len(text)-n])
}

// beginsAs says that a last heading stands before the rest of a line: te3.12.
func beginsAs(text, name string) bool {
	n := 0
	for n < len(text) && n < len(name) && text[n] == name[n] {
		n++
	}
	return n > 0 && tornOff(text[n:])
}

// tornOff is nothing, or data.
func tornOff(rest string) bool { return rest == "" || likeData([][]byte{[]byte(rest)}) }

// renamed is the layout under another header; nil where it lacks a column that
// holds the time or light.
func (r *Reader) renamed(fields [][]byte) *Layout {
	l := *r.layout
	l.Columns = make([]Column, len(fields))
	l.Reasons = slices.Clone(l.Reasons)
	found := map[Role]bool{}
	for i, f := range fields {
		name := heading(f)
		l.Columns[i] = Column{Name: name, Unit: unitOf(name)}
		for _, c := range r.layout.Columns {
			if name != "" && equalFold(c.Name, name) && !found[c.Role] {
				l.Columns[i] = c
				found[c.Role] = c.Role != Skip
			}
		}
	}
	for _, c := range r.layout.Columns {
		if (c.Role.isStamp() || c.Role == Light) && !found[c.Role] {
			return nil
		}
	}
	l.markLast()
	l.because("another header after %d records: %s", r.rep.Lines.Records, l.names())
	return &l
}

// doubtful is how many records a changed layout must read before it cannot be taken
// back any more; common practice, no source.
const doubtful = 3

// adopt tries the layout of the last header on a line that does not fit the one
// in force, and that which was in force before: a header and a line that were torn in
// the same way may have changed it.
func (r *Reader) adopt(fields [][]byte, l *line) bool {
	if r.next != nil && r.try(r.next, fields, l) {
		return true
	}
	return r.left != nil && r.rep.Lines.Records-r.leftAt < doubtful && r.try(r.left, fields, l)
}

func (r *Reader) try(other *Layout, fields [][]byte, l *line) bool {
	fields, fit := fits(fields, len(other.Columns))
	if !fit {
		return false
	}
	layout, tail, first, left, leftAt := r.layout, r.tail, r.first, r.left, r.leftAt
	r.change(other)
	if r.record(fields, l) {
		return true
	}
	r.layout, r.tail, r.first, r.left, r.leftAt = layout, tail, first, left, leftAt
	r.forget()
	r.plan()
	return false
}

// change takes another layout, of which no record has been read.
func (r *Reader) change(l *Layout) {
	r.left, r.leftAt = r.layout, r.rep.Lines.Records
	r.layout, r.tail, r.first = l, -1, -1
	r.forget()
	r.plan()
}
