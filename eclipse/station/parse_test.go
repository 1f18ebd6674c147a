package station

import (
	"encoding/json"
	"errors"
	"os"
	"reflect"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"
)

// whole is a station with every kind of key, one to a line.
const whole = `{
  "version": 1,
  "code": "YARD-07",
  "site": {
    "lat_deg": 36,
    "lon_deg": -5.6,
    "height_m": 10
  },
  "eclipse": "2027-08-02",
  "zone": "+02:00",
  "chain": {
    "adc": {"bits": 12, "ratiometric": true},
    "divider": {
      "wiring": "cell-on-top", "supply_v": 3.3, "load_ohm": 220,
      "cell": {"r10_ohm": 12000, "gamma": 0.65}
    }
  },
  "files": [
    "logs/20270802.csv"
  ],
  "control": ["logs/20270803.csv"],
  "thermometer": {"tau_s": 60},
  "layout": {"order": "dmy"},
  "clock_set": "hand",
  "clock_notes": [
    {"stamp": "2027-08-02T08:31:42", "utc": "2027-08-02T06:31:00Z", "u_s": 0.5}
  ],
  "remarks": "invented data"
}
`

func wholeFolder(text string) fstest.MapFS {
	return fstest.MapFS{"station.json": {Data: []byte(text)}, "logs/20270802.csv": {}, "logs/20270803.csv": {}}
}

// Each thing that can be wrong is named with file, line, key and what to do.
func TestReadFileNamesWhatIsWrong(t *testing.T) {
	if _, err := ReadFile(wholeFolder(whole), "station.json"); err != nil {
		t.Fatalf("the whole one: %v", err)
	}
	for _, tt := range []struct{ name, old, new, want string }{
		{"unknown key", `"lat_deg"`, `"latitude_deg"`, `station.json:5: site.latitude_deg: there is no such key; there are height_m, lat_deg, lon_deg`},
		{"near miss", `"clock_set"`, `"clock_sett"`, `station.json:24: clock_sett: there is no such key; is "clock_set" meant?`},
		{"an older name", `"control"`, `"control_files"`, `station.json:21: control_files: there is no such key; is "control" meant?`},
		{"capital", `"zone"`, `"Zone"`, `station.json:10: Zone: there is no such key; is "zone" meant?`},
		{"deep", `"gamma"`, `"gama"`, `station.json:15: chain.divider.cell.gama: there is no such key; is "gamma" meant?`},
		{"in a list", `"u_s"`, `"u"`, `station.json:26: clock_notes[0].u: there is no such key; is "u_s" meant?`},
		{"twice", `"remarks"`, `"code": "B", "remarks"`, `station.json:28: code: it stands in line 3 already`},
		{"comma", `"YARD-07",`, `"YARD-07"`, `station.json:4: this is no JSON`},
		{"broken off", `"remarks": "invented data"` + "\n}\n", `"remarks": "inv`, `station.json:28: this is no JSON: unexpected end`},
		{"behind the end", "\n}\n", "\n}\n{}", `this is no JSON`},
		{"no version", `"version": 1,`, ``, `version: it is missing: write "version": 1`},
		{"another version", `"version": 1`, `"version": 2`, `station.json:2: version: it is 2, this library reads 1`},
		{"version in words", `"version": 1`, `"version": "one"`, `station.json:2: version: found a string, want a whole number`},
		{"kind", `"lat_deg": 36`, `"lat_deg": "36 N"`, `station.json:5: site.lat_deg: found a string, want a number`},
		{"no longitude", `"lon_deg": -5.6,`, ``, `station.json:4: site.lon_deg: it is missing: give degrees`},
		{"latitude", `"lat_deg": 36`, `"lat_deg": 91`, `station.json:5: site.lat_deg: Site.Lat is 91, want a number from -90 to 90`},
		{"height", `"height_m": 10`, `"height_m": 10000`, `station.json:7: site.height_m:`},
		{"eclipse", `2027-08-02",` + "\n" + `  "zone"`, `2.8.2027",` + "\n" + `  "zone"`, `station.json:9: eclipse: eclipse is "2.8.2027", want a day like`},
		{"zone", `+02:00`, `Mars/Olympus`, `station.json:10: zone: zone is "Mars/Olympus", want +HH:MM`},
		{"chain", `"load_ohm": 220`, `"load_ohm": 0`, `station.json:14: chain.divider.load_ohm: sensor: divider.load_ohm is 0`},
		{"wiring", `cell-on-top`, `upside`, `station.json:11: chain: sensor: divider.wiring is neither`},
		{"missing log", `logs/20270802.csv`, `logs/20270801.csv`, `station.json:19: files[0]: there is no "logs/20270801.csv" beside this file`},
		{"missing control", `logs/20270803.csv`, `a.csv`, `station.json:21: control[0]: there is no "a.csv"`},
		{"absolute", `logs/20270802.csv`, `/logs/a.csv`, `station.json:19: files[0]: "/logs/a.csv" is no file in the station's own folder`},
		{"upwards", `logs/20270802.csv`, `../a.csv`, `files[0]: "../a.csv" is no file in the station's own folder`},
		{"backslash", `logs/20270802.csv`, `logs\\a.csv`, `with / between folders`},
		{"one file as both", `logs/20270803.csv`, `logs/20270802.csv`, `station.json:21: control[0]: "logs/20270802.csv" is files[0] already`},
		{"thermometer", `"tau_s": 60`, `"tau_s": -60`, `station.json:22: thermometer: thermometer has tau_s -60`},
		{"layout", `"dmy"`, `"mdd"`, `station.json:23: layout.order:`},
		{"clock_set", `"hand"`, `"a watch"`, `station.json:24: clock_set: clock_set is "a watch", want one of network, satellite, radio, phone, hand, unknown`},
		{"stamp", `"2027-08-02T08:31:42"`, `"08:31:42"`, `station.json:26: clock_notes[0].stamp: "08:31:42" is no stamp like`},
		{"utc without zone", `06:31:00Z`, `06:31:00`, `station.json:26: clock_notes[0].utc: "2027-08-02T06:31:00" is no instant with its zone`},
		{"u_s", `"u_s": 0.5`, `"u_s": 0`, `station.json:26: clock_notes[0].u_s: it is 0, want more than 0`},
		{"year", `"2027-08-02T08:31:42"`, `"2000-01-01T08:31:42"`, `clock_notes[0].stamp: it is -10075 days from utc`},
		{"code", `YARD-07`, `YARD\n07`, `station.json:3: code:`},
		{"no object", whole, `[1]`, `station.json:1: want a station in braces, found an array`},
	} {
		text := strings.Replace(whole, tt.old, tt.new, 1)
		require.NotEqual(t, whole, text, tt.name)
		_, err := ReadFile(wholeFolder(text), "station.json")
		if field := (*FieldError)(nil); err == nil || !errors.As(err, &field) || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v\nwant %s", tt.name, err, tt.want)
		}
	}
}

