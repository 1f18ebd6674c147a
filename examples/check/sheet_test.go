package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"io"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func rowsOf(r io.Reader) (rows []row, err error) {
	s, err := newSheet("claims.csv", r, nil)
	if err != nil {
		return nil, err
	}
	for {
		w, err := s.row()
		if errors.Is(err, io.EOF) {
			return rows, nil
		}
		if err != nil {
			return rows, err
		}
		rows = append(rows, w)
	}
}

const plain = "date,lat_deg,lon_deg,quantity,value,note"

// Whatever a standard writer writes is read back, by every kind of source.
func TestWhatAWriterWritesIsRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.StringOf(rapid.SampledFrom([]rune("a1 ,\"\n;é'"))).Filter(func(s string) bool {
			return strings.Count(s, ",") < 5 && strings.Count(s, "\n") < quotationLines/6 // it may not look like a row
		})
		want := rapid.SliceOfN(rapid.SliceOfN(cell, 6, 6), 1, 8).Draw(t, "rows")
		var b bytes.Buffer
		b.WriteString(plain + "\n")
		w := csv.NewWriter(&b)
		w.UseCRLF = rapid.Bool().Draw(t, "crlf")
		for _, r := range want {
			r[0] = "x" + r[0] // a row of nothing is no claim
			_ = w.Write(r)
		}
		w.Flush()
		got, err := rowsOf(iotest.HalfReader(&b))
		if err != nil {
			t.Fatalf("%v", err)
		}
		if !slices.EqualFunc(got, want, func(g row, w []string) bool { return g.fault == "" && slices.Equal(g.cells, w) }) {
			t.Fatalf("read %+v", got)
		}
	})
}

func TestLinesAreCounted(t *testing.T) {
	rows, err := rowsOf(strings.NewReader("\ufeff" + plain + "\r\n\r\n  \r\n1,2,3,4,5,\"a\r\nb\"\r\n1,2,3,4,5,\"open\n1,2,3,4,5,6\n,,,,,"))
	require.NoError(t, err)
	require.Len(t, rows, 4)
	for i, want := range []struct {
		line  int
		fault bool
		last  string
	}{{4, false, "a\nb"}, {6, true, "open"}, {7, false, "6"}, {8, false, ""}} {
		r := rows[i]
		if r.line != want.line || (r.fault != "") != want.fault || r.cells[5] != want.last {
			t.Errorf("row %d: %+v, want line %d, fault %t, last cell %q", i, r, want.line, want.fault, want.last)
		}
	}
}

// A quote that was never closed, or never opened, spoils its own line and no other.
func TestStrayQuotes(t *testing.T) {
	const good = "1,2,3,4,5,6"
	for _, bad := range [][]string{
		{`1,2,3,4,5,"x`, good, `1,2,3,4,5,y"`, good},
		{`1,2,3,4,5,"x`, `1,2,3,4,5,y"`, good},
		{`"1,2,3,4,5,x`, good, `"1,2,3,4,5,y`, good},
		{`"1,2,3,4,5,x`, `z,z"`, good},
		{`1,2,3,4,5,"x`, good},
	} {
		rows, err := rowsOf(strings.NewReader(plain + "\n" + strings.Join(bad, "\n")))
		require.NoError(t, err)
		require.Len(t, rows, len(bad), "%q", bad)
		for i, r := range rows {
			if (r.fault == "") != (bad[i] == good) {
				t.Errorf("%q: fault %q", bad[i], r.fault)
			}
		}
	}
}

// A source that breaks ends the run with the file's name and what was read till then.
func TestASourceThatBreaks(t *testing.T) {
	rows, err := rowsOf(io.MultiReader(strings.NewReader(plain+"\n1,2,3,4,5,6\n"), iotest.ErrReader(io.ErrUnexpectedEOF)))
	if len(rows) != 1 || !errors.Is(err, io.ErrUnexpectedEOF) || !strings.Contains(err.Error(), "claims.csv") {
		t.Errorf("%d rows, error %v", len(rows), err)
	}
}

// Columns that mean nothing here come out as they went in, and never in place of
// the answer's own.
func TestOtherColumnsPassThrough(t *testing.T) {
	var got map[string]any
	answer := jsonOf(t, "VALUE, Quantity ,lon_deg,lat_deg,date,note,verdict,,note,unit\n"+
		"0.7,magnitude,10.75,59.91667,1999-08-11,\"a, \"\"b\"\"\",mine,x,again,m\n")
	require.NoError(t, json.Unmarshal([]byte(answer), &got))
	for key, want := range map[string]string{"note": `a, "b"`, "note_2": "again", "claims_verdict": "mine", "column_8": "x", "claims_unit": "m", "unit": "1"} {
		if got[key] != want {
			t.Errorf("%s is %v, want %s", key, got[key], want)
		}
	}
	if got["verdict"] != "agrees" && got["verdict"] != "differs" {
		t.Errorf("verdict %v", got["verdict"])
	}
}

func jsonOf(t *testing.T, content string) string {
	t.Helper()
	path := t.TempDir() + "/claims.csv"
	require.NoError(t, os.WriteFile(path, []byte(content), 0o666))
	return check(t, "-json", "-claims", path)
}

// However a file is damaged, each of its lines is read, and the sheet does not panic.
func FuzzSheet(f *testing.F) {
	f.Add("1,2,3,4,5,\"a\nb\"\n1,2,3")
	f.Add("\"\"\"\n\"\n\r\n,,,,,\n\x00\xff\"")
	f.Fuzz(func(t *testing.T, body string) {
		rows, err := rowsOf(strings.NewReader(plain + "\n" + body))
		require.NoError(t, err)
		filled := 0 // lines that are not blank
		for l := range strings.Lines(body) {
			if strings.TrimSpace(l) != "" {
				filled++
			}
		}
		last, joined := 1, 0
		for _, r := range rows {
			if r.line <= last {
				t.Fatalf("line %d after line %d", r.line, last)
			}
			last = r.line
			for _, c := range r.cells {
				joined += strings.Count(c, "\n")
			}
		}
		if len(rows) > filled || len(rows)+joined < filled {
			t.Fatalf("%d rows that hold %d line ends, of %d lines", len(rows), joined, filled)
		}
	})
}
