package logfile

import (
	"bytes"
	"encoding/csv"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var nan = math.NaN()

// blank is a record without numbers.
func blank(t time.Time) Record {
	return Record{Time: t, Light: nan, Light2: nan, Temp: nan, Pressure: nan, Humidity: nan, Lat: nan, Lon: nan}
}

var allFields = []Field{{"note", Skip, ""}, {"time", Time, ""}, {"illuminance", Light, "lx"}, {"second light", Light2, "{count}"}, {"temperature", Temp, "Cel"},
	{"pressure", Pressure, "hPa"}, {"humidity", Humidity, "%"}, {"latitude", Lat, "deg"}, {"longitude", Lon, "deg"}, {"battery", Skip, "V"}, {"remark", Skip, ""}}

func write(t *testing.T, fields []Field, opt WriterOptions, fill func(w *Writer)) (string, *Writer) {
	t.Helper()
	var b bytes.Buffer
	w, err := NewWriter(&b, fields, opt)
	require.NoError(t, err)
	fill(w)
	require.NoError(t, w.Flush())
	return b.String(), w
}

func sameNumber(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }

func sameRecord(a, b Record) bool {
	for r := range roleCount {
		if !sameNumber(a.number(r), b.number(r)) {
			return false
		}
	}
	return a.Time.Equal(b.Time) && a.Leap == b.Leap
}

// drawNumber draws what a column may hold, or nothing.
func drawNumber(r Role) *rapid.Generator[float64] {
	return rapid.Custom(func(t *rapid.T) float64 {
		v := nan
		switch rapid.IntRange(0, 3).Draw(t, "kind") {
		case 0:
			v = rapid.Float64().Draw(t, "any")
		case 1:
			v = float64(rapid.IntRange(-100000, 100000).Draw(t, "counts"))
		case 2:
			v = float64(rapid.IntRange(-9000, 9000).Draw(t, "hundredths")) / 100
		}
		if math.IsInf(v, 0) || !plausible(r, v) {
			return nan
		}
		return v
	})
}

// Written, read by this package's Reader and written again: the records are the
// same and so are the bytes.
func TestWriteReadWrite(t *testing.T) {
	texts := rapid.OneOf(rapid.SampledFrom([]string{"", "=1+1", "-5", "'=x", "a,b", `say "no"`, " # ", "#1", "// x", "a;b\tc|d", "nan", "Licht ü", ",0", "0,", "3,5", "-3,5 mm"}),
		rapid.StringMatching(`[0-9;,. |T:Zm%"/#\t-]{0,14}`),
		rapid.StringMatching(`[ -~äß=+@'-]{0,12}`), rapid.SampledFrom([]string{"5 m", "2027-08-02T08:45:00Z", "2.8.2027", "1;2;3", "25 %", "time", "light", "a;b;c;d;e;f;g;h;i;j;k", "1|2|3", "time,light", "-1,-2"}))
	rapid.Check(t, func(rt *rapid.T) {
		var in []Record
		var notes [][]string
		for range rapid.IntRange(1, 12).Draw(rt, "rows") {
			at := time.Unix(rapid.Int64Range(-2_000_000_000, 4_000_000_000).Draw(rt, "second"), 0)
			leap := rapid.IntRange(0, 9).Draw(rt, "leap") == 0
			if leap {
				at = at.Truncate(time.Minute)
			}
			rec := blank(at.Add(time.Duration(rapid.SampledFrom([]int64{0, 250e6, 1, 123456789, 999999999}).Draw(rt, "nano"))))
			rec.Leap = leap
			rec.Light, rec.Light2, rec.Temp = drawNumber(Light).Draw(rt, "light"), drawNumber(Light2).Draw(rt, "light2"), drawNumber(Temp).Draw(rt, "temp")
			rec.Pressure, rec.Humidity = drawNumber(Pressure).Draw(rt, "pressure"), drawNumber(Humidity).Draw(rt, "humidity")
			rec.Lat, rec.Lon = drawNumber(Lat).Draw(rt, "lat"), drawNumber(Lon).Draw(rt, "lon")
			in = append(in, rec)
			notes = append(notes, []string{texts.Draw(rt, "note"), rapid.SampledFrom([]string{"", "3.70", "-0.5"}).Draw(rt, "battery"), texts.Draw(rt, "remark")})
		}
		all := func(records []Record) (string, *Writer) {
			return write(t, allFields, WriterOptions{}, func(w *Writer) {
				for i, rec := range records {
					if err := w.Write(rec, notes[i]...); err != nil {
						rt.Fatalf("%+v %q: %v", rec, notes[i], err)
					}
				}
			})
		}
		first, w := all(in)
		rd := NewReader(strings.NewReader(first), w.ReadOptions())
		var out []Record
		for rec, err := range rd.Records() {
			if err != nil {
				rt.Fatalf("%v in\n%s", err, first)
			}
			out = append(out, rec)
		}
		if len(out) != len(in) {
			rt.Fatalf("%d records of %d came back: %v\n%s", len(out), len(in), rd.Report().List, first)
		}
		for i := range in {
			if !sameRecord(in[i], out[i]) {
				rt.Fatalf("%+v came back as %+v from\n%s", in[i], out[i], first)
			}
		}
		if again, _ := all(out); again != first {
			rt.Fatalf("second time\n%s, first time\n%s", again, first)
		}
		rows, err := csv.NewReader(strings.NewReader(first)).ReadAll() // a second reader of RFC 4180
		if err != nil {
			rt.Fatal(err)
		}
		for i, row := range rows[1:] {
			if got := []string{Unguard(row[0]), row[9], Unguard(row[10])}; got[0] != notes[i][0] || got[1] != notes[i][1] || got[2] != notes[i][2] {
				rt.Fatalf("%q came back as %q", notes[i], got)
			}
		}
	})
}

// The file that is shown with the metadata sample, stamps with three digits and an
// empty cell, read and written again, is the same byte for byte.
func TestSampleFileComesBack(t *testing.T) {
	sample, err := os.ReadFile("../testdata/references/csvw_example.csv")
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(sample)).ReadAll()
	require.NoError(t, err)
	got, _ := write(t, sampleFields, WriterOptions{Fraction: 3}, func(w *Writer) {
		i := 0
		for rec, err := range NewReader(bytes.NewReader(sample), w.ReadOptions()).Records() {
			require.NoError(t, err)
			i++
			require.NoError(t, w.Write(rec, rows[i][5], rows[i][6]))
		}
		require.Equal(t, 2, i)
	})
	if got != string(sample) {
		t.Errorf("got\n%q, want\n%q", got, sample)
	}
}

