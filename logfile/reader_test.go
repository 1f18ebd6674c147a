package logfile

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"github.com/stretchr/testify/require"
)

// walk reads to the end, and fails if the walk goes on after an error.
func walk(t testing.TB, r *Reader) ([]Record, Report, error) {
	t.Helper()
	var out []Record
	var last error
	for rec, err := range r.Records() {
		if last != nil {
			t.Fatal("the walk went on after an error")
		}
		if err != nil {
			last = err
			continue
		}
		out = append(out, rec)
	}
	return out, r.Report(), last
}

func drain(t testing.TB, in io.Reader, opt Options) ([]Record, Report, error) {
	t.Helper()
	return walk(t, NewReader(in, opt))
}

func at(t testing.TB, s string) time.Time {
	t.Helper()
	v, err := time.Parse(time.RFC3339Nano, s)
	require.NoError(t, err)
	return v
}

// body makes rows of a small log from a format with minute, second and a number.
func body(format string, n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, format, i/60, i%60, 1000+i)
	}
	return b.String()
}

// lawful checks what holds for every report: bytes and lines add up, and the
// problems by kind are the problems.
func lawful(t testing.TB, rep Report, size int64) {
	t.Helper()
	if rep.Bytes.Sum() != size {
		t.Fatalf("%d of %d bytes accounted for: %+v", rep.Bytes.Sum(), size, rep.Bytes)
	}
	n := 0
	for _, k := range rep.ByKind {
		n += k
	}
	if int64(n) != rep.Lines.Problems || len(rep.List) > n {
		t.Fatalf("%d problems by kind, %d in the list, %d lines", n, len(rep.List), rep.Lines.Problems)
	}
}

// small has one of everything. (Invented, as all data in these tests.)
const small = "lat,lon,time,light,temp\r\n36.0,-5.6,2027-08-02T07:00:00Z,812,24.5\r\n36.0,-5.6,2027-08-02T07:00:01Z,813,24.5\r\n\r\n" +
	"lat,lon,time,light,temp\r\n36.0,-5.6,2027-08-02T07:00:02Z,\"814\",24.5\r\n# note\r\n36.0,-5.6,2027-08-02T07:00:03Z,nan,24.5\r\n36.00000,-5.6"

func TestSmallLog(t *testing.T) {
	recs, rep, err := drain(t, strings.NewReader(small), Options{Name: "small.csv"})
	require.NoError(t, err)
	lawful(t, rep, int64(len(small)))
	if want := (Accounts{Records: 4, Headers: 2, Comments: 1, Blanks: 1, Problems: 1}); rep.Lines != want {
		t.Errorf("%+v, want %+v", rep.Lines, want)
	}
	if rep.ByKind[TornLine] != 1 || rep.Missing[Light] != 1 || rep.Order != Ascending {
		t.Errorf("%+v", rep)
	}
	if want := (Accounts{Records: 41*4 + 2, Headers: 50, Comments: 8, Blanks: 2, Problems: 13}); rep.Bytes != want {
		t.Errorf("bytes %+v, want %+v", rep.Bytes, want)
	}
	third := recs[2]
	if third.Line != 6 || third.Offset != int64(strings.Index(small, "36.0,-5.6,2027-08-02T07:00:02Z")) || third.Light != 814 ||
		third.Lat != 36 || third.Lon != -5.6 || third.Temp != 24.5 || third.Pressure == third.Pressure {
		t.Errorf("third record %+v", third)
	}
	p := rep.List[0]
	if p.Line != 9 || p.Offset != int64(strings.LastIndex(small, "36.0")) || !errors.Is(&p, TornLine) {
		t.Errorf("the problem is %+v", p)
	}
}

// Wherever the power fails: every byte is accounted for, no record is invented,
// and reading a byte at a time makes no difference.
func TestCutAtEveryByte(t *testing.T) {
	full, _, err := drain(t, strings.NewReader(small), Options{})
	require.NoError(t, err)
	for n := range len(small) + 1 {
		in := small[:n]
		whole, rep, err := drain(t, strings.NewReader(in), Options{})
		lawful(t, rep, int64(n))
		for i, r := range whole {
			if !r.Time.Equal(full[i].Time) || r.Line != full[i].Line {
				t.Fatalf("cut at %d: record %d is %+v, in the whole file %+v", n, i, r, full[i])
			}
		}
		if err != nil && !errors.Is(err, ErrEmpty) && !errors.Is(err, ErrNoLayout) {
			t.Fatalf("cut at %d: %v", n, err)
		}
		bytewise, rep1, err1 := drain(t, iotest.OneByteReader(strings.NewReader(in)), Options{})
		if fmt.Sprint(whole, rep, err) != fmt.Sprint(bytewise, rep1, err1) {
			t.Fatalf("cut at %d: a byte at a time reads otherwise:\n%v %v\n%v %v", n, whole, err, bytewise, err1)
		}
	}
}

