package logfile

import (
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/iotest"
	"time"
	"unicode"

	"github.com/stretchr/testify/require"
)

// fixtures are all logs of the testdata, by name.
func fixtures(t testing.TB) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	for _, folder := range []string{"torn", "odd"} {
		names, err := filepath.Glob("testdata/" + folder + "/*")
		require.NoError(t, err)
		require.NotEmpty(t, names)
		for _, name := range names {
			b, err := os.ReadFile(name)
			require.NoError(t, err)
			out[name] = b
		}
	}
	return out
}

// FuzzRead holds the law for any bytes: all are accounted for, nothing panics, and
// neither the size of the reads nor the short way makes a difference. What is done
// with the records neither panics nor loses any. The number picks the options.
func FuzzRead(f *testing.F) {
	pick := uint64(0)
	all := fixtures(f)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		b := all[name]
		for range 4 {
			f.Add(pick, b)
			pick = pick*6364136223846793005 + 1442695040888963407 // any numbers will do
		}
		f.Add(uint64(0), b)
	}
	f.Fuzz(func(t *testing.T, pick uint64, in []byte) {
		opt := pickedOptions(pick)
		recs, rep, err := drain(t, bytes.NewReader(in), opt)
		lawful(t, rep, int64(len(in)))
		if int64(len(recs)) != rep.Lines.Records {
			t.Fatalf("%d records came out, %d are counted", len(recs), rep.Lines.Records)
		}
		again, rep1, err1 := drain(t, iotest.OneByteReader(bytes.NewReader(in)), opt)
		if !same(recs, again) || fmt.Sprint(rep, err) != fmt.Sprint(rep1, err1) {
			t.Fatalf("a byte at a time reads otherwise:\n%v %v\n%v %v", rep, err, rep1, err1)
		}
		r := NewReader(bytes.NewReader(in), opt)
		r.slow = true
		careful, rep2, err2 := walk(t, r)
		if !same(recs, careful) || fmt.Sprint(rep, err) != fmt.Sprint(rep2, err2) || fmt.Sprint(rep.Layout) != fmt.Sprint(rep2.Layout) {
			t.Fatalf("the careful way reads otherwise:\n%v %v\n%v %v", rep, err, rep2, err2)
		}
		Events(recs)
		if merged, duplicates := Merge(recs, recs); len(merged) > len(recs) || duplicates < len(recs) {
			t.Fatalf("%d records merged with themselves are %d and %d duplicates", len(recs), len(merged), duplicates)
		}
		segments := Segments(recs)
		if got := ApplyBack(recs, segments); len(got) != len(recs) {
			t.Fatalf("%d records, %d behind the steps", len(recs), len(got))
		}
		n := 0
		for _, w := range average(t, recs, time.Minute) {
			n += w.Records
		}
		if n != len(recs) {
			t.Fatalf("%d of %d records are in a window", n, len(recs))
		}
	})
}

// pickedOptions makes any options of a number: each field is one of a few, some of
// them wrong. The number 0 is the zero value.
func pickedOptions(pick uint64) Options {
	of := func(n int) int {
		i := int(pick % uint64(n))
		pick /= uint64(n)
		return i
	}
	date := time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC)
	return Options{
		Name:        []string{"", "20270802.csv"}[of(2)],
		Zone:        []*time.Location{nil, time.FixedZone("", 7200)}[of(2)],
		Order:       Order(of(int(MDY) + 1)),
		Columns:     [][]Role{nil, nil, {Time, Light}, {Date, Clock, Light}, {Time, Light, Temp}, {Skip, Clock, Lat, Lon, Light}}[of(6)],
		Delimiter:   []byte{0, 0, ',', ';', '\t', '|', ' ', 'x'}[of(8)],
		Decimal:     []byte{0, '.', ',', 'x'}[of(4)],
		Light:       []string{"", "", "2", "light", "99"}[of(5)],
		Date:        []time.Time{{}, date}[of(2)],
		NearDate:    []time.Time{{}, date}[of(2)],
		Starts:      [][]time.Time{nil, {date, {}, date.Add(time.Hour)}}[of(2)],
		Tick:        []time.Duration{0, time.Millisecond, time.Second, -1}[of(4)],
		MaxProblems: []int{0, 3, -1}[of(3)],
	}
}

