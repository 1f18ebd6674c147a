package logfile

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"github.com/stretchr/testify/require"
)

func drain(t testing.TB, in io.Reader, opt Options) ([]Record, Report, error) {
	t.Helper()
	r := NewReader(in, opt)
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

func at(t *testing.T, s string) time.Time {
	t.Helper()
	v, err := time.Parse(time.RFC3339Nano, s)
	require.NoError(t, err)
	return v
}

// rows of a small log, so that the layout has something to go by.
func body(format string, n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, format, i/60, i%60, 1000+i)
	}
	return b.String()
}

func TestDialects(t *testing.T) {
	madrid, err := time.LoadLocation("Europe/Madrid")
	require.NoError(t, err)
	for _, tt := range []struct {
		name, in string
		opt      Options
		first    string // first record's instant
		light    float64
		records  int64
		headers  int64
		problems map[Kind]int
	}{
		{name: "comma, RFC 3339", in: "time,light,temp\r\n2027-08-02T07:00:00Z,812,24.5\r\n2027-08-02T07:00:01Z,813,24.5\r\n",
			first: "2027-08-02T07:00:00Z", light: 812, records: 2, headers: 1},
		{name: "blank in the stamp", in: "time;lux\n2027-08-02 07:00:00;812\n2027-08-02 07:00:01;813\n",
			first: "2027-08-02T07:00:00Z", light: 812, records: 2, headers: 1},
		{name: "stamp with an offset", in: "time,light\n2027-08-02T09:00:00+02:00,812\n2027-08-02T09:00:01+02:00,813\n",
			first: "2027-08-02T07:00:00Z", light: 812, records: 2, headers: 1},
		{name: "zone of the caller", in: "time,light\n2027-08-02 09:00:00,812\n2027-08-02 09:00:01,813\n", opt: Options{Zone: madrid},
			first: "2027-08-02T07:00:00Z", light: 812, records: 2, headers: 1},
		{name: "offset beats the caller's zone", in: "time,light\n2027-08-02T07:00:00Z,812\n2027-08-02T07:00:01Z,813\n", opt: Options{Zone: madrid},
			first: "2027-08-02T07:00:00Z", light: 812, records: 2, headers: 1},
		{name: "tab, date and time apart", in: "date\ttime\tlight\n2027-08-02\t07:00:00\t812\n2027-08-02\t07:00:01\t813\n",
			first: "2027-08-02T07:00:00Z", light: 812, records: 2, headers: 1},
		{name: "pipe, no header, one number", in: "2027-08-02 07:00:00|812\n2027-08-02 07:00:01|813\n",
			first: "2027-08-02T07:00:00Z", light: 812, records: 2},
		{name: "semicolon, decimal comma", in: "time;light;temp\n2027-08-02 07:00:00;812,5;24,5\n2027-08-02 07:00:01;813,5;24,5\n",
			first: "2027-08-02T07:00:00Z", light: 812.5, records: 2, headers: 1},
		{name: "quotes and doubled quotes", in: "\"time\",\"light, \"\"raw\"\"\"\n\"2027-08-02 07:00:00\",\"812\"\n\"2027-08-02 07:00:01\",\"813\"\n",
			first: "2027-08-02T07:00:00Z", light: 812, records: 2, headers: 1},
		{name: "decimal comma in quotes", in: "time;light\n2027-08-02 07:00:00;\"812,5\"\n2027-08-02 07:00:01;\"813,5\"\n",
			first: "2027-08-02T07:00:00Z", light: 812.5, records: 2, headers: 1},
		{name: "byte order mark, CR alone", in: "\xef\xbb\xbftime,light\r2027-08-02 07:00:00,812\r2027-08-02 07:00:01,813\r",
			first: "2027-08-02T07:00:00Z", light: 812, records: 2, headers: 1},
		{name: "day first, shown by a 13th", in: "time,light\n02/08/2027 07:00:00,812\n13/08/2027 07:00:01,813\n",
			first: "2027-08-02T07:00:00Z", light: 812, records: 2, headers: 1},
		{name: "month first, PM", in: "time,light\n8/2/2027 1:00:00 PM,812\n8/13/2027 1:00:01 PM,813\n",
			first: "2027-08-02T13:00:00Z", light: 812, records: 2, headers: 1},
		{name: "order given", in: "time,light\n02.08.27 07:00,812\n02.08.27 07:01,813\n", opt: Options{Order: DMY},
			first: "2027-08-02T07:00:00Z", light: 812, records: 2, headers: 1},
		{name: "epoch seconds", in: "epoch,light\n1817190000,812\n1817190001,813\n",
			first: "2027-08-02T07:00:00Z", light: 812, records: 2, headers: 1},
		{name: "epoch milliseconds, no header", in: "1817190000500,812\n1817190001500,805\n",
			first: "2027-08-02T07:00:00.5Z", light: 812, records: 2},
		{name: "fractions", in: "time,light\n2027-08-02T07:00:00.25Z,812\n2027-08-02T07:00:01.25Z,813\n",
			first: "2027-08-02T07:00:00.25Z", light: 812, records: 2, headers: 1},
		{name: "time of day, date in the name", in: "07:00:00,812\n07:00:01,813\n", opt: Options{Name: "log_20270802.csv"},
			first: "2027-08-02T07:00:00Z", light: 812, records: 2},
		{name: "columns given", in: "812,24.5,2027-08-02 07:00:00\n813,24.5,2027-08-02 07:00:01\n", opt: Options{Columns: []Role{Light, Temp, Time}},
			first: "2027-08-02T07:00:00Z", light: 812, records: 2},
		{name: "light by number", in: "time,a,b\n2027-08-02 07:00:00,1,812\n2027-08-02 07:00:01,1,813\n", opt: Options{Light: "3"},
			first: "2027-08-02T07:00:00Z", light: 812, records: 2, headers: 1},
		{name: "light by name", in: "time,a,b\n2027-08-02 07:00:00,1,812\n2027-08-02 07:00:01,1,813\n", opt: Options{Light: "b"},
			first: "2027-08-02T07:00:00Z", light: 812, records: 2, headers: 1},
		{name: "runs of blanks", in: "iso date time sum\n400 2027-08-02 07:00:00 812\n400 2027-08-02 07:00:59 813\n", opt: Options{Light: "sum"},
			first: "2027-08-02T07:00:00Z", light: 812, records: 2, headers: 1},
		{name: "accidents", in: "time,light,temp\n2027-08-02 07:00:00,812,24\n2027-08-02 07:0\n2027-08-02 07:00:02,814,24\n" +
			"time,light,temp\n2027-08-02 07:00:03,815,242027-08-02 07:00:04,816,24\n45/25/2165 45:85:85,817,24\n\x00\x00\x002027-08-02 07:00:05,818,24\n" +
			"2027-08-02 07:00:06,nan,24\n# stopped\n\n2027-08-02 07:00:07,\"819,24\nrebooted\n",
			first: "2027-08-02T07:00:00Z", light: 812, records: 4, headers: 2,
			problems: map[Kind]int{TornLine: 1, RunTogether: 1, BadStamp: 1, OpenQuote: 1, NotARecord: 1}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			recs, rep, err := drain(t, strings.NewReader(tt.in), tt.opt)
			require.NoError(t, err)
			if rep.Lines.Records != tt.records || int64(len(recs)) != tt.records || rep.Lines.Headers != tt.headers {
				t.Fatalf("%d records, %d headers, want %d and %d (%+v)", rep.Lines.Records, rep.Lines.Headers, tt.records, tt.headers, rep)
			}
			if !recs[0].Time.Equal(at(t, tt.first)) || recs[0].Light != tt.light {
				t.Errorf("first record %v %g, want %s %g", recs[0].Time, recs[0].Light, tt.first, tt.light)
			}
			for k, n := range tt.problems {
				if rep.ByKind[k] != n {
					t.Errorf("%d of %v, want %d: %v", rep.ByKind[k], k, n, rep.List)
				}
			}
			if len(tt.problems) == 0 && rep.Lines.Problems != 0 {
				t.Errorf("problems: %v", rep.List)
			}
			if rep.Bytes.Sum() != int64(len(tt.in)) {
				t.Errorf("%d of %d bytes accounted for", rep.Bytes.Sum(), len(tt.in))
			}
			if len(rep.Layout.Reasons) == 0 {
				t.Error("no reasons")
			}
		})
	}
}