var sampleFields = []Field{{"time", Time, ""}, {"illuminance", Light, "lx"}, {"temperature", Temp, "Cel"}, {"humidity", Humidity, "%"},
	{"pressure", Pressure, "hPa"}, {"voltage", Skip, "V"}, {"resistance", Skip, "Ohm"}}

func TestWriterWritesOnlyWhatIsNeeded(t *testing.T) {
	at := time.Date(2027, 8, 2, 10, 45, 0, 500e6, time.FixedZone("", 7200))
	fields := []Field{{"time", Time, ""}, {"light", Light, "lx"}, {"temp", Temp, "Cel"}, {"note", Skip, ""}}
	got, w := write(t, fields, WriterOptions{}, func(w *Writer) {
		rec := blank(at)
		rec.Light, rec.Temp = 51200, -3.5
		require.NoError(t, w.Write(rec, "thin cloud"))
		rec = blank(time.Date(2017, 1, 1, 0, 0, 0, 0, time.UTC))
		rec.Leap = true
		require.NoError(t, w.Write(rec, `=a "b", c`))
		rec = blank(time.Date(2017, 1, 1, 0, 0, 1, 0, time.UTC))
		for _, note := range []string{"a;b", "a\tb", "a|b", " a"} { // where others cut or trim
			require.NoError(t, w.Write(rec, note))
		}
	})
	want := "time,light,temp,note\r\n2027-08-02T08:45:00.5Z,51200,-3.5,thin cloud\r\n2016-12-31T23:59:60Z,,,\"'=a \"\"b\"\", c\"\r\n"
	for _, note := range []string{"a;b", "a\tb", "a|b", " a"} {
		want += "2017-01-01T00:00:01Z,,,\"" + note + "\"\r\n"
	}
	if got != want || w.rows != 6 {
		t.Errorf("%d rows\n%q, want\n%q", w.rows, got, want)
	}
	if got, _ := write(t, fields, WriterOptions{}, func(*Writer) {}); got != "time,light,temp,note\r\n" {
		t.Errorf("no records: %q", got)
	}
}

