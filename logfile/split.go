package logfile

import "bytes"

// split cuts a line into fields at a delimiter; a blank delimiter takes runs of
// blanks and tabs as one. A field that begins with a quote ends with the next
// quote that is not doubled (RFC 4180); the quotes are taken off. The result is
// false where a quote is never closed.
func split(fields [][]byte, b []byte, delimiter byte) ([][]byte, bool) {
	if delimiter == ' ' {
		return bytesFields(fields, b), true
	}
	for {
		rest := b
		for len(rest) > 0 && rest[0] == ' ' {
			rest = rest[1:]
		}
		if len(rest) > 0 && rest[0] == '"' {
			field, after, ok := quoted(rest)
			if !ok {
				return fields, false
			}
			fields = append(fields, field)
			i := bytes.IndexByte(after, delimiter)
			if i < 0 {
				return fields, true
			}
			b = after[i+1:]
			continue
		}
		i := bytes.IndexByte(b, delimiter)
		if i < 0 {
			return append(fields, b), true
		}
		fields = append(fields, b[:i])
		b = b[i+1:]
	}
}

// quoted takes a quoted field off the front. Doubled quotes are made single in
// place: the line is ours.
func quoted(b []byte) (field, after []byte, ok bool) {
	b = b[1:]
	w := 0
	for i := 0; i < len(b); i++ {
		if b[i] == '"' {
			if i+1 < len(b) && b[i+1] == '"' {
				i++
			} else {
				return b[:w], b[i+1:], true
			}
		}
		b[w] = b[i]
		w++
	}
	return nil, nil, false
}

func bytesFields(fields [][]byte, b []byte) [][]byte {
	i := 0
	for i < len(b) {
		for i < len(b) && (b[i] == ' ' || b[i] == '\t') {
			i++
		}
		from := i
		for i < len(b) && b[i] != ' ' && b[i] != '\t' {
			i++
		}
		if i > from {
			fields = append(fields, b[from:i])
		}
	}
	return fields
}
