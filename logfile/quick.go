package logfile

import (
	"encoding/binary"
	"math"
)

// The short way reads a line where it stands in the buffer, in one pass, while all of
// its cells are plain. Any other line is left to careful, which gives the same answer
// for those that are read here: tests and a fuzzer compare them.

// A step reads one column. It expects a number to look as the last one did, as long and
// with as many decimals, and looks again where that is not so: where the next cell
// begins then does not hang on the digits of this one, and a processor runs ahead.
type step struct {
	column      *Column
	into        *float64 // where a number goes; nil for what is none
	stop        byte     // behind the cell: the delimiter, or what begins the line's end
	last        bool     // of the line
	bounded     bool     // not every such number is plausible
	always      bool     // nor without a sign
	least, most float64  // between which one is, for sure

	// What is expected of a number.
	length      uint // up to 8; 0 where nothing is
	decimals    int
	divisor     float64 // 10 to the decimals
	shift       uint64  // bits by which a word of eight bytes goes up, so that the last digit is on top
	point       uint64  // the sign and the decimal mark in that word
	marks       uint64  // all bits of their bytes
	whole, part uint64  // the digits before it and behind it
}

// A glance is what is looked at of a cell at once: a stamp and what follows it. The
// buffer has as much behind its end.
const glance = 32

// plan makes the steps of the layout in force; none where cells are not plain.
func (r *Reader) plan() {
	l := r.layout
	r.steps = r.steps[:0]
	if r.slow || l.Delimiter == ' ' || l.Delimiter == l.mark() || l.either || l.united || r.lines.wide != nil {
		return
	}
	for i := range l.Columns {
		c := &l.Columns[i]
		s := step{column: c, into: r.dest[c.Role], stop: l.Delimiter, last: i+1 == len(l.Columns)}
		s.least, s.most, s.always = surely(c.Role)
		s.expectNothing()
		r.steps = append(r.steps, s)
	}
}

// surely is a range whose numbers are plausible without a second look.
func surely(r Role) (least, most float64, bounded bool) {
	switch r {
	case Temp:
		return -99, math.Inf(1), false
	case Pressure:
		return math.SmallestNonzeroFloat64, math.Inf(1), true
	case Lat:
		return -90, 90, true
	case Lon:
		return -180, 360, true
	}
	return 0, math.Inf(1), false
}

// quick reads the next line, if it is plain and all of it has been read.
func (r *Reader) quick() bool {
	l := r.lines
	b, start := l.buf, l.at
	if l.afterCR || start == l.to {
		return false
	}
	r.now = moment{}
	i, first := start, 0
	steps := r.steps
	for k := range steps {
		s := &steps[k]
		if s.into == nil {
			if i = r.timeCell(s, i); i < 0 {
				return false
			}
			if k == 0 {
				first = i - start
			}
			i++
			continue
		}
		c := (*[glance]byte)(b[i : i+glance])
		if w := s.word(c); s.fits(w) && c[s.length%glance] == s.stop {
			if !s.take(w) {
				return false
			}
			i += int(s.length)
		} else if i = r.cell(s, i); i < 0 {
			return false
		}
		if k == 0 {
			first = i - start
		}
		i++
	}
	end, i := r.lineEnd(i - 1)
	if i < 0 || end-start > lineCap || !r.finish() {
		return false
	}
	if r.firstNow = first; b[start] == '"' {
		r.firstNow -= len(`""`)
	}
	decimals := 0
	if s := &steps[len(steps)-1]; s.length > 0 && s.stop == b[end] {
		decimals = s.decimals
	} else if r.tail != 0 {
		decimals = r.layout.lastDecimals(b[start:end])
	}
	r.keep(l.number+1, l.offset, int64(i-start), decimals)
	l.skip(i)
	return true
}

// timeCell reads a cell that is no number, and says where it ends.
func (r *Reader) timeCell(s *step, i int) int {
	b := r.lines.buf[i:]
	if n, ok := r.knownDay(s.column, b); ok && b[n] == s.stop {
		return i + n
	}
	return r.cell(s, i)
}

// word is the first eight bytes of a cell, less what is expected of them: nothing is
// left but digits, the last on top.
func (s *step) word(c *[glance]byte) uint64 {
	return (binary.LittleEndian.Uint64(c[:])^0x3030303030303030)<<(s.shift&63) ^ s.point
}

// take makes a number of a word; false where it is not plausible, for sure.
func (s *step) take(w uint64) bool {
	v := float64(int64(decimal(w&s.whole<<8|w&s.part))) / s.divisor
	*s.into = v
	return !s.bounded || v >= s.least && v <= s.most
}

// fits says that a word is as expected: nothing is left of the marks, and no other byte
// is above nine.
func (s *step) fits(w uint64) bool {
	return (w+0x7676767676767676|w)&0x8080808080808080|w&s.marks == 0
}

// decimal is the number that eight digits make, the lowest byte first: neighbours are
// joined, then pairs, then fours.
func decimal(w uint64) uint64 {
	w = w*10 + w>>8
	return (w&0x000000ff000000ff*0x000f424000000064 + w>>16&0x000000ff000000ff*0x0000271000000001) >> 32
}

// lineEnd is where the text of a line ends whose last cell ends at an index, and where
// the next line begins; -1 where there is more on the line. An empty cell more is let
// pass.
func (r *Reader) lineEnd(i int) (end, next int) {
	b := r.lines.buf
	if b[i] == r.layout.Delimiter {
		i++
	}
	switch {
	case b[i] == '\n':
		return i, i + 1
	case b[i] == '\r' && b[i+1] == '\n':
		return i, i + 2
	}
	return 0, -1
}
