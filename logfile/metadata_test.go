package logfile

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"os"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

const sampleMetadata = "../testdata/references/csvw_example.csv-metadata.json"

// anything is a JSON document as plain maps, to be compared whatever the order of
// its members.
func anything(t *testing.T, b []byte) (v any) {
	t.Helper()
	require.NoError(t, json.Unmarshal(b, &v))
	return v
}

// The sample, made after the W3C rules, loses and gains nothing.
func TestSampleMetadataComeBack(t *testing.T) {
	sample, err := os.ReadFile(sampleMetadata)
	require.NoError(t, err)
	m, err := ReadMetadata(bytes.NewReader(sample))
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, m.Write(&out))
	if got, want := anything(t, out.Bytes()), anything(t, sample); !reflect.DeepEqual(got, want) {
		t.Errorf("got\n%v, want\n%v", got, want)
	}
	// And the fields hold what the document says, read off it by hand.
	c := m.Columns[1]
	if m.URL != "csvw_example.csv" || m.Language != "en" || m.Title != "Example log" || len(m.Columns) != 7 || !m.Columns[0].Required ||
		m.Columns[0].Datatype.Format != "yyyy-MM-ddTHH:mm:ss.SSSX" || c.Unit != "lx" || c.Datatype.Base != "decimal" || c.Datatype.Minimum != "0" ||
		!reflect.DeepEqual(m.PrimaryKey, []string{"time"}) || m.License != "https://creativecommons.org/licenses/by/4.0/" || len(m.Other) != 0 {
		t.Errorf("%+v", m)
	}
	file, err := os.ReadFile("../testdata/references/csvw_example.csv")
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(file)).ReadAll()
	require.NoError(t, err)
	require.NoError(t, m.CheckHeader(rows[0]))
	rows[0][2] = "temp"
	if err := m.CheckHeader(rows[0]); !errors.Is(err, ErrMetadata) {
		t.Errorf("another heading: %v", err)
	}
	if err := m.CheckHeader(rows[0][:6]); !errors.Is(err, ErrMetadata) {
		t.Errorf("a heading less: %v", err)
	}
}

// What a Writer says of the sample file agrees with the sample's metadata where
// both speak: names, titles, units, stamps.
func TestWriterDescribesTheSampleFile(t *testing.T) {
	f, err := os.Open(sampleMetadata)
	require.NoError(t, err)
	defer f.Close()
	want, err := ReadMetadata(f)
	require.NoError(t, err)
	_, w := write(t, sampleFields, WriterOptions{Fraction: 3}, func(w *Writer) {
		require.NoError(t, w.Write(blank(time.Date(2026, 8, 12, 18, 27, 5, 250e6, time.UTC)), "", ""))
	})
	got := w.Metadata("csvw_example.csv")
	require.NoError(t, got.Check())
	for i, c := range got.Columns {
		o := want.Columns[i]
		if c.Name != o.Name || !reflect.DeepEqual(c.Titles, o.Titles) || c.Unit != o.Unit || c.Required != o.Required {
			t.Errorf("%+v, want %+v", c, o)
		}
	}
	if got.Columns[0].Datatype.Format != want.Columns[0].Datatype.Format || got.URL != want.URL {
		t.Errorf("%+v", got)
	}
}

func TestWrittenMetadata(t *testing.T) {
	at := time.Date(2027, 8, 2, 8, 45, 0, 0, time.UTC)
	fields := []Field{{"Time (UTC)", Time, ""}, {"Licht, außen", Light, "klx"}, {"note", Skip, ""}, {"_a", Skip, "{count}"}}
	for name, tt := range map[string]struct {
		nano   int
		leap   bool
		base   string
		format string
	}{
		"whole seconds": {0, false, "dateTime", "yyyy-MM-ddTHH:mm:ssX"},
		"fractions":     {120e6, false, "dateTime", "yyyy-MM-ddTHH:mm:ss.SSX"},
		"a leap second": {0, true, "string", `\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?Z`},
	} {
		text, w := write(t, fields, WriterOptions{}, func(w *Writer) {
			rec := blank(at.Add(time.Duration(tt.nano)))
			rec.Leap = tt.leap
			require.NoError(t, w.Write(rec, "", ""))
		})
		m := w.Metadata("log.csv")
		var out bytes.Buffer
		require.NoError(t, m.Write(&out))
		back, err := ReadMetadata(&out)
		require.NoError(t, err)
		if d := back.Columns[0].Datatype; d.Base != tt.base || d.Format != tt.format {
			t.Errorf("%s: %+v", name, d)
		}
		head, err := csv.NewReader(strings.NewReader(text)).Read()
		require.NoError(t, err)
		require.NoError(t, back.CheckHeader(head))
		// RFC 6570: what is no letter or digit is %XX of its UTF-8.
		if n := back.Columns[1].Name; n != "Licht%2C%20au%C3%9Fen" || back.Columns[3].Name != "%5Fa" || back.Columns[0].Name != "Time%20%28UTC%29" {
			t.Errorf("%s: names %q", name, n)
		}
	}
}

