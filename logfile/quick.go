package logfile

import "bytes"

// quick reads a line without a second look at most of its bytes, where all its cells
// are plain. It leaves every other line to careful, which gives the same answer for
// those that it does read (tests and a fuzzer compare them).
func (r *Reader) quick(b []byte) bool {
	delimiter, mark := r.layout.Delimiter, r.layout.mark()
	if delimiter == ' ' || delimiter == mark || r.layout.either || r.layout.united {
		return false
	}
	columns := r.layout.Columns
	r.now = moment{}
	i := 0
	for n := range columns {
		c := &columns[n]
		from, stop := i, delimiter
		if i < len(b) && b[i] == '"' {
			from, stop = i+1, '"'
		}
		var end int
		if c.Role > Clock {
			v, next, ok := scanNumber(b, from, mark, stop)
			if ok && plausible(c.Role, v) {
				*r.dest[c.Role], end = v, next
			} else if end = quickEnd(b, from, stop); end >= 0 {
				r.numberCell(c, b[from:end])
			}
		} else {
			end = r.quickStamp(c, b, from, stop)
		}
		if end < 0 {
			return false
		}
		if n == 0 {
			r.firstNow = end - from
		}
		if from > i {
			if end == len(b) {
				return false // an open quote
			}
			end++
		}
		if i = end; i < len(b) {
			if b[i] != delimiter {
				return false // something behind a quote
			}
			i++
		} else if n+1 < len(columns) {
			return false
		}
	}
	if i < len(b) && len(trim(b[i:])) > 0 || i == len(b) && len(columns) == 0 {
		return false
	}
	return r.finish()
}

// quickStamp reads the cell that begins at b[from], if it is part of the time, and
// says where it ends; -1 where it is not plain.
func (r *Reader) quickStamp(c *Column, b []byte, from int, stop byte) (end int) {
	if c.Role == Time && c.Scale == 0 {
		n, ok := r.knownDay(c, b[from:])
		if end = from + n; ok && (end == len(b) || b[end] == stop) {
			return end
		}
	}
	if end = quickEnd(b, from, stop); end >= 0 && c.Role != Skip && !r.stampCell(c, b[from:end]) {
		return -1
	}
	return end
}

// quickEnd is the end of a cell; -1 where a quote may follow blanks or is doubled.
func quickEnd(b []byte, from int, stop byte) int {
	end := fieldEnd(b, from, stop)
	if stop == '"' && end+1 < len(b) && b[end+1] == '"' || stop != '"' && from < end && b[from] == ' ' {
		return -1
	}
	return end
}

func fieldEnd(b []byte, from int, delimiter byte) int {
	if n := bytes.IndexByte(b[from:], delimiter); n >= 0 {
		return from + n
	}
	return len(b)
}
