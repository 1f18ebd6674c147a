package logfile

import (
	"math"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// stamp appends the time; in words why it cannot.
func (w *Writer) stamp(rec *Record) (reason string) {
	t := rec.Time.UTC()
	if y := t.Year(); y < 1900 || y > 9999 {
		return "wanted a year from 1900 to 9999, which is what a reader takes for one"
	}
	digits := fractionDigits(t.Nanosecond())
	if n := w.opt.Fraction; n > 0 {
		if digits > n {
			return "the stamp has more digits than WriterOptions.Fraction says: raise it or round the time"
		}
		digits = n
	}
	if rec.Leap {
		if t.Second() != 0 {
			return "a leap second is held as the next second, which begins a minute"
		}
		t = t.Add(-time.Second)
	}
	w.row = t.AppendFormat(w.row, time.RFC3339)
	w.row = w.row[:len(w.row)-1] // the Z comes behind the fraction
	if rec.Leap {
		w.row = append(w.row[:len(w.row)-2], "60"...)
	}
	if digits > 0 {
		fraction := strconv.Itoa(1e9 + t.Nanosecond())[1:]
		w.row = append(append(w.row, '.'), fraction[:digits]...)
	}
	w.row = append(w.row, 'Z')
	return ""
}

// fractionDigits is how many digits behind the second lose nothing.
func fractionDigits(nano int) int {
	if nano == 0 {
		return 0
	}
	n := 9
	for ; nano%10 == 0; nano /= 10 {
		n--
	}
	return n
}

// number appends a record's number; in words why it cannot.
func (w *Writer) number(r Role, v float64) (reason string) {
	if math.IsNaN(v) {
		return ""
	}
	if math.IsInf(v, 0) {
		return "wanted a finite number, or NaN for none"
	}
	if !plausible(r, v) {
		return "a reader takes this for a failed sensor's mark: write NaN for none"
	}
	if r == Lat || r == Lon {
		v = w.opt.Grid.Round(v)
	}
	w.row = appendNumber(w.row, v)
	return ""
}

// longPlain is the most that a number is written without an exponent; a reader
// takes cells of up to 64 bytes for numbers.
const longPlain = 40

// appendNumber writes the fewest digits that read back as the same float64.
func appendNumber(b []byte, v float64) []byte {
	n := len(b)
	if b = strconv.AppendFloat(b, v, 'f', -1, 64); len(b)-n <= longPlain {
		return b
	}
	return strconv.AppendFloat(b[:n], v, 'e', -1, 64)
}

// ownCell appends a cell of the caller's; in words why it cannot.
func (w *Writer) ownCell(f Field, text string) (reason string) {
	if reason := badText(text); reason != "" {
		return reason
	}
	if f.Unit != "" && text != "" {
		if _, ok := parseNumber([]byte(text), '.'); !ok || text != strings.TrimSpace(text) {
			return "the column has a unit: wanted a number with a decimal point, or nothing"
		}
	}
	w.row = appendCell(w.row, Guard(text))
	return ""
}

// badText says why text cannot stand in a line of a log.
func badText(text string) string {
	if !utf8.ValidString(text) {
		return "wanted UTF-8"
	}
	for _, r := range text {
		if r != '\t' && unicode.IsControl(r) {
			return "a line break or control byte: one record is one line, so put a blank there"
		}
	}
	return ""
}

// badName says why a name cannot stand in a header.
func badName(name string) string {
	_, number := parseNumber([]byte(name), '.')
	switch {
	case strings.TrimSpace(name) != name || name == "":
		return "wanted a name, without blanks around it"
	case badText(name) != "":
		return badText(name)
	case runs(name) || number || comments(name):
		return "a number, a formula or a comment is no heading: begin with a letter"
	}
	return ""
}

// comments says that a line which begins so is taken for a comment.
func comments(text string) bool {
	return strings.HasPrefix(text, "#") || strings.HasPrefix(text, "%") || strings.HasPrefix(text, "//")
}

// appendCell appends a cell, in quotes where it needs them: RFC 4180 wants them
// around commas, quotes and line breaks; we add what other readers trim, cut at or
// take for a comment.
func appendCell(b []byte, text string) []byte {
	if !strings.ContainsAny(text, ",\"\r\n;\t|") && strings.TrimSpace(text) == text && !comments(text) {
		return append(b, text...)
	}
	b = append(b, '"')
	b = append(b, strings.ReplaceAll(text, `"`, `""`)...)
	return append(b, '"')
}
