package logfile

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/require"
)

// split by hand: what the lines are, with the bytes each took.
func TestLines(t *testing.T) {
	for in, want := range map[string]string{
		"":               "",
		"a":              "a/1",
		"a\nb\r\nc\rd":   "a/2 b/3 c/2 d/1",
		"\r\n\n\r\r\n":   "/2 /1 /1 /2",
		"a\r":            "a/2",
		"a\r\n":          "a/3",
		"\n\r":           "/1 /1",
		"a\x00b\n\x00\n": "a\x00b/4 \x00/2",
	} {
		for name, src := range map[string]io.Reader{"whole": strings.NewReader(in), "a byte at a time": iotest.OneByteReader(strings.NewReader(in))} {
			var texts []string
			var sizes []int64
			l := newLines(src)
			for {
				x, ok := l.next()
				if x.carry > 0 {
					sizes[len(sizes)-1] += x.carry
				}
				if !ok {
					break
				}
				texts, sizes = append(texts, string(x.text)), append(sizes, x.bytes)
			}
			var got []string
			for i := range texts {
				got = append(got, fmt.Sprintf("%s/%d", texts[i], sizes[i]))
			}
			if strings.Join(got, " ") != want {
				t.Errorf("%q %s: %q, want %q", in, name, got, want)
			}
		}
	}
}

// A line is too long by its length alone, not by how it was read.
func TestCapOfALine(t *testing.T) {
	for _, n := range []int{lineCap - 1, lineCap, lineCap + 1, 2 * lineCap, 2*lineCap + 1, 5 * lineCap} {
		in := "time,light\n2027-08-02 07:00:00,5\n" + strings.Repeat("7", n) + "\r\n2027-08-02 07:00:01,6\n"
		for name, src := range map[string]io.Reader{"whole": strings.NewReader(in), "half": iotest.HalfReader(strings.NewReader(in)), "a byte at a time": iotest.OneByteReader(strings.NewReader(in))} {
			recs, rep, err := drain(t, src, Options{})
			require.NoError(t, err)
			lawful(t, rep, int64(len(in)))
			if (rep.ByKind[TooLong] == 1) != (n > lineCap) || rep.Lines.Problems != 1 || len(recs) != 2 || len(rep.List[0].Text) != textCap {
				t.Errorf("%d bytes, %s: %v, %d records", n, name, rep.ByKind, len(recs))
			}
		}
	}
}

// endless yields n bytes without an end of line.
type endless struct{ n int64 }

func (e *endless) Read(p []byte) (int, error) {
	if e.n == 0 {
		return 0, io.EOF
	}
	n := min(int64(len(p)), e.n)
	for i := range p[:n] {
		p[i] = '7'
	}
	e.n -= n
	return int(n), nil
}

func TestLineOfAGigabyte(t *testing.T) {
	if testing.Short() {
		t.Skip("takes a second")
	}
	const n = 1 << 30
	rows := "time,light\n" + body("2027-08-02 07:%02d:%02d,%d\n", 100)
	in := io.MultiReader(strings.NewReader(rows), &endless{n}, strings.NewReader("\n2027-08-02 08:00:00,5\n"))
	recs, rep, err := drain(t, in, Options{})
	require.NoError(t, err)
	lawful(t, rep, n+int64(len(rows))+1+22)
	if len(recs) != 101 || rep.ByKind[TooLong] != 1 || rep.Bytes.Problems != n+1 {
		t.Errorf("%d records, %v, %d bytes of problems", len(recs), rep.ByKind, rep.Bytes.Problems)
	}
}

// Endless blanks, remarks, words or zeros before the first record are not kept.
func TestNothingIsHoarded(t *testing.T) {
	for _, unit := range []string{"\n", "# remark\n", "words\n", "\x00\x00\n", "1\n"} {
		const n = 2_000_000
		allocated := testing.AllocsPerRun(1, func() {
			r := NewReader(&repeated{unit, n, 0}, Options{})
			_, rep, err := walk(t, r)
			if err == nil || rep.Lines.Sum() != n {
				t.Errorf("%q: %v, %d lines", unit, err, rep.Lines.Sum())
			}
			if len(r.held) > 2000 || r.heldBytes > 2*sampleBytes {
				t.Errorf("%q: %d lines held", unit, len(r.held))
			}
		})
		if allocated > 50_000 {
			t.Errorf("%q: %g allocations", unit, allocated)
		}
	}
}

// repeated is a text n times over.
type repeated struct {
	unit  string
	n, at int
}

func (r *repeated) Read(p []byte) (n int, err error) {
	for n < len(p) {
		if r.n == 0 {
			return n, io.EOF
		}
		k := copy(p[n:], r.unit[r.at:])
		n += k
		if r.at += k; r.at == len(r.unit) {
			r.at = 0
			r.n--
		}
	}
	return n, nil
}

// Eight bytes at a time and one by one find the same line, and the same odd bytes in
// it, wherever they stand.
func TestControlBytes(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 20000 {
		b := make([]byte, rng.IntN(40))
		for i := range b {
			if b[i] = byte(32 + rng.IntN(224)); rng.IntN(3) == 0 {
				b[i] = ' ' // may be marked behind a control byte
			}
			if rng.IntN(30) == 0 {
				b[i] = byte(rng.IntN(32))
			}
		}
		l := newLines(bytes.NewReader(append([]byte("ab"), b...)))
		got, _ := l.next()
		want, _, _ := bytes.Cut(append([]byte("ab"), b...), []byte("\n"))
		want, _, _ = bytes.Cut(want, []byte("\r"))
		if string(got.text) != string(want) || got.odd != !isText(want) {
			t.Fatalf("%q: %q, odd %v", b, got.text, got.odd)
		}
	}
}
