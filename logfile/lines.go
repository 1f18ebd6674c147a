package logfile

import (
	"bytes"
	"encoding/binary"
	"io"
	"math/bits"
)

// A line is one line of the file: text without its end, and how many bytes it
// took from the source, end included. The text holds until the next line.
type line struct {
	text   []byte
	bytes  int64
	offset int64
	number int
	cut    bool // longer than lineCap; the rest was read and dropped
	open   bool // the source ended before the line did
	odd    bool // there is a control byte in it that is no tab or form feed
	// carry is the bytes of an LF that belongs to the line before: that one was
	// handed out at its CR, because nobody knew whether anything would follow.
	carry int64
}

// lineCap is what is kept of a line, and bounds the memory of a reader however
// its input goes on.
const lineCap = 64 << 10

// textCap is what a Problem keeps of a line.
const textCap = 120

// lines splits a source at LF, CRLF and CR, whatever the mixture.
type lines struct {
	src     io.Reader
	buf     []byte
	at, to  int  // unread part of buf
	odd     bool // a control byte has been passed on the way to the end of the line
	afterCR bool
	started bool
	wide    binary.ByteOrder // of UTF-16; nil where bytes are bytes
	text    []byte           // the line at hand, made UTF-8
	err     error
	offset  int64
	number  int
}

func newLines(src io.Reader) *lines { return &lines{src: src, buf: make([]byte, 2*lineCap+glance)} }

// next returns the next line as soon as it has ended. How the source cuts its
// bytes into reads makes no difference to what comes out.
func (l *lines) next() (out line, ok bool) {
	if !l.started {
		l.detectWide()
	}
	if l.afterCR {
		out.carry = l.swallowLF()
	}
	out.offset, out.number = l.offset, l.number+1
	l.odd = false
	for from := l.at; ; {
		if end, n := l.end(from); n > 0 {
			l.take(&out, end, n)
			return out, true
		}
		if l.to-l.at > lineCap {
			l.drop(&out)
		}
		if l.err != nil {
			if l.at == l.to && out.bytes == 0 {
				return out, false
			}
			out.open = true
			l.take(&out, l.to, 0)
			return out, true
		}
		searched := l.to - l.at
		l.fill()
		from = l.at + searched
	}
}

// end looks for the end of the line from an index on: where the text ends and
// how many bytes the terminator has, 0 where there is none yet. It looks at eight
// bytes at once for those below a blank, so that one pass finds the terminators and
// what is no text.
func (l *lines) end(from int) (end, n int) {
	if l.wide != nil {
		return l.endWide(from)
	}
	i := from
	for ; i+8 <= l.to; i += 8 {
		for m := controls(binary.LittleEndian.Uint64(l.buf[i:])); m != 0; m &= m - 1 {
			at := i + bits.TrailingZeros64(m)/8
			if n := l.terminator(at); n > 0 {
				return at, n
			}
		}
	}
	for ; i < l.to; i++ {
		if n := l.terminator(i); n > 0 {
			return i, n
		}
	}
	return 0, 0
}

// terminator is the length of the one that begins at an index; 0 where none does.
func (l *lines) terminator(i int) int {
	switch c := l.buf[i]; {
	case c == '\n':
		return 1
	case c == '\r' && i+1 < l.to && l.buf[i+1] == '\n':
		return 2
	case c == '\r':
		l.afterCR = i+1 == l.to
		return 1
	case c < ' ' && c != '\t' && c != '\f':
		l.odd = true
	}
	return 0
}

// swallowLF takes the LF that follows a CR, if it does, and says how many bytes it
// has.
func (l *lines) swallowLF() int64 {
	l.afterCR = false
	unit := 1
	if l.wide != nil {
		unit = 2
	}
	for l.to-l.at < unit && l.err == nil {
		l.fill()
	}
	if l.to-l.at < unit || unit == 1 && l.buf[l.at] != '\n' || unit == 2 && l.wide.Uint16(l.buf[l.at:]) != '\n' {
		return 0
	}
	l.at += unit
	l.offset += int64(unit)
	return int64(unit)
}

// take ends the line at end, with n bytes of terminator.
func (l *lines) take(out *line, end, n int) {
	if !out.cut {
		if out.cut = end-l.at > lineCap; out.cut {
			end := l.at + textCap
			out.text = l.narrow(l.buf[l.at:end])
		} else {
			out.text = l.narrow(l.buf[l.at:end])
		}
	}
	if out.odd = l.odd; l.wide != nil {
		out.odd = !isText(out.text)
	}
	out.bytes += int64(end - l.at + n)
	l.at = end + n
	l.offset += out.bytes
	l.number++
}

// skip says that the line up to an index has been read.
func (l *lines) skip(to int) {
	l.offset += int64(to - l.at)
	l.at = to
	l.number++
}

// drop forgets all that is buffered of a line that is too long, but its start.
func (l *lines) drop(out *line) {
	if !out.cut {
		out.cut = true
		out.text = bytes.Clone(l.narrow(l.buf[l.at : l.at+textCap]))
	}
	to := l.to
	if l.wide != nil {
		to -= (l.to - l.at) % 2
	}
	out.bytes += int64(to - l.at)
	l.at = to
}

// fill reads once more, moving what is unread to the front.
func (l *lines) fill() {
	if l.at > 0 {
		copy(l.buf, l.buf[l.at:l.to])
		l.to -= l.at
		l.at = 0
	}
	for range 100 { // a source may return nothing now and then, not for ever
		n, err := l.src.Read(l.buf[l.to : 2*lineCap])
		l.to += n
		l.buf[l.to] = 0 // the short way stops there
		if err != nil {
			l.err = err
			return
		}
		if n > 0 {
			return
		}
	}
	l.err = io.ErrNoProgress
}

// controls marks the bytes of a word that are below a blank, eight at a time: a
// byte borrows from its top bit when 0x20 is taken from it (S. E. Anderson, Bit
// Twiddling Hacks, "Determine if a word has a byte less than n"). The first mark is
// always true; behind one a blank may be marked too.
func controls(w uint64) uint64 {
	const blanks, tops = 0x2020202020202020, 0x8080808080808080
	return (w - blanks) &^ w & tops
}

// isText says that there is no control byte but tabs and form feeds. Bytes above
// 0x7f may be any encoding's letters.
func isText(b []byte) bool {
	for _, c := range b {
		if c < ' ' && c != '\t' && c != '\f' {
			return false
		}
	}
	return true
}

// isBlank says that there is nothing but blanks.
func isBlank(b []byte) bool {
	return len(b) == 0 || b[0] <= ' ' && len(bytes.TrimSpace(b)) == 0
}

// isComment says that a line is a remark. Three marks are in use for it (common
// practice, no source).
func isComment(b []byte) bool {
	return len(b) > 0 && (b[0] == '#' || b[0] == '%' || b[0] == '/' && len(b) > 1 && b[1] == '/')
}

// bomless takes the byte order mark off the first line.
func bomless(b []byte, number int) []byte {
	if number == 1 {
		return bytes.TrimPrefix(b, []byte("\xef\xbb\xbf"))
	}
	return b
}
