package logfile

import "bytes"

// delimiters in the order in which equals are preferred, with the decimal marks
// that may go with them. A blank also separates date and time, and so wins
// without deserving it: its weight is common practice, no source.
var delimiters = []struct {
	char   byte
	marks  string
	weight float64
}{
	{',', ".,", 1}, {';', ".,", 1}, {'\t', ".,", 1}, {'|', ".,", 1}, {' ', ".,", 0.8},
}

// A shape is a column of the sample: how many of its cells are what.
type shape struct {
	cells, numbers, stamps, dates, clocks, text int
	epochs                                      [4]int // numbers that are instants from 2000 to 2100, by scale
	rises                                       int    // numbers at least the one before
	marked                                      int    // numbers with a decimal mark
	zoned, seconds                              int    // stamps with
	last                                        float64
	values                                      []float64
	unit                                        []byte // behind the number in every cell; nil where there is none
}

// stampCells counts whatever is part of a time.
func (s *shape) stampCells() int { return s.stamps + s.dates + s.clocks }

// mostly says that n is more than half of the cells, one exception granted.
func (s *shape) mostly(n int) bool { return n > 0 && n*2 > s.cells-1 && n >= s.text }

// A row is a line of the sample, cut.
type row struct {
	fields [][]byte
	sample int // index of the line
}

// A draft is one way to cut the sample.
type draft struct {
	delimiter byte
	mark      byte
	width     int   // most frequent number of fields of lines with a number or stamp
	all       int   // how many such lines there are, of any width
	rows      []row // those of the width
	words     []row // lines of the width without number and stamp
	others    []row // such lines of another width
	head      *row
	oddHead   *row  // a header of another width
	below     []row // lines of words right below it: units, mostly
	shapes    []shape
	skip      []bool // columns that the caller leaves out; nil where none is given
	thousands string // a cell with a comma between thousands, which could be a decimal one
	score     float64
}

// cut tries one delimiter on the sample. Its score is the consistency of the
// pattern times that of the types (after G. J. J. van den Burg, A. Nazabal & C.
// Sutton, Data Min. Knowl. Disc. 33 (2019) 1799); 0 is no reading at all. One
// column is none: every file reads as one column under a delimiter it lacks.
func cut(sample [][]byte, delimiter, mark byte, given []Role) *draft {
	d := &draft{delimiter: delimiter, mark: mark}
	want := len(given)
	for _, r := range given {
		d.skip = append(d.skip, r == Skip)
	}
	var rows, words []row
	widths := map[int]int{}
	for i, s := range sample {
		fields, ok := split(nil, s, delimiter)
		if !ok {
			continue
		}
		if anyTyped(fields, mark) {
			rows = append(rows, row{fields, i})
			widths[len(fields)]++
		} else {
			words = append(words, row{fields, i})
		}
	}
	rows = belowHeader(rows, words, widths)
	d.all = len(rows)
	for w, n := range widths {
		if n > widths[d.width] || n == widths[d.width] && w > d.width {
			d.width = w
		}
	}
	if want > 0 {
		d.width = want
	}
	d.keep(rows, words)
	if want == 0 && d.width > 2 && delimiter != ' ' && d.emptyLast() {
		d.width-- // a delimiter ends every line
		d.keep(rows, words)
	}
	if d.width < 2 || len(d.rows) == 0 || want == 0 && d.width > mostColumns {
		return d
	}
	d.measure()
	d.findHead()
	d.rate()
	return d
}

// anyTyped says that one of the fields is a number or has the form of a stamp.
func anyTyped(fields [][]byte, mark byte) bool {
	for _, f := range fields {
		if _, ok := parseNumber(f, mark); ok {
			return true
		}
		if _, form := parseStamp(f, Auto); form {
			return true
		}
	}
	return false
}

// fits says that a line has the width, an empty field more at its end let pass,
// and returns it without that.
func fits(fields [][]byte, width int) ([][]byte, bool) {
	if len(fields) == width+1 && len(trim(fields[width])) == 0 {
		return fields[:width], true
	}
	return fields, len(fields) == width
}

func (d *draft) keep(rows, words []row) {
	d.rows, d.words, d.others = fitting(rows, d.width), fitting(words, d.width), words
}

func fitting(rows []row, width int) (out []row) {
	for _, r := range rows {
		if f, ok := fits(r.fields, width); ok {
			out = append(out, row{f, r.sample})
		}
	}
	return out
}

