package logfile

// A stamp is a date or a clock reading or both, as it stands in a file.
type stamp struct {
	year, month, day  int
	hour, minute, sec int
	nano              int
	zone              int // seconds east of UTC
	hasDate, hasClock bool
	hasSeconds        bool
	hasZone           bool
	late              bool // a date not led by a year of four digits
	first, second     int  // its numbers, as they stand
	third             int
	dashed            bool // its separator is a dash and all its numbers have two digits
}

// valid says that the numbers are those of a date and a time of day. A leap
// second may end any minute, because zones differ by minutes.
func (s *stamp) valid() bool {
	if s.hasDate && !(s.year >= 1900 && s.year < 10000 && s.month >= 1 && s.month <= 12 && s.day >= 1 && s.day <= daysIn(s.year, s.month)) {
		return false
	}
	return !s.hasClock || s.hour >= 0 && s.hour < 24 && s.minute >= 0 && s.minute < 60 && s.sec >= 0 && s.sec <= 60
}

// otherwise says that the stamp exists, though not in the order of its file.
func (s *stamp) otherwise() bool {
	for o := YMD; o <= MDY; o++ {
		if t := *s; s.late && (o != YMD || s.dashed) {
			if t.arrange(o); t.valid() {
				return true
			}
		}
	}
	return false
}

var monthDays = [...]int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

func daysIn(year, month int) int {
	if month == 2 && year%4 == 0 && (year%100 != 0 || year%400 == 0) {
		return 29
	}
	return monthDays[month-1]
}

// midnight is the date's first second since 1970, its own numbers taken as UTC
// (H. F. Fliegel & T. C. Van Flandern, Comm. ACM 11 (1968) 657, in days from
// March).
func (s *stamp) midnight() int64 {
	y, m := int64(s.year), int64(s.month)
	if m <= 2 {
		y--
		m += 12
	}
	days := 365*y + y/4 - y/100 + y/400 + (153*(m-3)+2)/5 + int64(s.day) - 1 - 719468
	return days * 86400
}

// clock is the time of day in seconds.
func (s *stamp) clock() int64 { return int64(s.hour)*3600 + int64(s.minute)*60 + int64(s.sec) }

// compactDate takes 20270802.
func (s *stamp) compactDate(v int) {
	s.year, s.month, s.day, s.hasDate = v/10000, v/100%100, v%100, true
}

// compactClock takes 070005.
func (s *stamp) compactClock(v int) {
	s.hour, s.minute, s.sec, s.hasClock, s.hasSeconds = v/10000, v/100%100, v%100, true, true
}

// arrange gives the numbers of a late date their meaning. Where the year cannot
// come first, or the order is not known, the date is left without a meaning.
func (s *stamp) arrange(order Order) {
	if !s.late {
		return
	}
	switch order {
	case YMD:
		s.year, s.month, s.day = 2000+s.first, s.second, s.third
		if s.third > 99 {
			s.year = 0
		}
	case DMY:
		s.year, s.month, s.day = century(s.third), s.second, s.first
	case MDY:
		s.year, s.month, s.day = century(s.third), s.first, s.second
	}
}

// century completes a year of two digits: loggers are younger than 2000.
func century(y int) int {
	if y < 100 {
		return 2000 + y
	}
	return y
}

// parseStamp reads the common written forms: RFC 3339 and its variants with a
// blank, without zone, without seconds, with other separators or none; day, month
// and year in a given order; months by name; the time of day with or without AM
// or PM, before or after the date. It says whether the text has the form of a
// stamp; stamp.valid says whether it is one.
func parseStamp(b []byte, order Order) (s stamp, form bool) {
	b = trim(b)
	if n := len(b); n > 2 && b[0] == '[' && b[n-1] == ']' {
		b = b[1 : n-1]
	}
	if s, form = parsePlain(b, order); form {
		return s, true
	}
	return parseWorded(b, order)
}

// parsePlain reads a stamp that begins with a number, or with the T of a time of day.
func parsePlain(b []byte, order Order) (s stamp, form bool) {
	p := cursor{b: b}
	p.skip("T")
	a, digits := p.number(8)
	if digits == 0 {
		return s, false
	}
	if clock, more := p.number(6); more > 0 { // 20270802070000
		s.compactDate(a)
		s.compactClock(clock)
		return s, more == 6 && p.done()
	}
	if p.peek() == ':' || p.peek() == 'h' {
		if !p.clock(&s, a) {
			return s, false
		}
		p.skip(" ,")
		if !p.done() {
			a, digits = p.number(8)
			if digits == 0 || !p.date(&s, a, digits) {
				return s, false
			}
		}
		s.arrange(order)
		return s, p.done()
	}
	if !p.date(&s, a, digits) {
		return s, false
	}
	s.arrange(order)
	if s.hasClock || p.done() {
		return s, p.done()
	}
	p.skip(" ")
	if c := p.peek() | 0x20; c == 't' || c == ','|0x20 || c == '_'|0x20 || c == '-'|0x20 {
		p.strict = c == 't'
		p.i++
		p.skip(" ")
	}
	if a, digits = p.number(6); digits == 0 {
		return s, false
	}
	if digits == 6 { // 20270802T070000
		s.compactClock(a)
		return s, p.fraction(&s) && p.zone(&s) && p.done()
	}
	return s, p.clock(&s, a) && p.done()
}

// impossible says of text that parseStamp refuses that it has the parts of a stamp of
// the role, in one order or the other, and numbers that no date or time of day has:
// three digits, a month and a day of zero, an hour of 85.
func impossible(b []byte, role Role) bool {
	p := cursor{b: trim(b)}
	var dates, clocks, wrong int
	for !p.done() && dates+clocks < 2 {
		a, sep, n, ok := p.group()
		switch {
		case !ok:
			return false
		case sep == ':':
			clocks++
			if a[0] > 23 || a[1] > 59 || a[2] > 60 {
				wrong++
			}
		case n != 3:
			return false
		default:
			dates++
			zeros := 0
			for _, v := range a {
				if v == 0 {
					zeros++
				}
				if v >= 100 && v < 1000 {
					wrong++
				}
			}
			wrong += zeros / 2
		}
		p.skip("T_, ")
	}
	return p.done() && wrong > 0 && (dates == 1) == (role != Clock) && (clocks == 1) == (role != Date)
}

// group reads two or three numbers of up to four digits with the same separator.
func (p *cursor) group() (a [3]int, sep byte, n int, ok bool) {
	for {
		v, digits := p.number(4)
		if digits == 0 {
			return a, sep, n, false
		}
		a[n] = v
		n++
		c := p.peek()
		switch {
		case n == 1 && (c == '-' || c == '/' || c == '.' || c == ':'):
			sep = c
		case n == 3, c != sep:
			return a, sep, n, n > 1
		}
		p.i++
	}
}