func TestRefusedLayouts(t *testing.T) {
	for _, tt := range []struct {
		name, in string
		opt      Options
		decides  string
	}{
		{"day or month", "time,light\n02/08/2027 07:00:00,812\n03/08/2027 07:00:01,813\n", Options{}, "order"},
		{"which is light", "time,a,b\n2027-08-02 07:00:00,1,812\n2027-08-02 07:00:01,2,813\n", Options{}, "light"},
		{"no such column", "time,light\n2027-08-02 07:00:00,812\n2027-08-02 07:00:01,813\n", Options{Light: "colour"}, "light"},
		{"one column", "812\n813\n814\n", Options{}, "columns"},
		{"no time", "a,b\n1,2\n3,4\n", Options{}, "columns"},
		{"no date", "07:00:00,812\n07:00:01,813\n", Options{}, "date"},
		{"columns do not fit", "2027-08-02 07:00:00,812\n2027-08-02 07:00:01,813\n", Options{Columns: []Role{Time, Light, Temp}}, "columns"},
	} {
		_, rep, err := drain(t, strings.NewReader(tt.in), tt.opt)
		var e *LayoutError
		if !errors.As(err, &e) || e.Decides != tt.decides {
			t.Errorf("%s: %v, want a LayoutError that %q decides", tt.name, err, tt.decides)
		}
		if rep.Bytes.Sum() != int64(len(tt.in)) {
			t.Errorf("%s: %d of %d bytes accounted for", tt.name, rep.Bytes.Sum(), len(tt.in))
		}
	}
	if _, _, err := drain(t, strings.NewReader(""), Options{}); !errors.Is(err, ErrEmpty) {
		t.Errorf("empty: %v", err)
	}
	picture := append([]byte("\x89PNG\r\n\x1a\n"), bytes.Repeat([]byte{0, 1, 2, 10, 200}, 500)...)
	if _, rep, err := drain(t, bytes.NewReader(picture), Options{}); !errors.Is(err, ErrNotText) || rep.Bytes.Sum() != int64(len(picture)) {
		t.Errorf("picture: %v, %d of %d bytes", err, rep.Bytes.Sum(), len(picture))
	}
}

