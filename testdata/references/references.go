// Package references reads published figures for the tests of every room: the tables that
// lie beside it, a row at a time, by the names of their columns.
//
//	for _, r := range references.Table(t, "air_mass.csv") {
//		h, want := r.Number(t, "altitude_deg"), r.Number(t, "m_formula_1989")
//
// What is not there fails the test: a table, or a column or a number that a method asks for.
// The package imports the standard library alone, so that no room's own tests come round to
// themselves.
package references

import (
	"compress/gzip"
	"embed"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"
)

//go:embed *.csv
var tables embed.FS

// A Row is a line of a table by the names of its columns, as printed.
type Row map[string]string

// Table reads the table of this folder that has the name.
func Table(t testing.TB, name string) []Row {
	t.Helper()
	f, err := tables.Open(name)
	if err != nil {
		t.Fatalf("no published table: %v", err)
	}
	defer f.Close()
	return read(t, name, f)
}

// File reads a table that lies elsewhere. One whose name ends in .gz is unpacked.
func File(t testing.TB, path string) []Row {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatalf("no table: %v", err)
	}
	defer f.Close()
	var from io.Reader = f
	if strings.HasSuffix(path, ".gz") {
		if from, err = gzip.NewReader(f); err != nil {
			t.Fatalf("%s: %v", path, err)
		}
	}
	return read(t, path, from)
}

// read takes the first line for the names of the columns; a table has rows, each as long as
// that line, and no two columns of one name.
func read(t testing.TB, name string, from io.Reader) (rows []Row) {
	t.Helper()
	lines, err := csv.NewReader(from).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	if len(lines) < 2 {
		t.Fatalf("%s: has no rows", name)
	}
	for _, line := range lines[1:] {
		r := make(Row, len(line))
		for i, column := range lines[0] {
			r[column] = line[i]
		}
		if len(r) < len(line) {
			t.Fatalf("%s: two columns have one name: %q", name, lines[0])
		}
		rows = append(rows, r)
	}
	return rows
}

// Text is a cell of a column that must be there; the cell may be empty.
func (r Row) Text(t testing.TB, column string) string {
	t.Helper()
	cell, ok := r[column]
	if !ok {
		t.Fatalf("no column %q", column)
	}
	return cell
}

// Number is a cell that must hold one.
func (r Row) Number(t testing.TB, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(r.Text(t, column), 64)
	if err != nil {
		t.Fatalf("column %s: %v", column, err)
	}
	return v
}

// Half is half a unit of the last digit that a cell prints.
func (r Row) Half(t testing.TB, column string) float64 {
	t.Helper()
	_, decimals, _ := strings.Cut(r.Text(t, column), ".")
	return 0.5 * math.Pow10(-len(decimals))
}

// Poly is a polynomial of a row of elements.csv, as "x" in the columns x0, x1 and so on, from
// the constant up to the last term printed.
func (r Row) Poly(t testing.TB, name string) (p []float64) {
	t.Helper()
	for i := 0; ; i++ {
		column := fmt.Sprint(name, i)
		switch cell, ok := r[column]; {
		case !ok && len(p) > 0:
			return p
		case cell != "" && len(p) < i:
			t.Fatalf("column %s: a term above one that is not printed", column)
		case cell != "" || i == 0:
			p = append(p, r.Number(t, column))
		}
	}
}

// T0 is the instant from which the polynomials of a row of elements.csv count their hours, in
// seconds of Terrestrial Time after 2000 January 1, 12 h.
func (r Row) T0(t testing.TB) float64 {
	t.Helper()
	day, err := time.Parse(time.DateOnly, r.Text(t, "t0_date"))
	if err != nil {
		t.Fatalf("column t0_date: %v", err)
	}
	hour := r.Number(t, "t0_tdt_h")
	if hour == 0 && strings.HasPrefix(r.Text(t, "ge_tdt"), "23:") {
		hour = 24 // 2012 May 20: greatest at 23:53:54, T0 printed as 0 h with the date of the eclipse
	}
	return day.Sub(time.Date(2000, 1, 1, 12, 0, 0, 0, time.UTC)).Seconds() + 3600*hour
}

// Elements is the row of elements.csv of a version and the day of an eclipse.
func Elements(t testing.TB, version, date string) Row {
	t.Helper()
	for _, r := range Table(t, "elements.csv") {
		if r.Text(t, "version") == version && r.Text(t, "date") == date {
			return r
		}
	}
	t.Fatalf("no elements %s of %s", version, date)
	return nil
}
