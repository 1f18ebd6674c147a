package logfile

import "bytes"

// split cuts a line into fields at a delimiter; a blank delimiter takes runs of
// blanks and tabs as one. A field that begins with a quote ends with the next
// quote that is not doubled (RFC 4180); the outer quotes are taken off, doubled
// ones are left as they are. The result is false where a quote is never closed.
func split(fields [][]byte, b []byte, delimiter byte) ([][]byte, bool) {
	if delimiter == ' ' {
		return splitBlanks(fields, b)
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

// quoted takes a quoted field off the front.
func quoted(b []byte) (field, after []byte, ok bool) {
	for i := 1; i < len(b); i++ {
		if b[i] != '"' {
			continue
		}
		if i+1 < len(b) && b[i+1] == '"' {
			i++
			continue
		}
		return b[1:i], b[i+1:], true
	}
	return nil, nil, false
}

func splitBlanks(fields [][]byte, b []byte) ([][]byte, bool) {
	for i := 0; i < len(b); {
		if isBlankByte(b[i]) {
			i++
			continue
		}
		if b[i] == '"' {
			field, after, ok := quoted(b[i:])
			if !ok {
				return fields, false
			}
			fields = append(fields, field)
			i = len(b) - len(after)
			continue
		}
		from := i
		for i < len(b) && !isBlankByte(b[i]) {
			i++
		}
		fields = append(fields, b[from:i])
	}
	return fields, true
}

func isBlankByte(c byte) bool { return c == ' ' || c == '\t' || c == '\f' }

// trim takes blanks off a field.
func trim(b []byte) []byte {
	for len(b) > 0 && isBlankByte(b[0]) {
		b = b[1:]
	}
	for len(b) > 0 && isBlankByte(b[len(b)-1]) {
		b = b[:len(b)-1]
	}
	return b
}