func TestStamps(t *testing.T) {
	for _, tt := range []struct {
		in    string
		order Order
		want  string // empty: refused
	}{
		{"2027-08-02T07:00:00Z", Auto, "2027-08-02T07:00:00Z"},
		{"2027-08-02t07:00:00z", Auto, "2027-08-02T07:00:00Z"},
		{"2027-08-02T07:00:00+05:30", Auto, "2027-08-02T01:30:00Z"},
		{"2027-08-02T07:00:00-0800", Auto, "2027-08-02T15:00:00Z"},
		{"2027-08-02 07:00", Auto, "2027-08-02T07:00:00Z"},
		{"2027/8/2 7:0:5", Auto, "2027-08-02T07:00:05Z"},
		{"2027.8.2 7:00:05.1234567891", Auto, "2027-08-02T07:00:05.123456789Z"},
		{"02/08/2027 07:00:00", DMY, "2027-08-02T07:00:00Z"},
		{"02/08/2027 07:00:00", MDY, "2027-02-08T07:00:00Z"},
		{"2/8/27 12:00 AM", DMY, "2027-08-02T00:00:00Z"},
		{"2/8/27 12:00:30 pm", DMY, "2027-08-02T12:00:30Z"},
		{"2016-12-31T23:59:60Z", Auto, "2017-01-01T00:00:00Z"},
		{"2028-02-29 00:00:00", Auto, "2028-02-29T00:00:00Z"},
		{"2027-02-29 00:00:00", Auto, ""},
		{"45/25/2165 45:85:85", DMY, ""},
		{"2027-08-02 24:00:00", Auto, ""},
		{"2027-08-02 07:60:00", Auto, ""},
		{"2027-13-02 07:00:00", Auto, ""},
		{"2027-08-02 07:00:00 noon", Auto, ""},
		{"13:00 PM", Auto, ""},
		{"2027-08-02T07:00:00+19:00", Auto, ""},
		{"", Auto, ""}, {"-", Auto, ""}, {"::", Auto, ""}, {"1", Auto, ""},
	} {
		s, ok := parseStamp([]byte(tt.in), tt.order)
		if tt.want == "" {
			if ok && s.valid() {
				t.Errorf("%q was read as %+v", tt.in, s)
			}
			continue
		}
		got := time.Unix(s.midnight()+s.clock()-int64(s.zone), int64(s.nano)).UTC()
		if !ok || !got.Equal(at(t, tt.want)) {
			t.Errorf("%q: %v %v, want %s", tt.in, got, ok, tt.want)
		}
	}
}