// All faults come back at once, in the order of the text.
func TestFaultsTogether(t *testing.T) {
	text := strings.NewReplacer(`"lat_deg": 36`, `"lat_deg": 91`, `"hand"`, `"foot"`, `"code"`, `"kode"`).Replace(whole)
	_, err := Parse([]byte(text))
	require.Error(t, err)
	if got := regexp.MustCompile(`line (\d+)`).FindAllString(err.Error(), -1); !reflect.DeepEqual(got, []string{"line 3", "line 5", "line 24"}) {
		t.Errorf("%v in %v", got, err)
	}
}

// A station that is written is read back the same, byte order mark or not.
func TestRoundTrip(t *testing.T) {
	s, err := Parse([]byte("\ufeff" + whole))
	require.NoError(t, err)
	text, err := json.Marshal(s)
	require.NoError(t, err)
	again, err := Parse(text)
	require.NoError(t, err)
	require.Equal(t, s, again)
}

// Every key of a station's file stands in the package comment.
func TestEveryKeyIsExplained(t *testing.T) {
	comment, err := os.ReadFile("doc.go")
	require.NoError(t, err)
	var explain func(reflect.Type)
	explain = func(typ reflect.Type) {
		for typ.Kind() == reflect.Pointer || typ.Kind() == reflect.Slice {
			typ = typ.Elem()
		}
		if strings.HasSuffix(typ.PkgPath(), "/sensor") { // its own keys are told there
			return
		}
		for key, of := range keysIn(typ) {
			if !regexp.MustCompile(`(?m)^//\t(.* |)` + key + `\b`).Match(comment) {
				t.Errorf("%v: the package comment does not explain %q", typ, key)
			}
			explain(of)
		}
	}
	explain(reflect.TypeFor[Station]())
}

// Whatever the text, there is a station that is valid or errors that each name something.
func FuzzParse(f *testing.F) {
	f.Add([]byte(whole))
	f.Add([]byte(plain))
	f.Add([]byte(`{"version":1,"site":{"lat_deg":{"x":[[]]}},"files":[1,null],"clock_notes":null}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := Parse(text)
		if err == nil {
			if err := s.Validate(); err != nil {
				t.Fatalf("it was read, but %v", err)
			}
			return
		}
		if field := (*FieldError)(nil); !errors.As(err, &field) || field.Reason == "" {
			t.Fatalf("%v names nothing", err)
		}
	})
}
