package logfile

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func layoutOf(t *testing.T, in string, opt Options) Layout {
	t.Helper()
	_, rep, err := drain(t, strings.NewReader(in), opt)
	require.NoError(t, err)
	lawful(t, rep, int64(len(in)))
	return rep.Layout
}

func TestLayoutIsPrinted(t *testing.T) {
	l := layoutOf(t, "epoch;lux;temp (°C);remark\n1817190000;812,5;24,5;\n", Options{})
	const want = `4 columns between semicolons, decimal comma, dates ymd
  1  time     "epoch", 1 in a second since 1970
  2  light    "lux" in lx
  3  temp     "temp (°C)" in °C
  4  skip     "remark"`
	if got := l.String(); got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}

// The layout of a sample against that of the whole, and of other files.
func TestLayoutsAreCompared(t *testing.T) {
	const head = "time,light,temp\n"
	rows := body("2027-08-02 07:%02d:%02d,%d,24.5\n", 200)
	whole := layoutOf(t, head+rows, Options{})
	for _, tt := range []struct {
		name, in string
		opt      Options
		want     []string
	}{
		{"the first rows", head + rows[:200], Options{}, nil},
		{"the header alone in other words", "Time,Light level,Temp\n" + rows, Options{}, nil},
		{"columns as given", rows, Options{Columns: []Role{Time, Light, Temp}}, nil},
		{"another light", head + rows, Options{Light: "temp"}, []string{"role of column 2: light, skip", "role of column 3: temp, light"}},
		{"other delimiter and mark", strings.NewReplacer(",", ";", ".", ",").Replace(head + rows), Options{}, []string{"delimiter: commas, semicolons", "decimal comma: false, true"}},
		{"other dates", head + strings.ReplaceAll(rows, "2027-08-02", "02/08/2027"), Options{Order: DMY}, []string{"order of dates: ymd, dmy"}},
		{"a T between date and time", head + strings.ReplaceAll(rows, " 07", "T07"), Options{}, nil},
		{"stamps with a Z", head + "2027-08-02T07:00:00Z,1000,24.5\n", Options{}, []string{"zone: UTC, assumed, in the stamps"}},
		{"an epoch", head + "1817190000000,1000,24.5\n", Options{}, []string{"zone: UTC, assumed, UTC, counted since 1970", "scale of column 1: 0, 1000"}},
		{"a unit in the cells", head + strings.ReplaceAll(rows, "24.5", "24.5 C"), Options{}, []string{`unit behind the numbers of column 3: , C`}},
		{"a column more", head + "2027-08-02 07:00:00,1000,24.5,4\n", Options{Columns: []Role{Time, Light, Temp, Skip}}, []string{"columns: 3, 4"}},
	} {
		if got := whole.Differences(layoutOf(t, tt.in, tt.opt)); !slices.Equal(got, tt.want) {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}

// Every decision has its reason, in words.
func TestReasonsForAll(t *testing.T) {
	l := layoutOf(t, "date,time (UTC),lux,temp,rh\n13/08/2027,07:00:00,812.5,24.5,40\n", Options{})
	why := strings.Join(l.Reasons, "\n")
	for _, want := range []string{"cut at commas: 1 of 1", "decimal mark is a point", `the header has the names "date"`, "column 1 holds the date", "column 2 holds the clock", `column 3 is light, by its heading "lux"`,
		`column 4 is temp, by "temp"`, `column 5 is humidity, by "rh"`, "dates are day, month, year: one of them can be nothing else"} {
		if !strings.Contains(why, want) {
			t.Errorf("%q is not among\n%s", want, why)
		}
	}
	l = layoutOf(t, "2027-08-02 07:00:00;812\n", Options{})
	why = strings.Join(l.Reasons, "\n")
	for _, want := range []string{"cut at semicolons", "no number shows a decimal mark yet", "there is no header", "only number beside the time", "dates are led by the year"} {
		if !strings.Contains(why, want) {
			t.Errorf("%q is not among\n%s", want, why)
		}
	}
}
