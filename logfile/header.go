package logfile

import "slices"

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

// sameNames says that the fields are the header's.
func (r *Reader) sameNames(fields [][]byte) bool {
	if !r.layout.Header {
		return false
	}
	for i := range fields {
		if !equalFold(r.layout.Columns[i].Name, heading(fields[i])) {
			return false
		}
	}
	return true
}

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

// adopt tries the layout of the last header on a line that does not fit the one
// in force.
func (r *Reader) adopt(fields [][]byte, l *line) bool {
	if r.next == nil {
		return false
	}
	fields, fit := fits(fields, len(r.next.Columns))
	if !fit {
		return false
	}
	old := r.layout
	r.change(r.next)
	if r.record(fields, l) {
		return true
	}
	r.change(old)
	return false
}

// change takes another layout, of which no record has been read.
func (r *Reader) change(l *Layout) {
	r.layout, r.tail, r.first = l, -1, -1
	r.forget()
}