// No field of Options is forgotten by the fuzzer.
func TestPickedOptionsHaveEveryField(t *testing.T) {
	seen := map[string]bool{}
	for pick := range uint64(200_000) {
		v := reflect.ValueOf(pickedOptions(pick * 7919))
		for i := range v.NumField() {
			if !v.Field(i).IsZero() {
				seen[v.Type().Field(i).Name] = true
			}
		}
	}
	if n := reflect.TypeFor[Options]().NumField(); len(seen) != n {
		t.Errorf("%d of %d fields are picked: %v", len(seen), n, seen)
	}
	if !reflect.DeepEqual(pickedOptions(0), Options{}) {
		t.Error("0 is not the zero value")
	}
}

// drawn hands out the bytes of a fuzzer's input, and zeros behind them.
type drawn []byte

func (d *drawn) number() uint64 {
	var b [8]byte
	*d = (*d)[copy(b[:], *d):]
	return binary.LittleEndian.Uint64(b[:])
}

func (d *drawn) upTo(n int) int { return int(d.number() % uint64(n)) }

// value is what a column may hold, or nothing.
func (d *drawn) value(r Role) float64 {
	v := nan
	switch n := d.number(); n % 4 {
	case 1:
		v = math.Float64frombits(d.number())
	case 2:
		v = float64(int32(n >> 2))
	case 3:
		v = float64(int32(n>>2)) / 1e4
	}
	if math.IsInf(v, 0) || !plausible(r, v) {
		return nan
	}
	return v
}

// record draws any that can be written: stamps of 1900 to 9999 to the nanosecond.
func (d *drawn) record() Record {
	from, to := time.Date(1900, 1, 1, 0, 0, 0, 0, time.UTC).Unix(), time.Date(10000, 1, 1, 0, 0, 0, 0, time.UTC).Unix()
	rec := blank(time.Unix(from+int64(d.number()%uint64(to-from)), 0).UTC())
	switch d.upTo(4) {
	case 1:
		rec.Time = rec.Time.Add(time.Duration(d.upTo(1e9)))
	case 2:
		rec.Time, rec.Leap = rec.Time.Truncate(time.Minute), true
	}
	if rec.Time.Year() < 1901 {
		rec.Leap = false // the second before it is of 1899
	}
	rec.Light, rec.Light2, rec.Temp, rec.Pressure = d.value(Light), d.value(Light2), d.value(Temp), d.value(Pressure)
	rec.Humidity, rec.Lat, rec.Lon = d.value(Humidity), d.value(Lat), d.value(Lon)
	return rec
}

// FuzzWriteRead writes any records with any text beside them: they read back equal,
// written again they are the same bytes, and another reader of RFC 4180 finds the same
// text.
func FuzzWriteRead(f *testing.F) {
	for _, b := range fixtures(f) {
		f.Add(b, string(b[:min(len(b), 40)]), "=1+1")
	}
	for _, text := range []string{"", "'=x", "a,b", `say "no"`, "#1", "// x", "a;b\tc|d", "3,5", "-3,5 mm", "2027-08-02T08:45:00Z", "time,light", "\ufeff+", "１２"} {
		f.Add([]byte(text), text, "remark")
	}
	f.Fuzz(func(t *testing.T, in []byte, note, remark string) {
		plain := func(s string) string { // what a Writer takes
			return strings.Map(func(r rune) rune {
				if unicode.IsControl(r) && r != '\t' {
					return ' '
				}
				return r
			}, strings.ToValidUTF8(s, "?"))
		}
		d := drawn(in)
		var records []Record
		for range 1 + len(in)/64%8 {
			records = append(records, d.record())
		}
		own := []string{plain(note), "3.70", plain(remark)}
		if len(own[0])+len(own[2]) > lineCap/4 {
			t.Skip("rows longer than a reader takes are refused")
		}
		all := func(records []Record) (string, *Writer) {
			return write(t, allFields, WriterOptions{}, func(w *Writer) {
				for _, rec := range records {
					if err := w.Write(rec, own...); err != nil {
						t.Fatalf("%+v %q: %v", rec, own, err)
					}
				}
			})
		}
		first, w := all(records)
		back, rep, err := drain(t, strings.NewReader(first), w.ReadOptions())
		if err != nil || len(back) != len(records) {
			t.Fatalf("%d records of %d came back: %v %v\n%s", len(back), len(records), err, rep.List, first)
		}
		lawful(t, rep, int64(len(first)))
		for i := range records {
			if !sameRecord(records[i], back[i]) {
				t.Fatalf("%+v came back as %+v from\n%s", records[i], back[i], first)
			}
		}
		if again, _ := all(back); again != first {
			t.Fatalf("second time\n%s, first time\n%s", again, first)
		}
		rows, err := csv.NewReader(strings.NewReader(first)).ReadAll()
		if err != nil || len(rows) != len(records)+1 {
			t.Fatalf("%d rows, %v", len(rows), err)
		}
		for _, row := range rows[1:] {
			if got := []string{Unguard(row[0]), row[9], Unguard(row[10])}; !reflect.DeepEqual(got, own) {
				t.Fatalf("%q came back as %q", own, got)
			}
		}
	})
}

