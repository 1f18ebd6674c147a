package logfile

import (
	"encoding/binary"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/iotest"
	"unicode/utf16"

	"github.com/stretchr/testify/require"
)

// widen writes a text as UTF-16 with its mark.
func widen(s string, order binary.AppendByteOrder) string {
	out := order.AppendUint16(nil, 0xfeff)
	for _, u := range utf16.Encode([]rune(s)) {
		out = order.AppendUint16(out, u)
	}
	return string(out)
}

// The same log as UTF-8 and UTF-16: the same records, twice the bytes of ASCII.
func TestUTF16(t *testing.T) {
	narrow := "time,light,temp °C 🌒\r\n2027-08-02 07:00:00,1,24\r2027-08-02 07:00:01,2,24\n\r\nrebooted\r\n2027-08-02 07:00:02,3,24"
	want, _, err := drain(t, strings.NewReader(narrow), Options{})
	require.NoError(t, err)
	for _, order := range []binary.AppendByteOrder{binary.LittleEndian, binary.BigEndian} {
		in := widen(narrow, order)
		for name, src := range map[string]io.Reader{"whole": strings.NewReader(in), "a byte at a time": iotest.OneByteReader(strings.NewReader(in))} {
			got, rep, err := drain(t, src, Options{})
			require.NoError(t, err)
			lawful(t, rep, int64(len(in)))
			if rep.Lines != (Accounts{Records: 3, Headers: 1, Blanks: 1, Problems: 1}) || rep.Layout.Columns[2].Name != "temp °C 🌒" || rep.List[0].Text != "rebooted" {
				t.Errorf("%v %s: %+v %+v", order, name, rep.Lines, rep.Layout)
			}
			for i := range got {
				if got[i].Line != want[i].Line || !got[i].saysTheSame(want[i]) {
					t.Errorf("%v %s: %+v, want %+v", order, name, got[i], want[i])
				}
			}
			if last := got[2]; last.Offset != int64(len(in)-2*len("2027-08-02 07:00:02,3,24")) {
				t.Errorf("%v %s: the last record begins at %d of %d", order, name, last.Offset, len(in))
			}
		}
		for n := range len(in) { // also inside a unit, and between the halves of a pair
			_, rep, err := drain(t, strings.NewReader(in[:n]), Options{})
			lawful(t, rep, int64(n))
			_, rep1, err1 := drain(t, iotest.OneByteReader(strings.NewReader(in[:n])), Options{})
			if fmt.Sprint(rep, err) != fmt.Sprint(rep1, err1) {
				t.Fatalf("cut at %d: %v %v, a byte at a time %v %v", n, rep, err, rep1, err1)
			}
		}
	}
}

func TestWideLineTooLong(t *testing.T) {
	in := widen("time,light\n2027-08-02 07:00:00,1\n"+strings.Repeat("x", 3*lineCap)+"\n2027-08-02 07:00:01,2\n", binary.LittleEndian)
	for name, src := range map[string]io.Reader{"whole": strings.NewReader(in), "half": iotest.HalfReader(strings.NewReader(in)), "a byte at a time": iotest.OneByteReader(strings.NewReader(in))} {
		recs, rep, err := drain(t, src, Options{})
		require.NoError(t, err)
		lawful(t, rep, int64(len(in)))
		if len(recs) != 2 || rep.ByKind[TooLong] != 1 {
			t.Errorf("%s: %d records, %v", name, len(recs), rep.ByKind)
		}
	}
}

func TestWideWithoutMark(t *testing.T) {
	in := widen("time,light\n2027-08-02 07:00:00,1\n2027-08-02 07:00:01,2\n", binary.LittleEndian)[2:]
	_, rep, err := drain(t, strings.NewReader(in), Options{})
	require.ErrorIs(t, err, ErrNotText)
	lawful(t, rep, int64(len(in)))
}