// The days since 1970 by the standard library, over four centuries.
func TestUnixOfStamp(t *testing.T) {
	for d := time.Date(1900, 1, 1, 1, 2, 3, 0, time.UTC); d.Year() < 2300; d = d.AddDate(0, 0, 17) {
		s, ok := parseStamp([]byte(d.Format("2006-01-02 15:04:05")), Auto)
		if !ok || s.midnight()+s.clock() != d.Unix() {
			t.Fatalf("%v: %d, want %d", d, s.midnight()+s.clock(), d.Unix())
		}
	}
}

func TestNumbersAgainstStandardLibrary(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 20000 {
		v := (rng.Float64() - 0.5) * math.Pow(10, float64(rng.IntN(12)-4))
		text := strconv.FormatFloat(v, "feg"[rng.IntN(3)], rng.IntN(17), 64)
		want, err := strconv.ParseFloat(text, 64)
		require.NoError(t, err)
		if got, ok := parseNumber([]byte(text), '.'); !ok || got != want {
			t.Fatalf("%s: %v %v, want %v", text, got, ok, want)
		}
	}
	for _, bad := range []string{"", "-", ".", "nan", "NaN", "inf", "-Inf", "0x10", "1_000", "1.2.3", "12a", "1e400", "--1"} {
		if v, ok := parseNumber([]byte(bad), '.'); ok {
			t.Errorf("%q was read as %g", bad, v)
		}
	}
}

const small = "lat,lon,time,light,temp\r\n36.0,-5.6,2027-08-02T07:00:00Z,812,24.5\r\n36.0,-5.6,2027-08-02T07:00:01Z,813,24.5\r\n\r\n" +
	"lat,lon,time,light,temp\r\n36.0,-5.6,2027-08-02T07:00:02Z,\"814\",24.5\r\n# note\r\n36.0,-5.6,2027-08-02T07:00:03Z,nan,24.5\r\n36.00000,-5.6"

