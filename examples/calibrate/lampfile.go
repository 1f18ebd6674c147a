package main

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
)

// A lampRow is a line of a lamp's sheet.
type lampRow struct {
	line                int
	distance, distanceU float64 // m
	reading, readingU   float64 // counts, or what follows a power of light; u 0 where not given
}

// lampColumns are those that are read; others pass.
var lampColumns = []string{"distance_m", "distance_u_m", "reading", "reading_u"}

// readLamp reads a sheet. Errors say line and column.
func readLamp(r io.Reader) ([]lampRow, error) {
	b := bufio.NewReader(r)
	const mark = "\ufeff" // a spreadsheet's byte order mark
	if head, _ := b.Peek(len(mark)); string(head) == mark {
		if _, err := b.Discard(len(mark)); err != nil {
			return nil, err
		}
	}
	in := csv.NewReader(b)
	in.Comment, in.TrimLeadingSpace, in.FieldsPerRecord = '#', true, -1
	header, err := in.Read()
	if errors.Is(err, io.EOF) {
		return nil, errors.New("the file is empty: want a header with distance_m and reading, and a line for each distance")
	} else if err != nil {
		return nil, err
	}
	for i := range header {
		header[i] = strings.ToLower(strings.TrimSpace(header[i]))
	}
	for _, must := range []string{"distance_m", "reading"} {
		if !slices.Contains(header, must) {
			return nil, fmt.Errorf("the first line has no column %s: want %s, separated by commas", must, strings.Join(lampColumns, ", "))
		}
	}
	var out []lampRow
	for {
		record, err := in.Read()
		if errors.Is(err, io.EOF) {
			return out, nil
		} else if err != nil {
			return nil, err
		}
		line, _ := in.FieldPos(0)
		row, err := lampRowOf(header, record)
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", line, err)
		}
		row.line = line
		out = append(out, row)
	}
}

func lampRowOf(header, record []string) (lampRow, error) {
	var row lampRow
	if len(record) != len(header) {
		return row, fmt.Errorf("%d fields under a header of %d: put a point, not a comma, before decimals", len(record), len(header))
	}
	into := map[string]*float64{"distance_m": &row.distance, "distance_u_m": &row.distanceU, "reading": &row.reading, "reading_u": &row.readingU}
	for i, name := range header {
		at, text := into[name], strings.TrimSpace(record[i])
		if at == nil || text == "" && strings.Contains(name, "_u") {
			continue
		}
		v, err := strconv.ParseFloat(text, 64)
		if err != nil || math.IsInf(v, 0) || !(v > 0 || v == 0 && strings.Contains(name, "_u")) {
			return row, fmt.Errorf("%s is %q, want a number above 0", name, text)
		}
		*at = v
	}
	return row, nil
}
