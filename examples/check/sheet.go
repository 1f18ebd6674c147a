package main

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// known are the columns that mean something; the first five must be there.
var known = []string{"date", "lat_deg", "lon_deg", "quantity", "value",
	"id", "height_m", "delta_t_s", "scale", "tolerance", "k1", "k2", "elements"}

const required = 5

// A sheet reads the rows of a claims file one after the other, in constant memory.
type sheet struct {
	name    string
	r       *bufio.Reader
	line    int       // that was read last, from 1
	ahead   []text    // lines read while looking for the end of a quotation
	width   int       // cells in a row
	column  [13]int   // of each of known, or -1
	passing []passing // the other columns
}

// A passing column goes into the answer as it is.
type passing struct {
	column int
	key    string
}

// A row is one claim as it stands in the file. Where fault is not empty the cells
// are what could be made of it.
type row struct {
	line  int
	cells []string
	fault string
}

// text is a line of the file without its end.
type text struct {
	line int
	s    string
	long bool // cut
}

// longest bounds a line, bytes, and with it the memory.
const longest = 1 << 16

// newSheet reads the header. lent are required columns that may be absent, because
// a flag stands in for them.
func newSheet(name string, r io.Reader, lent map[string]bool) (*sheet, error) {
	s := &sheet{name: name, r: bufio.NewReaderSize(r, longest)}
	head, err := s.next()
	if errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("%s is empty, want a header that names the columns: %s", name, strings.Join(known, ","))
	}
	if err != nil {
		return nil, err
	}
	head.s = strings.TrimPrefix(head.s, "\ufeff") // spreadsheets put a byte order mark there
	if strings.Contains(head.s, "\r") {
		return nil, fmt.Errorf("%s: its lines end in CR alone, save it with LF or CR LF", name)
	}
	cells, err := split(head.s, false)
	if err != nil {
		return nil, fmt.Errorf("%s:%d: the header cannot be read: %w", name, head.line, err)
	}
	s.width = len(cells)
	return s, s.header(cells, lent)
}

// header finds the columns.
func (s *sheet) header(cells []string, lent map[string]bool) error {
	at, taken := map[string]int{}, map[string]bool{}
	for i, cell := range cells {
		name := strings.TrimSpace(cell)
		if lower := strings.ToLower(name); slices.Contains(known, lower) {
			if _, twice := at[lower]; twice {
				return fmt.Errorf("%s: the column %s is there twice, leave one", s.name, lower)
			}
			at[lower] = i
			continue
		}
		s.passing = append(s.passing, passing{i, freeKey(name, i, taken)})
	}
	var lacking []string
	for i, name := range known {
		s.column[i] = -1
		if c, ok := at[name]; ok {
			s.column[i] = c
		} else if i < required && !lent[name] {
			lacking = append(lacking, name)
		}
	}
	if lacking != nil {
		return fmt.Errorf("%s: the header lacks %s; want names of columns, separated by commas", s.name, strings.Join(lacking, ", "))
	}
	return nil
}

// freeKey names a passing column in the answer: as it is called, unless that
// name is the answer's own or was used before.
func freeKey(name string, column int, taken map[string]bool) string {
	if name == "" {
		name = fmt.Sprintf("column_%d", column+1)
	}
	if slices.Contains(reserved, name) {
		name = "claims_" + name
	}
	key := name
	for n := 2; taken[key]; n++ {
		key = fmt.Sprintf("%s_%d", name, n)
	}
	taken[key] = true
	return key
}

// cell returns a known column of a row, without spaces around it; empty where the
// row or the file has none.
func (s *sheet) cell(r *row, column int) string {
	if c := s.column[column]; c >= 0 && c < len(r.cells) {
		return strings.TrimSpace(r.cells[c])
	}
	return ""
}

// row returns the next row, or io.EOF. A row that is damaged has a fault; the
// error is that of the file.
func (s *sheet) row() (row, error) {
	t, err := s.next()
	for err == nil && strings.TrimSpace(t.s) == "" {
		t, err = s.next()
	}
	if err != nil {
		return row{}, err
	}
	r := row{line: t.line}
	if t.long {
		r.cells, _ = split(t.s, true)
		r.fault = fmt.Sprintf("the line is longer than %d bytes", longest)
		return r, nil
	}
	if r.cells, err = split(t.s, false); err != nil {
		if cells, ok := s.quotation(t); ok {
			r.cells = cells
			return r, nil
		}
		r.fault = fault(err)
		r.cells, _ = split(t.s, true)
		return r, nil
	}
	if len(r.cells) != s.width {
		r.fault = fmt.Sprintf("the line has %d cells, the header %d", len(r.cells), s.width)
	}
	return r, nil
}

func fault(err error) string {
	if p := (*csv.ParseError)(nil); errors.As(err, &p) {
		return fmt.Sprintf("byte %d of the line: %v", p.Column, p.Err)
	}
	return err.Error()
}

// quotationLines bounds how far a quotation may run on: a note, not a chapter.
const quotationLines = 50

// quotation tries a row that runs over several lines, as RFC 4180 allows within
// quotes. They belong together only if they make a row as wide as the header, and
// if no line in the quotation has the commas of a claim; else a quote too many
// would swallow the claims that follow it.
func (s *sheet) quotation(t text) ([]string, bool) {
	joined := t.s
	for n := 0; strings.Count(joined, `"`)%2 == 1; n++ {
		if n == quotationLines || len(joined) > longest || !s.lookAhead(n) {
			return nil, false
		}
		quoted, _, _ := strings.Cut(s.ahead[n].s, `"`)
		if strings.Count(quoted, ",") >= s.width-1 {
			return nil, false
		}
		joined += "\n" + s.ahead[n].s
		if strings.Count(joined, `"`)%2 == 1 {
			continue
		}
		cells, err := split(joined, false)
		if err != nil || len(cells) != s.width {
			return nil, false
		}
		s.ahead = s.ahead[n+1:]
		return cells, true
	}
	return nil, false
}

// lookAhead makes sure that n+1 lines have been read ahead.
func (s *sheet) lookAhead(n int) bool {
	for len(s.ahead) <= n {
		t, err := s.read()
		if err != nil {
			return false // whatever it was, the next reading says it again
		}
		s.ahead = append(s.ahead, t)
	}
	return !s.ahead[n].long
}

// next returns the next line, from those read ahead or from the file.
func (s *sheet) next() (text, error) {
	if len(s.ahead) > 0 {
		t := s.ahead[0]
		s.ahead = s.ahead[1:]
		return t, nil
	}
	return s.read()
}

// read reads a line. Of one that is too long the beginning is kept.
func (s *sheet) read() (text, error) {
	b, err := s.r.ReadSlice('\n')
	t := text{line: s.line + 1, s: string(b), long: errors.Is(err, bufio.ErrBufferFull)}
	for errors.Is(err, bufio.ErrBufferFull) {
		_, err = s.r.ReadSlice('\n')
	}
	if err != nil && !errors.Is(err, io.EOF) {
		return t, fmt.Errorf("%s: after line %d: %w", s.name, s.line, err)
	}
	if err != nil && len(b) == 0 {
		return t, io.EOF
	}
	s.line++
	t.s = strings.TrimSuffix(strings.TrimSuffix(t.s, "\n"), "\r")
	return t, nil
}

// split takes a row apart. Where there is no quote the commas say everything.
func split(s string, lazy bool) ([]string, error) {
	if !strings.Contains(s, `"`) {
		return strings.Split(s, ","), nil
	}
	r := csv.NewReader(strings.NewReader(s))
	r.FieldsPerRecord, r.LazyQuotes = -1, lazy
	return r.Read()
}