// A plain file is read without being told how.
func TestWrittenFileIsInferred(t *testing.T) {
	fields := []Field{{"time", Time, ""}, {"illuminance", Light, "lx"}, {"temperature", Temp, "Cel"}, {"latitude", Lat, "deg"}, {"longitude", Lon, "deg"}}
	text, _ := write(t, fields, WriterOptions{}, func(w *Writer) {
		for i := range 5 {
			rec := blank(time.Date(2027, 8, 2, 8, 45, i, 0, time.UTC))
			rec.Light, rec.Temp, rec.Lat, rec.Lon = 51200.5-float64(i), -3.5, 43.36, -8.41
			require.NoError(t, w.Write(rec))
		}
	})
	n := 0
	for rec, err := range NewReader(strings.NewReader(text), Options{}).Records() {
		require.NoError(t, err)
		if rec.Light != 51200.5-float64(n) || rec.Temp != -3.5 || rec.Lat != 43.36 || rec.Lon != -8.41 {
			t.Errorf("row %d: %+v", n, rec)
		}
		n++
	}
	if n != 5 {
		t.Errorf("%d records", n)
	}
}

func TestWriterRoundsPlaces(t *testing.T) {
	fields := []Field{{"time", Time, ""}, {"lat", Lat, "deg"}, {"lon", Lon, "deg"}}
	got, w := write(t, fields, WriterOptions{Grid: Grid{Step: 0.1, SecondsPerKm: 1.2}}, func(w *Writer) {
		rec := blank(time.Date(2027, 8, 2, 8, 45, 0, 0, time.UTC))
		rec.Lat, rec.Lon = 43.3623, -8.4115
		require.NoError(t, w.Write(rec))
	})
	if want := "time,lat,lon\r\n2027-08-02T08:45:00Z,43.4,-8.4\r\n"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	// Half of 0.1 degrees at 43.35: 5.55 km north, 4.05 km east (spherical Earth of
	// 6371 km, by hand), 6.87 km together; the ellipsoid may move that by 0.5 %.
	c := w.PlaceCost()
	if !(math.Abs(c.Metres-6870) <= 40 && math.Abs(c.Seconds-c.Metres/1000*1.2) <= 1e-9) {
		t.Errorf("%+v", c)
	}
	_, none := write(t, fields, WriterOptions{Grid: Grid{Step: 0.1}}, func(w *Writer) { require.NoError(t, w.Write(blank(time.Unix(0, 0)))) })
	if none.PlaceCost().Metres != 0 {
		t.Errorf("no place costs %v", none.PlaceCost())
	}
	_, half := write(t, fields, WriterOptions{Grid: Grid{Step: 0.1}}, func(w *Writer) {
		rec := blank(time.Unix(0, 0))
		rec.Lon = 12.34
		require.NoError(t, w.Write(rec))
	})
	if got := half.PlaceCost().Metres; !(got >= 0.05*111320) { // a degree at the equator, m
		t.Errorf("a longitude alone costs %v m", got)
	}
	if d := w.Metadata("log.csv").Columns[1].Description; !strings.Contains(d, "0.1 degrees") || !strings.Contains(d, c.String()) {
		t.Errorf("the metadata say %q", d)
	}
}