// The last line was being written when the power failed: a number with fewer
// decimals than all before is no number to be trusted, nor a stamp without its end.
func TestLastLineCutShort(t *testing.T) {
	for _, tt := range []struct {
		in      string
		records int64
		torn    int
	}{
		{"time,temp,light\n2027-08-02T07:00:00Z,24,81.25\n2027-08-02T07:00:01Z,24,81.5", 1, 1},
		{"time,temp,light\n2027-08-02T07:00:00Z,24,81.25\n2027-08-02T07:00:01Z,24,81.50", 2, 0},
		{"time,temp,light\n2027-08-02T07:00:00Z,24,81.25\n2027-08-02T07:00:01Z,24,", 1, 1},
		{"time,temp,light\n2027-08-02T07:00:00Z,24,81.25\n2027-08-02T07:00:01Z,24,81.5\n2027-08-02T07:00:01Z,24,81.5", 3, 0},
		{"time,temp,light\n2027-08-02T07:00:00Z,24,812\n2027-08-02T07:00:01Z,24,81", 2, 0}, // nothing shows it
		{"light,time\n812,2027-08-02T07:00:00Z\n812,2027-08-02T07:00:01Z\n812,2027-08-02T07:00:02Z\n813,2027-08-02T07:00:03", 3, 1},
		{"light,time\n812,2027-08-02T07:00:00Z\n812,2027-08-02T07:00:01Z\n812,2027-08-02T07:00:02Z\n813,2027-08-02T07:00:03Z", 4, 0},
	} {
		_, rep, err := drain(t, strings.NewReader(tt.in), Options{})
		require.NoError(t, err)
		lawful(t, rep, int64(len(tt.in)))
		if rep.Lines.Records != tt.records || int(rep.Lines.Problems) != tt.torn {
			t.Errorf("%q: %+v %v", tt.in, rep.Lines, rep.ByKind)
		}
	}
}

func TestSources(t *testing.T) {
	want, wantRep, err := drain(t, strings.NewReader(small), Options{})
	require.NoError(t, err)
	for name, in := range map[string]io.Reader{
		"one byte": iotest.OneByteReader(strings.NewReader(small)), "half": iotest.HalfReader(strings.NewReader(small)),
		"data with its error": iotest.DataErrReader(strings.NewReader(small)),
	} {
		got, rep, err := drain(t, in, Options{})
		if err != nil || fmt.Sprint(got, rep) != fmt.Sprint(want, wantRep) {
			t.Errorf("%s: %v\n%v\n%v", name, err, rep, wantRep)
		}
	}
	broken := errors.New("the card is gone")
	recs, rep, err := drain(t, io.MultiReader(strings.NewReader(small), iotest.ErrReader(broken)), Options{})
	if !errors.Is(err, broken) || len(recs) != 4 {
		t.Errorf("%v after %d records", err, len(recs))
	}
	lawful(t, rep, int64(len(small)))
	if _, _, err := drain(t, iotest.ErrReader(broken), Options{}); !errors.Is(err, broken) {
		t.Errorf("no data: %v", err)
	}
	late := iotest.TimeoutReader(iotest.OneByteReader(strings.NewReader(small)))
	if _, rep, err := drain(t, late, Options{}); !errors.Is(err, iotest.ErrTimeout) || rep.Bytes.Sum() != 1 {
		t.Errorf("timeout: %v after %d bytes", err, rep.Bytes.Sum())
	}
	idle := func(p []byte) (int, error) { return 0, nil }
	if _, _, err := drain(t, readFunc(idle), Options{}); !errors.Is(err, io.ErrNoProgress) {
		t.Errorf("a source that never gives anything: %v", err)
	}
}

type readFunc func([]byte) (int, error)

func (f readFunc) Read(p []byte) (int, error) { return f(p) }

func TestRecordsIsSingleUse(t *testing.T) {
	r := NewReader(strings.NewReader(small), Options{})
	for range r.Records() {
		break
	}
	for rec := range r.Records() {
		t.Errorf("a second walk yields %+v", rec)
	}
}

