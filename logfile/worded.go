package logfile

import "bytes"

// A worded stamp has its month or the day of the week in words: Mon 02 Aug 2027
// 07:00:00, Monday, August 2, 2027, Aug 2 07:00:00 2027, 2nd of August 2027. The words
// may be cut to three letters or more; the day of the week says nothing that the date
// does not, and is let pass.

const (
	longWorded  = 48 // longer than any such stamp; common practice, no source
	monthWords  = "january february march april may june july august september october november december"
	dayWords    = "monday tuesday wednesday thursday friday saturday sunday"
	shortestDay = 3
)

// wordIn finds a word in a list, by three of its letters or more, and says which it is.
func wordIn(list string, word []byte) (int, bool) {
	if len(word) < shortestDay {
		return 0, false
	}
	n := 0
	for len(list) > 0 {
		n++
		i := 0
		for i < len(word) && i < len(list) && word[i]|0x20 == list[i] {
			i++
		}
		if i == len(word) {
			return n, true
		}
		for len(list) > 0 && list[0] != ' ' {
			list = list[1:]
		}
		if len(list) > 0 {
			list = list[1:]
		}
	}
	return 0, false
}

// word takes the letters at hand.
func (p *cursor) word() []byte {
	from := p.i
	for !p.done() && (p.b[p.i]|0x20)-'a' < 26 {
		p.i++
	}
	return p.b[from:p.i]
}

// parseWorded reads a worded stamp; where the month is a number behind the day of the
// week, the rest is left to parsePlain.
func parseWorded(b []byte, order Order) (s stamp, form bool) {
	if len(b) > longWorded || !hasLetter(b) {
		return s, false
	}
	var shorter [longWorded]byte
	if rest, ok := withoutWeekday(shorter[:0], b); ok {
		if plain, form := parsePlain(rest, order); form {
			return plain, true
		}
		b = rest
	}
	p := cursor{b: b}
	for !p.done() {
		if !p.wordedPart(&s) {
			return stamp{}, false
		}
		p.skip(" ,./-_")
	}
	s.hasDate = s.year > 0
	return s, s.year > 0 && s.month > 0 && s.day > 0
}

// wordedPart reads a word or a number of a worded stamp.
func (p *cursor) wordedPart(s *stamp) bool {
	if short := p.peek() == '\''; short { // '27
		p.i++
		v, digits := p.number(2)
		s.year = century(v)
		return digits == 2
	}
	v, digits := p.number(4)
	switch {
	case digits == 0:
		return p.wordedWord(s)
	case digits <= 2 && !s.hasClock && (p.peek() == ':' || s.year > 0 && s.day > 0):
		return p.clock(s, v)
	case digits == 4 && s.year == 0:
		s.year = v
		p.skip(":") // 02/Aug/2027:07:00:00
	case digits <= 2 && s.day == 0:
		s.day = v
		p.ordinal()
	case digits == 2 && s.year == 0:
		s.year = century(v)
	default:
		return false
	}
	return true
}

// wordedWord takes a month, or a word that stands between date and time of day.
func (p *cursor) wordedWord(s *stamp) bool {
	w := p.word()
	if m, ok := wordIn(monthWords, w); ok && s.month == 0 {
		s.month = m
		return true
	}
	_, day := wordIn(dayWords, w)
	return day || isWord(w, "at") || isWord(w, "of") || isWord(w, "t") && s.year > 0
}

// ordinal lets 1st, 2nd, 3rd and 4th pass.
func (p *cursor) ordinal() {
	end := p.b[p.i:min(p.i+2, len(p.b))]
	if isWord(end, "st") || isWord(end, "nd") || isWord(end, "rd") || isWord(end, "th") {
		p.i += 2
	}
}

func isWord(b []byte, word string) bool { return bytes.EqualFold(b, []byte(word)) }

// withoutWeekday takes the day of the week out.
func withoutWeekday(out, b []byte) ([]byte, bool) {
	for p := (cursor{b: b}); !p.done(); {
		from := p.i
		if _, ok := wordIn(dayWords, p.word()); ok {
			p.skip(" ,.")
			out = append(out, b[:from]...)
			out = append(out, b[p.i:]...)
			return bytes.TrimRight(out, " ,"), true
		}
		if p.i == from {
			p.i++
		}
	}
	return b, false
}