// FuzzMetadata reads any document: what is accepted says the same when it is written
// and read again, and is written again byte for byte.
func FuzzMetadata(f *testing.F) {
	sample, err := os.ReadFile(sampleMetadata)
	require.NoError(f, err)
	f.Add(sample)
	const table = `{"@context":"http://www.w3.org/ns/csvw","url":"a.csv",`
	for _, rest := range []string{`"dialect":{"delimiter":";"}}`, `"tableSchema":{"columns":[{"titles":{"de":["Licht"],"en":"light"},"null":["","-"]}]}}`,
		`"tableSchema":{"columns":[{"name":"a.b_%20","titles":["x","y"],"datatype":{"base":"integer","minimum":-5,"maxInclusive":7}}],"primaryKey":["a.b_%20"]}}`,
		`"dc:title":{"de":"x"},"dc:license":{"@id":"http://example.org/"},"notes":[1,null,"<"]}`, `"tableSchema":null}`, `"dc:title":""}`} {
		f.Add([]byte(table + rest))
	}
	f.Fuzz(func(t *testing.T, in []byte) {
		m, err := ReadMetadata(bytes.NewReader(in))
		if err != nil {
			return
		}
		var first, second bytes.Buffer
		if err := m.Write(&first); err != nil {
			t.Fatalf("%+v was read, and not written: %v", m, err)
		}
		back, err := ReadMetadata(bytes.NewReader(first.Bytes()))
		if err != nil {
			t.Fatalf("written, and not read: %v\n%s", err, &first)
		}
		if got, want := meant(t, back), meant(t, m); !reflect.DeepEqual(got, want) {
			t.Fatalf("%+v\ncame back as\n%+v", want, got)
		}
		if err := back.Write(&second); err != nil || !bytes.Equal(first.Bytes(), second.Bytes()) {
			t.Fatalf("second time %v\n%s, first time\n%s", err, &second, &first)
		}
	})
}

// meant is what metadata say, whatever the blanks and escapes in it: the JSON of what
// has no field is taken apart, and what is empty is the same as nothing.
func meant(t *testing.T, m *Metadata) any {
	t.Helper()
	open := func(p Properties) map[string]any {
		out := map[string]any{}
		for k, b := range p {
			out[k] = anything(t, b)
		}
		return out
	}
	parts := []any{m.URL, m.Language, m.Base, m.Title, m.License, fmt.Sprintf("%q", m.PrimaryKey), m.Dialect == nil, open(m.Dialect), open(m.Other), open(m.SchemaMore)}
	for _, c := range m.Columns {
		parts = append(parts, c.Name, fmt.Sprintf("%q", c.Titles), c.Description, c.Required, c.Unit, open(c.Other),
			c.Datatype.Base, c.Datatype.Format, c.Datatype.Minimum, c.Datatype.Maximum, open(c.Datatype.Other))
	}
	return parts
}