func TestProblemsAreCappedNotTheirCounts(t *testing.T) {
	in := "time,light\n" + strings.Repeat("2027-08-02T07:00:00Z,1\n2027-08-02\n", 2000)
	for most, want := range map[int]int{0: 1000, 7: 7, -1: 0, 5000: 2000} {
		_, rep, err := drain(t, strings.NewReader(in), Options{MaxProblems: most})
		require.NoError(t, err)
		if rep.ByKind[TornLine] != 2000 || len(rep.List) != want {
			t.Errorf("MaxProblems %d: %d counted, %d in the list, want 2000 and %d", most, rep.ByKind[TornLine], len(rep.List), want)
		}
	}
}

func TestReportIsACopy(t *testing.T) {
	r := NewReader(strings.NewReader(small), Options{})
	_, rep, err := walk(t, r)
	require.NoError(t, err)
	rep.ByKind[TornLine] = 99
	rep.List[0].Line = 99
	rep.Layout.Columns[0].Name = "changed"
	again := r.Report()
	if again.ByKind[TornLine] != 1 || again.List[0].Line != 9 || again.Layout.Columns[0].Name != "lat" {
		t.Error("a change to a report reaches the reader")
	}
}

// Each record comes out as soon as its line ends, once the layout is known: with
// a header after three rows, with columns given at once.
func TestLiveStream(t *testing.T) {
	const rows = "2027-08-02 07:00:00,812\n2027-08-02 07:00:01,813\n2027-08-02 07:00:02,814\n2027-08-02 07:00:03,815\n"
	for _, tt := range []struct {
		name, in string
		opt      Options
		want     int // records out, with the stream still open
	}{
		{"columns given", rows[:24], Options{Columns: []Role{Time, Light}}, 1},
		{"header", "time,light\n" + rows[:72], Options{}, 3},
		{"CR alone", strings.ReplaceAll("time,light\n"+rows, "\n", "\r"), Options{}, 4},
		{"CRLF", strings.ReplaceAll("time,light\n"+rows, "\n", "\r\n"), Options{}, 4},
		{"neither", body("2027-08-02 07:%02d:%02d,%d\n", bareRows), Options{}, bareRows},
	} {
		t.Run(tt.name, func(t *testing.T) {
			in, out := io.Pipe()
			go func() { io.WriteString(out, tt.in) }() // and the stream stays open
			got := make(chan Record)
			go func() {
				for rec := range NewReader(in, tt.opt).Records() {
					got <- rec
				}
			}()
			for n := range tt.want {
				select {
				case <-got:
				case <-time.After(5 * time.Second):
					t.Fatalf("%d records came, want %d", n, tt.want)
				}
			}
			in.CloseWithError(io.EOF)
		})
	}
}

func TestEmptyAndBinaryFiles(t *testing.T) {
	picture := "\x89PNG\r\n\x1a\n" + strings.Repeat("\x00\x01\x02\n\xc8", 500)
	for _, tt := range []struct {
		name, in string
		want     error
		lines    Accounts
	}{
		{"nothing", "", ErrEmpty, Accounts{}},
		{"mark only", "\xef\xbb\xbf", ErrEmpty, Accounts{Blanks: 1}},
		{"blanks", "\r\n \r\n\n", ErrEmpty, Accounts{Blanks: 3}},
		{"remarks", "# made up\n", ErrEmpty, Accounts{Comments: 1}},
		{"header only", "time,light\n", ErrEmpty, Accounts{Headers: 1}},
		{"header and a torn line", "lat,lon,time,light\n36.0", ErrEmpty, Accounts{Headers: 1, Problems: 1}},
		{"picture", picture, ErrNotText, Accounts{Problems: 503}},
		{"zeros", strings.Repeat("\x00", 9000), ErrNotText, Accounts{Problems: 1}},
		{"zeros, more than a line may have", strings.Repeat("\x00", 2*lineCap), ErrNotText, Accounts{Problems: 1}},
		{"prose", "It was a clear morning\nand we saw it all.\n", ErrNoLayout, Accounts{Problems: 2}},
	} {
		recs, rep, err := drain(t, strings.NewReader(tt.in), Options{})
		lawful(t, rep, int64(len(tt.in)))
		if !errors.Is(err, tt.want) || len(recs) > 0 || rep.Lines != tt.lines {
			t.Errorf("%s: %v, %d records, %+v; want %v, %+v", tt.name, err, len(recs), rep.Lines, tt.want, tt.lines)
		}
	}
}
