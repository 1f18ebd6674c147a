package logfile

import "strings"

// A cursor walks through the text of a stamp.
type cursor struct {
	b      []byte
	i      int
	strict bool // behind a T all parts of the clock have two digits (RFC 3339, 5.6)
}

func (p *cursor) done() bool { return p.i == len(p.b) }

func (p *cursor) peek() byte {
	if p.done() {
		return 0
	}
	return p.b[p.i]
}

func (p *cursor) skip(any string) {
	for !p.done() && strings.IndexByte(any, p.b[p.i]) >= 0 {
		p.i++
	}
}

// number reads up to so many digits, and says how many it found.
func (p *cursor) number(most int) (v, digits int) {
	for p.i < len(p.b) && p.b[p.i]-'0' <= 9 && digits < most {
		v = 10*v + int(p.b[p.i]-'0')
		p.i++
		digits++
	}
	return v, digits
}

// date reads on after the first number.
func (p *cursor) date(s *stamp, a, digits int) bool {
	sep := p.peek()
	switch {
	case digits == 8 && (p.done() || sep == 'T' || sep == 't' || sep == ' ' || sep == '_' || sep == ',' || sep == '-'):
		s.compactDate(a)
		return true
	case digits > 4 || sep != '-' && sep != '/' && sep != '.' && sep != ' ':
		return false
	}
	p.i++
	b, n := p.number(4)
	named := false
	if n == 0 {
		if b, named = p.month(); !named {
			return false
		}
	} else if n > 2 {
		return false
	}
	if p.peek() != sep || sep == ' ' && !named {
		return false
	}
	p.i++
	c, width := p.number(4)
	s.hasDate = true
	if digits == 4 {
		s.year, s.month, s.day = a, b, c
		return width == 1 || width == 2
	}
	if digits > 2 || width != 2 && width != 4 {
		return false
	}
	if named {
		s.year, s.month, s.day = century(c), b, a
		return true
	}
	s.late, s.first, s.second, s.third = true, a, b, c
	s.dashed = sep == '-' && digits == 2 && n == 2 && width == 2
	return true
}

const months = "janfebmaraprmayjunjulaugsepoctnovdec"

// month reads a month's English name or the beginning of it.
func (p *cursor) month() (int, bool) {
	var name [3]byte
	n := 0
	for ; p.i < len(p.b) && (p.b[p.i]|0x20)-'a' < 26; p.i++ {
		if n < 3 {
			name[n] = p.b[p.i] | 0x20
		}
		n++
	}
	i := strings.Index(months, string(name[:]))
	if n < 3 || i < 0 || i%3 != 0 {
		return 0, false
	}
	return i/3 + 1, true
}

// clock reads on after the hour.
func (p *cursor) clock(s *stamp, hour int) bool {
	s.hasClock, s.hour = true, hour
	// Behind a date the parts of the clock may be parted by what else parts those of
	// dates; letters serve anywhere.
	sep := p.peek()
	if sep != ':' && sep != 'h' && (!s.hasDate && s.year == 0 || sep != '.' && sep != '-') {
		return false
	}
	p.i++
	var digits int
	if s.minute, digits = p.number(2); digits == 0 || p.strict && digits == 1 {
		return false
	}
	if sep == 'h' {
		sep = 'm'
	}
	if p.peek() == sep {
		p.i++
		if s.sec, digits = p.number(2); digits == 0 || p.strict && digits == 1 {
			return false
		}
		s.hasSeconds = true
		if sep == 'm' {
			p.skip("s")
		} else if !p.fraction(s) {
			return false
		}
	}
	return p.half(s) && p.zone(s)
}

// fraction reads the fraction of a second behind a point or, as ISO 8601 allows,
// a comma. A comma and a blank begin something else.
func (p *cursor) fraction(s *stamp) bool {
	if c := p.peek(); c != '.' && c != ',' && !(c == ':' && p.threeDigits()) || p.i+1 < len(p.b) && p.b[p.i+1] == ' ' {
		return true
	}
	p.i++
	v, digits := p.number(9)
	if digits == 0 {
		return false
	}
	for ; digits < 9; digits++ {
		v *= 10
	}
	s.nano = v
	p.skip("0123456789") // finer than a nanosecond
	return true
}

// threeDigits says that just three digits stand behind the next byte: milliseconds,
// where a colon leads them.
func (p *cursor) threeDigits() bool {
	q := cursor{b: p.b, i: p.i + 1}
	_, digits := q.number(9)
	return digits == 3
}

// half reads AM or PM, which may have points.
func (p *cursor) half(s *stamp) bool {
	i := p.i
	p.skip(" ")
	c := p.peek() | 0x20
	if c != 'a' && c != 'p' {
		p.i = i
		return true
	}
	p.i++
	p.skip(".")
	if p.peek()|0x20 != 'm' {
		p.i = i
		return true
	}
	p.i++
	p.skip(".")
	if s.hour < 1 || s.hour > 12 {
		return false
	}
	s.hour %= 12
	if c == 'p' {
		s.hour += 12
	}
	return true
}

// zone reads Z, UTC, GMT, +HH, +HHMM or +HH:MM. Other names of zones are not
// unique and are refused.
func (p *cursor) zone(s *stamp) bool {
	i := p.i
	p.skip(" ")
	rest := p.b[p.i:]
	switch c := p.peek(); {
	case c|0x20 == 'z':
		p.i++
		s.hasZone = true
		return true
	case len(rest) >= 3 && (strings.EqualFold(string(rest[:3]), "utc") || strings.EqualFold(string(rest[:3]), "gmt")):
		p.i += 3
		s.hasZone = true
		if p.done() || p.peek() == ' ' {
			return true
		}
		return p.offset(s)
	case c == '+' || c == '-':
		return p.offset(s)
	}
	p.i = i
	return true
}

func (p *cursor) offset(s *stamp) bool {
	sign := p.peek()
	if sign != '+' && sign != '-' {
		return false
	}
	p.i++
	v, digits := p.number(4)
	minutes := 60 * v
	switch digits {
	case 4:
		minutes = 60*(v/100) + v%100
	case 1, 2:
		if p.peek() == ':' {
			p.i++
			m, n := p.number(2)
			if n != 2 || m > 59 {
				return false
			}
			minutes += m
		}
	default:
		return false
	}
	if minutes > 18*60 { // further than any zone ever was
		return false
	}
	s.hasZone, s.zone = true, 60*minutes
	if sign == '-' {
		s.zone = -s.zone
	}
	return true
}