func TestAccountingOfACutLog(t *testing.T) {
	for n := range len(small) + 1 {
		in := small[:n]
		whole, rep, err := drain(t, strings.NewReader(in), Options{})
		if rep.Bytes.Sum() != int64(n) {
			t.Fatalf("cut at %d: %d bytes accounted for (%v)", n, rep.Bytes.Sum(), err)
		}
		bytewise, rep1, err1 := drain(t, iotest.OneByteReader(strings.NewReader(in)), Options{})
		if fmt.Sprint(whole, rep.Lines, err) != fmt.Sprint(bytewise, rep1.Lines, err1) {
			t.Fatalf("cut at %d: a byte at a time reads otherwise:\n%v %v\n%v %v", n, whole, err, bytewise, err1)
		}
	}
	_, rep, err := drain(t, strings.NewReader(small), Options{})
	require.NoError(t, err)
	want := Accounts{Records: 4, Headers: 2, Comments: 1, Blanks: 1, Problems: 1}
	if rep.Lines != want || rep.ByKind[TornLine] != 1 || rep.Unreadable != 1 {
		t.Errorf("%+v, want %+v", rep, want)
	}
}

func TestSectorsOfZeros(t *testing.T) {
	in := []byte("time,light\n" + body("2027-08-02 07:%02d:%02d,%d\n", 600))
	for _, at := range []int{512, 4096, 8192} {
		b := bytes.Clone(in)
		clear(b[at : at+512])
		recs, rep, err := drain(t, bytes.NewReader(b), Options{})
		require.NoError(t, err)
		if rep.Bytes.Sum() != int64(len(b)) || rep.Lines.Problems != 1 || len(recs) < 570 {
			t.Errorf("zeros at %d: %v, %d records", at, rep.ByKind, len(recs))
		}
	}
}

