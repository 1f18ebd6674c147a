package logfile

// cell reads a cell that is not as its step expects, says where it ends and, of a
// number, expects its like from then on; -1 where it is not plain: a quote doubled or
// behind blanks, a remark, control bytes, or the end of what has been read.
func (r *Reader) cell(s *step, from int) (end int) {
	l := r.lines
	b := l.buf[:l.to]
	if from == l.at && isComment(b[from:]) {
		return -1
	}
	if end = r.quoted(s, from); end >= 0 {
		return end
	}
	text, end := plainCell(b, from, r.layout.Delimiter)
	if end < 0 || end == len(b) || !s.stops(b[end], r.layout.Delimiter) {
		return -1
	}
	switch {
	case s.into != nil:
		r.numberCell(s.column, text)
		s.expect(text, r.layout.mark())
	case s.column.Role != Skip && !r.stampCell(s.column, text):
		return -1
	}
	return end
}

// quoted reads a cell in quotes that is else as expected, and says where it ends; -1
// where it is not so.
func (r *Reader) quoted(s *step, from int) (end int) {
	b := r.lines.buf
	if b[from] != '"' {
		return -1
	}
	from++
	c := (*[glance]byte)(b[from:])
	switch w := s.word(c); {
	case s.into == nil:
		n, ok := r.knownDay(s.column, b[from:])
		if end = from + n; !ok {
			return -1
		}
	case s.fits(w) && s.length > 0 && s.take(w):
		end = from + int(s.length)
	default:
		return -1
	}
	if b[end] != '"' || b[end+1] != s.stop {
		return -1
	}
	return end + 1
}

// stops says that a byte may stand behind the cell, and expects it from then on.
func (s *step) stops(c, delimiter byte) bool {
	if c != delimiter && !(s.last && (c == '\r' || c == '\n')) {
		return false
	}
	s.stop = c
	return true
}

// plainCell is the cell that begins at an index, without quotes, and where it ends.
func plainCell(b []byte, from int, delimiter byte) (text []byte, end int) {
	quoted := from < len(b) && b[from] == '"'
	if quoted {
		from++
	}
	blank := true
	for end = from; end < len(b); end++ {
		switch c := b[end]; {
		case quoted && c == '"':
			if text = b[from:end]; end+1 < len(b) && b[end+1] == '"' {
				return nil, -1
			}
			return text, end + 1
		case !quoted && (c == delimiter || c == '\r' || c == '\n'):
			return b[from:end], end
		case !quoted && blank && c == '"', c < ' ' && c != '\t' && c != '\f':
			return nil, -1
		case c != ' ':
			blank = false
		}
	}
	return nil, -1
}

// expect looks at how a number is written.
func (s *step) expect(text []byte, mark byte) {
	s.expectNothing()
	if len(text) > 8 {
		return
	}
	sign, point := 0, -1
	for i, c := range text {
		switch {
		case i == 0 && c == '-':
			sign = 1
		case c == mark && point < 0:
			point = i
		case c-'0' > 9:
			return
		}
	}
	digits := len(text) - sign
	if point >= 0 {
		digits--
	}
	if digits == 0 {
		return
	}
	s.length, s.shift, s.decimals = uint(len(text)), uint64(64-8*len(text)), 0
	s.point, s.marks, s.whole, s.part = 0, 0, 0, ^uint64(0)
	if sign > 0 {
		s.point, s.marks = uint64('-'^'0')<<s.shift, 0xff<<s.shift
	}
	if point >= 0 {
		s.decimals = len(text) - point - 1
		at := 8 * (7 - s.decimals)
		s.point |= uint64(mark^'0') << at
		s.marks |= 0xff << at
		s.whole = 1<<at - 1
		s.part = ^uint64(0) << at << 8
	}
	if s.divisor = powers[s.decimals]; sign > 0 {
		s.divisor = -s.divisor
	}
	s.bounded = s.always || sign > 0
}

// expectNothing lets no number pass: the point can only make digits of bytes that are
// no stop.
func (s *step) expectNothing() { s.length, s.shift, s.point, s.marks = 0, 0, 0x8080808080808080, 0 }