// emptyLast says that no line of the width has anything in its last field.
func (d *draft) emptyLast() bool {
	for _, rows := range [][]row{d.rows, d.words} {
		for _, r := range rows {
			if len(trim(r.fields[len(r.fields)-1])) > 0 {
				return false
			}
		}
	}
	return true
}

// measure counts what the cells of each column are.
func (d *draft) measure() {
	d.shapes = make([]shape, d.width)
	for i := range d.shapes {
		s := &d.shapes[i]
		s.unit = d.commonUnit(i)
		for _, row := range d.rows {
			cell := row.fields[i]
			if d.skips(i) {
				continue
			}
			if s.unit != nil {
				cell = bytes.TrimSuffix(trim(cell), s.unit)
			}
			s.see(cell, d.mark)
			if d.mark == '.' && d.thousands == "" && mayBeThousands(cell) {
				d.thousands = string(trim(cell))
			}
		}
	}
}

// skips says that the caller leaves a column out: what it holds decides nothing.
func (d *draft) skips(column int) bool { return column < len(d.skip) && d.skip[column] }

// mayBeThousands says that a cell is a number under either mark, a comma in it.
func mayBeThousands(cell []byte) bool {
	if bytes.IndexByte(cell, ',') < 0 {
		return false
	}
	_, point := parseNumber(cell, '.')
	_, comma := parseNumber(cell, ',')
	return point && comma
}

// scales of numbers that count from 1970: seconds, and thousandths, millionths and
// billionths of one.
var scales = [4]float64{1, 1e3, 1e6, 1e9}

func (s *shape) see(cell []byte, mark byte) {
	cell = trim(cell)
	if isFailure(cell) {
		return
	}
	s.cells++
	if v, ok := parseNumber(cell, mark); ok {
		s.number(v, bytes.IndexByte(cell, mark) >= 0)
		return
	}
	st, form := parseStamp(cell, Auto)
	switch {
	case !form:
		s.text++
		return
	case st.hasDate && st.hasClock:
		s.stamps++
	case st.hasDate:
		s.dates++
	default:
		s.clocks++
	}
	if st.hasZone {
		s.zoned++
	}
	if st.hasSeconds {
		s.seconds++
	}
}

func (s *shape) number(v float64, marked bool) {
	if marked {
		s.marked++
	}
	if s.numbers > 0 && v >= s.last {
		s.rises++
	}
	s.last = v
	s.values = append(s.values, v)
	s.numbers++
	const from, to = 946684800, 4102444800 // 2000 and 2100, seconds since 1970
	for i, scale := range scales {
		if v >= from*scale && v < to*scale {
			s.epochs[i]++
		}
	}
}

// scale is the unit that makes a column's numbers instants, or 0. One in five may
// be something else: a clock that was not set yet.
func (s *shape) scale() float64 {
	for i, n := range s.epochs {
		if n > 0 && n*5 >= s.numbers*4 && s.mostly(s.numbers) {
			return scales[i]
		}
	}
	return 0
}

// marked says that a number with a decimal mark was seen.
func (d *draft) marked() bool {
	for i := range d.shapes {
		if d.shapes[i].marked > 0 {
			return true
		}
	}
	return false
}

// meanings counts the cells that are headings with a meaning.
func meanings(fields [][]byte) (n int) {
	for _, f := range fields {
		if len(f) <= longHeading && !saysNothing(heading(f)) {
			n++
		}
	}
	return n
}

// rate gives the score.
func (d *draft) rate() {
	typed, stamps, numbers, columns := 0.0, 0, 0, 0
	for i := range d.shapes {
		s := &d.shapes[i]
		if d.skips(i) {
			continue
		}
		columns++
		n := max(s.numbers, s.stamps, s.dates, s.clocks)
		if s.cells > 0 {
			typed += float64(n) / float64(s.cells)
		} else {
			typed++ // nothing speaks against it
		}
		switch {
		case s.mostly(s.stamps), s.mostly(s.clocks), s.mostly(s.dates), s.scale() > 0:
			stamps++
		case s.mostly(s.numbers):
			numbers++
		}
	}
	w := float64(d.width)
	d.score = float64(len(d.rows)) / float64(d.all) * (0.1 + typed/float64(max(columns, 1))) * (1 - 1/(w+1))
	if d.delimiter == ' ' && d.width == 2 && numbers == 0 {
		d.score = 0 // a column of stamps, cut at the blank inside
	}
	if stamps == 0 || numbers == 0 {
		d.score /= 10 // no log; but the caller may know better, and the refusal names columns
	}
}