func TestFailingSource(t *testing.T) {
	broken := errors.New("the card is gone")
	in := io.MultiReader(strings.NewReader(small), iotest.ErrReader(broken))
	recs, rep, err := drain(t, in, Options{})
	if !errors.Is(err, broken) || len(recs) != 4 || rep.Bytes.Sum() != int64(len(small)) {
		t.Errorf("%v, %d records, %d bytes", err, len(recs), rep.Bytes.Sum())
	}
	if _, _, err := drain(t, iotest.DataErrReader(strings.NewReader(small)), Options{}); err != nil {
		t.Errorf("data with the error: %v", err)
	}
	if _, _, err := drain(t, iotest.ErrReader(broken), Options{}); !errors.Is(err, broken) {
		t.Errorf("no data: %v", err)
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

func TestLineOfAHundredMegabytes(t *testing.T) {
	const n = 100 << 20
	in := io.MultiReader(strings.NewReader("time,light\n"+body("2027-08-02 07:%02d:%02d,%d\n", 100)), &endless{n}, strings.NewReader("\n2027-08-02 08:00:00,5\n"))
	recs, rep, err := drain(t, in, Options{})
	require.NoError(t, err)
	if len(recs) != 101 || rep.ByKind[TooLong] != 1 || rep.Bytes.Problems != n+1 {
		t.Errorf("%d records, %v, %d bytes of problems", len(recs), rep.ByKind, rep.Bytes.Problems)
	}
	if len(rep.List[0].Text) > 120 {
		t.Errorf("the problem keeps %d bytes", len(rep.List[0].Text))
	}
}

// Each record comes out as soon as its line ends.
func TestLiveStream(t *testing.T) {
	in, out := io.Pipe()
	go func() {
		fmt.Fprint(out, "time,light\n"+body("2027-08-02 07:%02d:%02d,%d\n", sampleLines))
		for i := range 3 {
			fmt.Fprintf(out, "2027-08-02 08:00:%02d,%d\n", i, i)
		}
		// and then the line stays open
	}()
	n := 0
	for rec, err := range NewReader(in, Options{}).Records() {
		require.NoError(t, err)
		n++
		if rec.Time.Hour() == 8 && rec.Light == 2 {
			break
		}
	}
	if n != sampleLines+3 {
		t.Errorf("%d records", n)
	}
}

func TestMidnight(t *testing.T) {
	recs, _, err := drain(t, strings.NewReader("23:59:58,1\n23:59:59,2\n00:00:00,3\n00:00:01,4\n"), Options{Date: time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC)})
	require.NoError(t, err)
	if got := recs[3].Time.Sub(recs[0].Time); got != 3*time.Second {
		t.Errorf("four seconds over midnight last %v", got)
	}
}

func TestLeapSecond(t *testing.T) {
	recs, _, err := drain(t, strings.NewReader("time,light\n2016-12-31T23:59:59Z,1\n2016-12-31T23:59:60Z,2\n2017-01-01T00:00:00Z,3\n"), Options{})
	require.NoError(t, err)
	if !recs[1].Leap || recs[0].Leap || !recs[1].Time.Equal(recs[2].Time) {
		t.Errorf("%+v", recs)
	}
}

func TestEvents(t *testing.T) {
	var w Watch
	var got []string
	second := 0
	see := func(step int) {
		second += step
		if e, ok := w.See(Record{Line: second, Time: time.Unix(int64(second), 0)}); ok {
			got = append(got, fmt.Sprintf("%v %g", e.Kind, e.Seconds))
		}
	}
	for _, step := range []int{0, 1, 1, 1, 1, 1, 1, 1, 0, 1, 90, 1, 1, -30, 1, 1, 90000, 1} {
		see(step)
	}
	if want := "[duplicate 0 gap 90 step back -30 step forward 90000]"; fmt.Sprint(got) != want {
		t.Errorf("%v, want %v", got, want)
	}
	w, got = Watch{}, nil
	for range 50 {
		see(-15)
	}
	if len(got) != 0 {
		t.Errorf("newest first: %v", got)
	}
}

// Measured logs, where they are at hand; they are not part of the project.
func TestMeasuredLogs(t *testing.T) {
	const folder = "../../shared/data/eclipse"
	if _, err := os.Stat(folder); err != nil {
		t.Skip("no measured logs beside the project")
	}
	day := time.Date(2024, 4, 8, 0, 0, 0, 0, time.UTC)
	chicago, err := time.LoadLocation("America/Chicago")
	require.NoError(t, err)
	for _, tt := range []struct {
		name    string
		opt     Options
		records int64
		light   string
	}{
		{"2024-04-08_conway_lux_uv_30s.csv", Options{Zone: chicago, Date: day}, 454, "Run 2: Illumination (lux)"},
		{"2024-04-08_indiana_total_clean_counts_16s.csv", Options{}, 3148, "clear"},
		{"2024-04-08_michigan_newest_first_counts_16s.csv", Options{}, 3144, "clear"},
		{"control_2024-06-25_lyngby_clear_irradiance_1min.csv", Options{}, 1440, "GHI"},
		{"2017-08-21_medellin_lux_5s.csv", Options{Date: day}, 1140, ""},
		{"2019-07-02_chile_camera_sum_45s.txt", Options{Light: "W_sum"}, 81, "W_sum"},
	} {
		f, err := os.Open(filepath.Join(folder, tt.name))
		require.NoError(t, err)
		defer f.Close()
		info, err := f.Stat()
		require.NoError(t, err)
		_, rep, err := drain(t, f, tt.opt)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		i := rep.Layout.has(Light)
		if rep.Lines.Records != tt.records || rep.Lines.Problems != 0 || i < 0 || rep.Layout.Columns[i].Name != tt.light {
			t.Errorf("%s: %+v, layout %+v", tt.name, rep.Lines, rep.Layout)
		}
		if rep.Bytes.Sum() != info.Size() {
			t.Errorf("%s: %d of %d bytes", tt.name, rep.Bytes.Sum(), info.Size())
		}
	}
}

// Whatever the loggers of the measured folder wrote: no panic, and every byte.
func TestAnyMeasuredLogIsAccountedFor(t *testing.T) {
	names, err := filepath.Glob("../../shared/data/loggers/*")
	require.NoError(t, err)
	if len(names) == 0 {
		t.Skip("no measured logs beside the project")
	}
	for _, name := range names {
		b, err := os.ReadFile(name)
		require.NoError(t, err)
		_, rep, err := drain(t, bytes.NewReader(b), Options{})
		if rep.Bytes.Sum() != int64(len(b)) {
			t.Errorf("%s: %d of %d bytes (%v)", filepath.Base(name), rep.Bytes.Sum(), len(b), err)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(small))
	f.Add([]byte("time;light\n02.08.2027 07:00;8,5\r13.08.2027 07:00;9,5\x00\x00\r\n\"open;1\n"))
	f.Add([]byte("1817190000,1\n1817190001,2\n\xff\xfe\x00"))
	f.Fuzz(func(t *testing.T, in []byte) {
		recs, rep, err := drain(t, bytes.NewReader(in), Options{Name: "20270802.csv", Order: DMY})
		if rep.Bytes.Sum() != int64(len(in)) {
			t.Fatalf("accounted for %d of %d bytes", rep.Bytes.Sum(), len(in))
		}
		n := 0
		for _, k := range rep.ByKind {
			n += k
		}
		if int64(n) != rep.Lines.Problems || int64(len(recs)) != rep.Lines.Records {
			t.Fatalf("%d problems by kind, %d lines; %d records, %d lines", n, rep.Lines.Problems, len(recs), rep.Lines.Records)
		}
		again, rep1, err1 := drain(t, iotest.OneByteReader(bytes.NewReader(in)), Options{Name: "20270802.csv", Order: DMY})
		if fmt.Sprint(recs, rep.Lines, rep.Bytes, err) != fmt.Sprint(again, rep1.Lines, rep1.Bytes, err1) {
			t.Fatal("a byte at a time reads otherwise")
		}
	})
}

func day(rows int) []byte {
	var b bytes.Buffer
	b.WriteString("lat,lon,time,light,temp\r\n")
	at := time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC)
	for i := range rows {
		fmt.Fprintf(&b, "36.00000,-5.60000,%s,%d,%.2f\r\n", at.Add(time.Duration(i)*time.Second).Format(time.RFC3339), 100+i%3900, 20+float64(i%700)/100)
	}
	return b.Bytes()
}

// plainLoop is what one would write without this package, ns a row.
func plainLoop(b *testing.B, in []byte, rows int) float64 {
	best := math.Inf(1)
	for range 3 {
		start := time.Now()
		r := csv.NewReader(bytes.NewReader(in))
		r.ReuseRecord = true
		for {
			row, err := r.Read()
			if err == io.EOF {
				break
			}
			require.NoError(b, err)
			if row[2] == "time" {
				continue
			}
			_, err = time.Parse(time.RFC3339, row[2])
			require.NoError(b, err)
			for _, i := range []int{0, 1, 3, 4} {
				_, err = strconv.ParseFloat(row[i], 64)
				require.NoError(b, err)
			}
		}
		best = math.Min(best, float64(time.Since(start)))
	}
	return best / float64(rows)
}

func benchmarkRead(b *testing.B, in, clean []byte, rows int) {
	plain := plainLoop(b, clean, rows)
	b.ReportAllocs()
	for b.Loop() {
		r := NewReader(bytes.NewReader(in), Options{})
		for _, err := range r.Records() {
			if err != nil {
				b.Fatal(err)
			}
		}
	}
	ours := float64(b.Elapsed()) / float64(b.N) / float64(rows)
	b.ReportMetric(ours, "ns/row")
	b.ReportMetric(plain/ours, "x-stdlib")
}

func BenchmarkReadDay(b *testing.B) {
	in := day(86400)
	benchmarkRead(b, in, in, 86400)
}

func BenchmarkReadDamaged(b *testing.B) {
	clean := day(86400)
	lines := bytes.SplitAfter(clean, []byte("\n"))
	rng := rand.New(rand.NewPCG(1, 2))
	var damaged []byte
	for i, l := range lines {
		if i > 100 && len(l) > 10 && rng.Float64() < 0.02 {
			l = l[:5+rng.IntN(len(l)-6)]
		}
		damaged = append(damaged, l...)
	}
	benchmarkRead(b, damaged, clean, 86400)
}