func TestMetadataThatBreakRules(t *testing.T) {
	const table = `{"@context":"http://www.w3.org/ns/csvw","url":"a.csv",`
	column := func(s string) string { return table + `"tableSchema":{"columns":[` + s + `]}}` }
	for _, tt := range []struct{ rule, text, property string }{
		{"the context must be there", `{"url":"a.csv"}`, "@context"},
		{"and be that of the standard", `{"@context":"http://example.org/","url":"a.csv"}`, "@context"},
		{"an array of it and @base or @language", `{"@context":["http://www.w3.org/ns/csvw",{"en":"x"}],"url":"a.csv"}`, "@context"},
		{"a table needs a url", `{"@context":"http://www.w3.org/ns/csvw"}`, "url"},
		{"one table per file", `{"@context":"http://www.w3.org/ns/csvw","tables":[]}`, "tables"},
		{"properties are known or prefixed", table + `"title":"x"}`, "title"},
		{"with a known prefix", table + `"zz:title":"x"}`, "zz:title"},
		{"names begin with no _", column(`{"name":"_a"}`), "tableSchema.columns[0].name"},
		{"names have no blanks", column(`{"name":"a b"}`), "tableSchema.columns[0].name"},
		{"dots only inside", column(`{"name":"a."}`), "tableSchema.columns[0].name"},
		{"names are unique", column(`{"name":"a"},{"name":"a"}`), "tableSchema.columns[1].name"},
		{"a column has a name or titles", column(`{"required":true}`), "tableSchema.columns[0].name"},
		{"datatypes are built in", column(`{"name":"a","datatype":"real"}`), "tableSchema.columns[0].datatype"},
		{"no month names in formats", column(`{"name":"a","datatype":{"base":"dateTime","format":"dd MMM yyyy"}}`), "tableSchema.columns[0].datatype.format"},
		{"text has no minimum", column(`{"name":"a","datatype":{"base":"string","minimum":"0"}}`), "tableSchema.columns[0].datatype"},
		{"units are UCUM", column(`{"name":"a","schema:unitText":"lux"}`), "tableSchema.columns[0].schema:unitText"},
		{"required is true or false", column(`{"name":"a","required":"yes"}`), "tableSchema.columns[].required"},
		{"a primary key names columns", table + `"tableSchema":{"columns":[{"name":"a"}],"primaryKey":["a","b"]}}`, "tableSchema.primaryKey"},
		{"a dialect has its own properties", table + `"dialect":{"separator":";"}}`, "dialect.separator"},
	} {
		_, err := ReadMetadata(strings.NewReader(tt.text))
		if !errors.Is(err, ErrMetadata) || !strings.Contains(err.Error(), tt.property+": ") {
			t.Errorf("%s: %v", tt.rule, err)
		}
	}
	for _, text := range []string{"", "{", "[]", "null", `"x"`, table} {
		if _, err := ReadMetadata(strings.NewReader(text)); err == nil {
			t.Errorf("%q was read", text)
		}
	}
	for _, text := range []string{ // what the rules let pass comes back whole
		column(`{"titles":{"de":["Licht","Helligkeit"],"en":"light"},"null":["","-"]}`),
		column(`{"name":"a.b_%20","titles":["x","y"],"datatype":{"base":"integer","minimum":"-5","maxInclusive":7,"dc:title":"n"}}`),
		`{"@context":["http://www.w3.org/ns/csvw",{"@base":"http://example.org/"}],"url":"a.csv","@type":"Table","dc:title":{"de":"x"},"http://example.org/p":[1]}`,
	} {
		m, err := ReadMetadata(strings.NewReader(text))
		require.NoError(t, err)
		b, err := json.Marshal(m)
		require.NoError(t, err)
		if !reflect.DeepEqual(anything(t, b), anything(t, []byte(text))) {
			t.Errorf("%s came back as %s", text, b)
		}
	}
	m, err := ReadMetadata(strings.NewReader(column(`{"titles":{"de":["Licht"],"en":"light"}}`)))
	require.NoError(t, err)
	require.NoError(t, m.CheckHeader([]string{"Licht"}))
	if err := (&Metadata{}).Write(&bytes.Buffer{}); !errors.Is(err, ErrMetadata) {
		t.Errorf("empty metadata were written: %v", err)
	}
}

// The codes of the UCUM essence 2.2 that loggers meet, and what people write instead.
func TestUnitCodes(t *testing.T) {
	for _, code := range strings.Fields("lx klx lm Cel K V mV Ohm kOhm A uA % [ppm] Pa hPa bar mbar deg m km s ms min h d W/m2 1 umol.m-2.s-1 {count} m/s s-1 /min lm/m2 [degF]") {
		if !validUnit(code) {
			t.Errorf("%s is a code", code)
		}
	}
	for _, code := range []string{"", "lux", "Lx", "°C", "degC", "HPA", "ohm", "percent", "counts", "{", "{}", "{a", "m..s", "m/", "k", "W//m2", "m s", "{a b}", "k%", "2"} {
		if validUnit(code) {
			t.Errorf("%q is no code", code)
		}
	}
}
