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
	p := cursor{b: trim(b)}
	a, digits := p.number(14)
	if digits == 0 {
		return s, false
	}
	if p.peek() == ':' {
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
	if c := p.peek() | 0x20; c == 't' || c == ','|0x20 || c == '_'|0x20 {
		p.strict = c == 't'
		p.i++
		p.skip(" ")
	}
	if a, digits = p.number(6); digits == 0 {
		return s, false
	}
	if digits == 6 && s.year >= 1000 { // 20270802T070000
		s.hasClock, s.hasSeconds, s.hour, s.minute, s.sec = true, true, a/10000, a/100%100, a%100
		return s, p.fraction(&s) && p.zone(&s) && p.done()
	}
	return s, p.clock(&s, a) && p.done()
}
