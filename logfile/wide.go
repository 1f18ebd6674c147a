package logfile

import (
	"encoding/binary"
	"unicode/utf16"
	"unicode/utf8"
)

// A file of UTF-16 is known by its byte order mark (RFC 2781). Lines are found and
// counted in the bytes of the file and handed on as UTF-8, mark included, so that
// nothing behind lines knows of it.

// detectWide looks at the first two bytes, once.
func (l *lines) detectWide() {
	l.started = true
	for l.to < 2 && l.err == nil {
		l.fill()
	}
	if l.to < 2 {
		return
	}
	switch {
	case l.buf[0] == 0xff && l.buf[1] == 0xfe:
		l.wide = binary.LittleEndian
	case l.buf[0] == 0xfe && l.buf[1] == 0xff:
		l.wide = binary.BigEndian
	}
}

// endWide is end for UTF-16. Lines begin on whole units, because the mark, text and
// terminators consist of them.
func (l *lines) endWide(from int) (end, n int) {
	for i := l.at + (from-l.at)&^1; i+1 < l.to; i += 2 {
		switch l.wide.Uint16(l.buf[i:]) {
		case '\n':
			return i, 2
		case '\r':
			if i+3 < l.to && l.wide.Uint16(l.buf[i+2:]) == '\n' {
				return i, 4
			}
			l.afterCR = i+4 > l.to
			return i, 2
		}
	}
	return 0, 0
}

// narrow turns UTF-16 into UTF-8; what is none becomes U+FFFD, half a unit too.
func (l *lines) narrow(b []byte) []byte {
	if l.wide == nil {
		return b
	}
	out := l.text[:0]
	for len(b) >= 2 {
		r := rune(l.wide.Uint16(b))
		b = b[2:]
		if utf16.IsSurrogate(r) {
			low := rune(-1)
			if len(b) >= 2 {
				low = rune(l.wide.Uint16(b))
			}
			if r = utf16.DecodeRune(r, low); r != utf8.RuneError {
				b = b[2:]
			}
		}
		out = utf8.AppendRune(out, r)
	}
	if len(b) > 0 {
		out = utf8.AppendRune(out, utf8.RuneError)
	}
	l.text = out
	return out
}
