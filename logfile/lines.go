package logfile

import (
	"bytes"
	"io"
)

// A line is one line of the file: text without its end, and how many bytes it
// took from the source, end included. The text holds until the next line.
type line struct {
	text   []byte
	bytes  int64
	offset int64
	number int
	cut    bool // longer than lineCap; the rest was read and dropped
}

// lineCap is what is kept of a line, and bounds the memory of a reader however
// its input goes on.
const lineCap = 64 << 10

// lines splits a source at LF, CRLF and CR, whatever the mixture.
type lines struct {
	src    io.Reader
	buf    []byte
	at, to int // unread part of buf
	err    error
	offset int64
	number int
}

func newLines(src io.Reader) *lines { return &lines{src: src, buf: make([]byte, 2*lineCap)} }

// next returns the next line. A CR that ends what has been read is held until the
// next byte shows whether an LF belongs to it.
func (l *lines) next() (line, bool) {
	out := line{offset: l.offset, number: l.number + 1}
	from := l.at
	for {
		if i := bytes.IndexAny(l.buf[from:l.to], "\r\n"); i >= 0 {
			end := from + i
			n := 1
			if l.buf[end] == '\r' {
				if end+1 == l.to && l.err == nil {
					l.fill(&end)
				}
				if end+1 < l.to && l.buf[end+1] == '\n' {
					n = 2
				}
			}
			return l.take(out, end, n), true
		}
		if l.to-l.at >= lineCap {
			l.drop(&out)
		}
		from = l.to
		if l.err != nil {
			if l.at == l.to && out.bytes == 0 {
				return line{}, false
			}
			return l.take(out, l.to, 0), true
		}
		kept := from - l.at
		l.fill(nil)
		from = l.at + kept
	}
}

// take ends the line at end, with n bytes of terminator.
func (l *lines) take(out line, end, n int) line {
	if !out.cut {
		out.text = l.buf[l.at:end]
	}
	out.bytes += int64(end - l.at + n)
	l.at = end + n
	l.offset += out.bytes
	l.number++
	return out
}

// drop forgets all that is buffered of a line that is too long, but its start.
func (l *lines) drop(out *line) {
	if !out.cut {
		out.cut = true
		out.text = append([]byte(nil), l.buf[l.at:l.at+120]...)
	}
	out.bytes += int64(l.to - l.at)
	l.at = l.to
}

// fill reads once more, moving what is unread to the front; pos is moved along.
func (l *lines) fill(pos *int) {
	if l.at > 0 {
		if pos != nil {
			*pos -= l.at
		}
		copy(l.buf, l.buf[l.at:l.to])
		l.to -= l.at
		l.at = 0
	}
	for range 100 { // a source may return nothing now and then, not for ever
		n, err := l.src.Read(l.buf[l.to:])
		l.to += n
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
