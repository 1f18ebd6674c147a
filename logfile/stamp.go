package logfile

import "math"

// A stamp is a date or a clock reading or both, as it stands in a file.
type stamp struct {
	year, month, day  int
	hour, minute, sec int
	nano              int
	zone              int // seconds east of UTC
	hasDate, hasClock bool
	hasZone           bool
	first, second     int  // the first two numbers of a date not led by its year
	yearLast          bool // such a date
}

// parseStamp reads the common written forms: RFC 3339 and its variants with a
// blank, without zone, without seconds, with other separators; day, month and
// year in a given order; time of day with or without AM or PM.
func parseStamp(b []byte, order Order) (s stamp, ok bool) {
	if s, ok = fastStamp(b); ok {
		return s, true
	}
	p := cursor{b: trim(b)}
	a, digits, ok := p.number()
	if !ok {
		return s, false
	}
	switch p.peek() {
	case '-', '/', '.':
		if !p.date(&s, a, digits, order) {
			return s, false
		}
		p.blanks()
		if c := p.peek(); c == 'T' || c == 't' || c == ',' {
			p.i++
			p.blanks()
		}
		if p.done() {
			return s, s.valid()
		}
		if a, _, ok = p.number(); !ok {
			return s, false
		}
		fallthrough
	case ':':
		if !p.clock(&s, a) {
			return s, false
		}
		return s, p.done() && s.valid()
	}
	return s, false
}

// fastStamp is the common case, YYYY-MM-DDxHH:MM:SS with x a T or a blank and
// perhaps a final Z: nine in ten of the logs in the tests are written so, and it
// costs a third of the general parser.
func fastStamp(b []byte) (s stamp, ok bool) {
	if len(b) != 19 && (len(b) != 20 || b[19] != 'Z') {
		return s, false
	}
	if b[4] != '-' || b[7] != '-' || b[10] != 'T' && b[10] != ' ' || b[13] != ':' || b[16] != ':' {
		return s, false
	}
	bad := 0
	two := func(i int) int {
		x, y := int(b[i])-'0', int(b[i+1])-'0'
		if x < 0 || x > 9 || y < 0 || y > 9 {
			bad++
		}
		return 10*x + y
	}
	s = stamp{year: 100*two(0) + two(2), month: two(5), day: two(8), hour: two(11), minute: two(14), sec: two(17),
		hasDate: true, hasClock: true, hasZone: len(b) == 20}
	return s, bad == 0 && s.valid()
}

// valid checks the ranges; a leap second may end any minute.
func (s *stamp) valid() bool {
	if s.hasDate && !(s.year >= 1900 && s.year < 10000 && s.month >= 1 && s.month <= 12 && s.day >= 1 && s.day <= daysIn(s.year, s.month)) {
		return false
	}
	return !s.hasClock || s.hour >= 0 && s.hour < 24 && s.minute >= 0 && s.minute < 60 && s.sec >= 0 && s.sec <= 60
}

var monthDays = [...]int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

func daysIn(year, month int) int {
	if month == 2 && year%4 == 0 && (year%100 != 0 || year%400 == 0) {
		return 29
	}
	return monthDays[month-1]
}

// unix is the stamp in seconds since 1970, its own numbers taken as UTC (H. F.
// Fliegel & T. C. Van Flandern, Comm. ACM 11 (1968) 657, in days from March).
func (s *stamp) unix() int64 {
	y, m := int64(s.year), int64(s.month)
	if m <= 2 {
		y--
		m += 12
	}
	days := 365*y + y/4 - y/100 + y/400 + (153*(m-3)+2)/5 + int64(s.day) - 1 - 719468
	return days*86400 + s.clockSeconds()
}

func (s *stamp) clockSeconds() int64 { return int64(s.hour)*3600 + int64(s.minute)*60 + int64(s.sec) }

// A cursor walks through a field.
type cursor struct {
	b []byte
	i int
}

func (p *cursor) done() bool { return p.i == len(p.b) }

func (p *cursor) peek() byte {
	if p.done() {
		return 0
	}
	return p.b[p.i]
}

func (p *cursor) blanks() {
	for p.peek() == ' ' {
		p.i++
	}
}

// number reads one to nine digits.
func (p *cursor) number() (v, digits int, ok bool) {
	for p.i < len(p.b) && p.b[p.i] >= '0' && p.b[p.i] <= '9' && digits < 9 {
		v = 10*v + int(p.b[p.i]-'0')
		p.i++
		digits++
	}
	return v, digits, digits > 0
}

// date reads on after the first number.
func (p *cursor) date(s *stamp, a, digits int, order Order) bool {
	sep := p.peek()
	p.i++
	b, _, ok := p.number()
	if !ok || p.peek() != sep {
		return false
	}
	p.i++
	c, width, ok := p.number()
	if !ok {
		return false
	}
	s.hasDate = true
	if digits == 4 || order == YMD {
		s.year, s.month, s.day = century(a, digits), b, c
		return digits == 4 || digits == 2
	}
	if width != 2 && width != 4 || digits > 2 {
		return false
	}
	s.yearLast, s.first, s.second, s.year = true, a, b, century(c, width)
	s.day, s.month = a, b
	if order == MDY || order == Auto && b > 12 {
		s.day, s.month = b, a
	}
	return true
}

// century completes a year of two digits: loggers are younger than 2000.
func century(y, digits int) int {
	if digits == 2 {
		return 2000 + y
	}
	return y
}

// clock reads on after the hour.
func (p *cursor) clock(s *stamp, hour int) bool {
	s.hasClock, s.hour = true, hour
	if p.peek() != ':' {
		return false
	}
	p.i++
	var ok bool
	if s.minute, _, ok = p.number(); !ok {
		return false
	}
	if p.peek() == ':' {
		p.i++
		if s.sec, _, ok = p.number(); !ok {
			return false
		}
		if c := p.peek(); c == '.' || c == ',' {
			p.i++
			v, digits, ok := p.number()
			if !ok {
				return false
			}
			s.nano = v * int(math.Pow10(9-digits))
			for p.i < len(p.b) && p.b[p.i] >= '0' && p.b[p.i] <= '9' {
				p.i++ // finer than a nanosecond
			}
		}
	}
	p.blanks()
	return p.half(s) && p.offset(s)
}

// half reads AM or PM.
func (p *cursor) half(s *stamp) bool {
	c := p.peek() | 0x20
	if c != 'a' && c != 'p' || p.i+1 >= len(p.b) || p.b[p.i+1]|0x20 != 'm' {
		return true
	}
	p.i += 2
	p.blanks()
	if s.hour < 1 || s.hour > 12 {
		return false
	}
	s.hour %= 12
	if c == 'p' {
		s.hour += 12
	}
	return true
}

// offset reads Z, +HH, +HHMM or +HH:MM.
func (p *cursor) offset(s *stamp) bool {
	c := p.peek()
	switch c {
	case 'Z', 'z':
		p.i++
		s.hasZone = true
		return true
	case '+', '-':
	default:
		return true
	}
	p.i++
	v, digits, ok := p.number()
	if !ok {
		return false
	}
	minutes := 60 * v
	switch digits {
	case 4:
		minutes = 60*(v/100) + v%100
	case 1, 2:
		if p.peek() == ':' {
			p.i++
			m, _, ok := p.number()
			if !ok || m > 59 {
				return false
			}
			minutes += m
		}
	default:
		return false
	}
	if minutes > 18*60 {
		return false
	}
	s.hasZone, s.zone = true, 60*minutes
	if c == '-' {
		s.zone = -s.zone
	}
	return true
}
