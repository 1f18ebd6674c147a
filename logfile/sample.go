package logfile

import (
	"bytes"
	"cmp"
)

// What the layout is inferred from.
const (
	sampleLines = 60       // that could be records: enough where nothing is open
	sampleBytes = 64 << 10 // held at most for a layout
	datesBytes  = 1 << 20  // held at most while day and month cannot be told apart
	lineCost    = 64       // bytes of book-keeping a line, so that short ones are bounded too
	sureRows    = 3        // enough below a header that tells time and light
	bareRows    = 8        // enough without
	longRemark  = 4 << 10
)

// open reads lines until the layout is decided, and holds them.
func (r *Reader) open() error {
	var refusal error
	for try := nextTry(0, len(r.opt.Columns) > 0); ; {
		more := r.hold()
		if len(r.sample) < try && more && r.heldBytes < sampleBytes {
			continue
		}
		try = nextTry(len(r.sample), len(r.opt.Columns) > 0)
		last := !more || r.heldBytes >= sampleBytes
		if len(r.sample) == 0 && !last {
			continue
		}
		layout, d, err := infer(r.sample, r.remark, r.opt)
		if err != nil {
			if refusal = err; last {
				break
			}
			continue
		}
		if !last && (layout.lively || len(r.sample) < sampleLines && !layout.sure(d, r.opt)) {
			continue
		}
		r.layout = layout
		if head := cmp.Or(d.head, d.oddHead); head != nil {
			r.preamble = r.sampleAt[head.sample]
		}
		return r.decideOrder(d, more)
	}
	return r.undecided(refusal)
}

// nextTry says how many lines to wait for before the layout is tried again. It
// counts lines and not time, so that the same bytes read the same, however slowly
// they come.
func nextTry(n int, given bool) int {
	switch {
	case n < 8 && (given || n >= sureRows):
		return n + 1
	case n < sureRows+1:
		return sureRows + 1
	case n < sampleLines:
		return min(2*n, sampleLines)
	}
	return 2 * n
}

// sure says that a few lines were enough: all of one width, with a header that
// tells time and light, or with roles given by the caller.
func (l *Layout) sure(d *draft, opt Options) bool {
	if len(d.rows) != d.all {
		return false
	}
	if len(opt.Columns) > 0 {
		return true
	}
	if d.head == nil && opt.Light == "" {
		return len(d.rows) >= bareRows
	}
	return len(d.rows) >= sureRows && l.has(Light) >= 0
}

// hold reads one line, accounts for it if that needs no layout, else keeps it;
// false at the end of the source.
func (r *Reader) hold() bool {
	l, ok := r.lines.next()
	r.credit(l.carry)
	if !ok {
		return false
	}
	text := bomless(l.text, l.number)
	switch {
	case !l.cut && isBlank(text):
		r.count(&r.rep.Lines.Blanks, &r.rep.Bytes.Blanks, &l)
		return true
	case !l.cut && isComment(text):
		r.count(&r.rep.Lines.Comments, &r.rep.Bytes.Comments, &l)
		if len(r.sample) == 0 && len(text) < longRemark && isText(text) {
			r.remark = append(r.remark[:0], text...)
		}
		return true
	}
	l.text = bytes.Clone(l.text)
	r.held = append(r.held, l)
	r.owner = &r.held[len(r.held)-1].bytes
	r.heldBytes += len(l.text) + lineCost
	text = bomless(l.text, l.number)
	if behind := bytes.TrimLeft(text, "\x00"); len(behind) < len(text) && beginsWithWord([][]byte{behind}) {
		text = behind // the header, perhaps
	}
	if !l.cut && (!l.open || len(r.sample) < sureRows) && isText(text) {
		r.sample = append(r.sample, text)
		r.sampleAt = append(r.sampleAt, l.number)
	}
	return true
}

// decideOrder settles the order of day, month and year, reading on while the
// dates so far do not show it.
func (r *Reader) decideOrder(d *draft, more bool) error {
	l := r.layout
	if r.opt.Order != Auto {
		l.Order = r.opt.Order
		l.because("dates not led by a year of four digits are %s, as given", l.Order.words())
		return nil
	}
	if l.dateColumn() < 0 {
		l.Order = YMD
		return nil
	}
	var dates dateOrder
	for _, row := range d.rows {
		dates.see(l.looseStamp(row.fields))
	}
	for {
		order, why, ok := dates.decide()
		if ok {
			if l.Order = order; why == "" {
				why = "dates are led by the year, or have their month in words"
			}
			l.because("%s", why)
			return nil
		}
		if !more || r.heldBytes >= datesBytes {
			break
		}
		n := len(r.held)
		if more = r.hold(); len(r.held) == n {
			continue
		}
		fields, ok := split(r.fields[:0], r.held[n].text, l.Delimiter)
		if fields, fit := fits(fields, len(l.Columns)); ok && fit {
			dates.see(l.looseStamp(fields))
		}
	}
	r.layout = nil
	return r.undecided(&LayoutError{File: r.opt.Name, Decides: "order", Reason: "no date tells day from month"})
}

// undecided accounts for a file that has no layout, to its end, and says what is
// the matter with it.
func (r *Reader) undecided(refusal error) error {
	headers, typed := 0, false
	for i := range r.held {
		l := &r.held[i]
		text := bomless(l.text, l.number)
		switch {
		case !isText(text):
			r.refuse(l, NotText)
		case l.cut:
			r.refuse(l, TooLong)
		case isHeaderAlone(text):
			headers++
			r.count(&r.rep.Lines.Headers, &r.rep.Bytes.Headers, l)
		default:
			typed = typed || !l.open
			r.refuse(l, NotARecord)
		}
	}
	r.held, r.sample = nil, nil
	for {
		l, ok := r.lines.next()
		r.credit(l.carry)
		if !ok {
			break
		}
		switch text := bomless(l.text, l.number); {
		case !l.cut && isBlank(text):
			r.count(&r.rep.Lines.Blanks, &r.rep.Bytes.Blanks, &l)
		case !l.cut && isComment(text):
			r.count(&r.rep.Lines.Comments, &r.rep.Bytes.Comments, &l)
		case !isText(text):
			r.refuse(&l, NotText)
		case l.cut:
			r.refuse(&l, TooLong)
		default:
			typed = true
			r.refuse(&l, NotARecord)
		}
	}
	if err := r.failure(); err != nil {
		return err
	}
	seen := int(r.rep.Lines.Problems)
	switch {
	case 2*r.rep.ByKind[NotText] > seen || seen > 0 && r.rep.ByKind[NotText] > 0 && !typed:
		return ErrNotText
	case seen == 0 || headers > 0 && !typed:
		return ErrEmpty
	case refusal == nil:
		return &LayoutError{File: r.opt.Name, Decides: "columns", Reason: "no line could be a record"}
	}
	return refusal
}

// isHeaderAlone recognises a header that has no data below it: words, one of them
// for the time.
func isHeaderAlone(text []byte) bool {
	cuts := delimiters[:len(delimiters)-1]
	for _, d := range cuts {
		if fields, ok := split(nil, text, d.char); ok && anyTyped(fields, '.') {
			return false
		}
	}
	for _, d := range cuts {
		fields, ok := split(nil, text, d.char)
		if !ok || len(fields) < 2 {
			continue
		}
		for _, f := range fields {
			if role, _, _ := meaning(heading(f)); role == Time {
				return true
			}
		}
	}
	return false
}
