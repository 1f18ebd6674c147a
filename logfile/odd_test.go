package logfile

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// The files of testdata/odd are invented; each writes its readings in a way that
// was met in a logger's files. What must come out was counted by eye: lines of each
// kind, the roles in the first letters of the columns, and the first and last record.
func TestOddFiles(t *testing.T) {
	nan := math.NaN()
	cest := time.FixedZone("", 7200)
	starts := []time.Time{time.Date(2027, 8, 2, 7, 0, 0, 0, time.UTC), time.Date(2027, 8, 2, 9, 0, 0, 0, time.UTC)}
	seen := map[string]bool{}
	for _, tt := range []struct {
		name        string
		opt         Options
		decides     string // of a refusal
		lines       Accounts
		delimiter   byte
		comma       bool
		light, temp int // columns from 1; 0 for none
		first, last string
		a, b        [2]float64 // light and temperature of the first and the last record
	}{
		{"preamble-latin1-then-header-unit-column.csv", Options{}, "", Accounts{Records: 5, Headers: 1, Comments: 3, Blanks: 1}, ',', false, 0, 3, "2027-08-02T11:20:00Z", "2027-08-13T01:20:00Z", [2]float64{nan, 24.5}, [2]float64{nan, 18.5}},
		{"blank-first-line-empty-heading-open-end.csv", Options{}, "", Accounts{Records: 5, Headers: 1, Blanks: 1}, ',', false, 0, 2, "2027-08-02T07:00:00.125Z", "2027-08-02T07:00:44.125Z", [2]float64{nan, 24.50}, [2]float64{nan, 24.54}},
		{"words-among-blanks.txt", Options{Order: MDY, Columns: []Role{Clock, Date, Skip, Skip, Temp}}, "", Accounts{Records: 5, Problems: 2}, ' ', false, 0, 5, "2027-08-02T09:15:05Z", "2027-08-02T09:16:07Z", [2]float64{nan, 60.25}, [2]float64{nan, 59.50}},
		{"words-among-blanks.txt", Options{Light: "5"}, "order", Accounts{Problems: 7}, 0, false, 0, 0, "", "", [2]float64{}, [2]float64{}},
		{"semicolon-decimal-comma-quotes-and-gaps.csv", Options{}, "", Accounts{Records: 4, Headers: 1}, ';', true, 6, 5, "2027-10-28T00:00:00Z", "2027-10-28T01:00:00Z", [2]float64{0, 8.5}, [2]float64{1.25, nan}},
		{"comma-decimal-comma-in-quotes.csv", Options{}, "", Accounts{Records: 3, Headers: 1, Problems: 2}, ',', true, 2, 3, "2027-08-02T07:00:00Z", "2027-08-02T07:00:02Z", [2]float64{812, 24.5}, [2]float64{814.5, 25}},
		{"comma-decimal-comma-shorter-at-the-end.csv", Options{}, "", Accounts{Records: 3, Headers: 1}, ',', true, 3, 2, "2027-08-02T07:00:00Z", "2027-08-02T07:00:02Z", [2]float64{1012, 24.5}, [2]float64{998, 24}},
		{"two-devices-in-turn.csv", Options{}, "", Accounts{Records: 9}, ',', false, 3, 0, "2027-08-02T07:00:00Z", "2027-08-02T07:00:08Z", [2]float64{812, nan}, [2]float64{492, nan}},
		{"epoch-ms-beside-minutes-blank-between.csv", Options{Zone: cest}, "", Accounts{Records: 8, Blanks: 8}, ',', false, 2, 0, "2027-08-02T07:00:00.25Z", "2027-08-02T07:00:14.25Z", [2]float64{512, nan}, [2]float64{601, nan}},
		{"mark-month-first-quarter-hours.csv", Options{}, "", Accounts{Records: 4, Headers: 1}, ',', false, 4, 3, "2027-08-01T23:30:00Z", "2027-08-02T10:45:00Z", [2]float64{0, 21.5}, [2]float64{410, 26.75}},
		{"milliseconds-since-start.csv", Options{}, "starts", Accounts{Headers: 1, Problems: 4}, 0, false, 0, 0, "", "", [2]float64{}, [2]float64{}},
		{"milliseconds-since-start.csv", Options{Starts: starts}, "tick", Accounts{Headers: 1, Problems: 4}, 0, false, 0, 0, "", "", [2]float64{}, [2]float64{}},
		{"milliseconds-since-start.csv", Options{Starts: starts, Tick: time.Millisecond}, "", Accounts{Records: 3, Headers: 1, Problems: 1}, ',', false, 0, 2, "2027-08-02T07:00:00Z", "2027-08-02T09:00:00.012Z", [2]float64{nan, 21.5}, [2]float64{nan, 21.25}},
		{"seconds-since-start-set-back.csv", Options{}, "starts", Accounts{Problems: 5}, 0, false, 0, 0, "", "", [2]float64{}, [2]float64{}},
		{"seconds-since-start-set-back.csv", Options{Starts: starts, Tick: time.Second, Light: "5"}, "", Accounts{Records: 4, Problems: 1}, ',', false, 5, 0, "2027-08-02T07:05:00Z", "2027-08-02T09:10:00Z", [2]float64{40, nan}, [2]float64{41, nan}},
		{"seconds-since-start-set-back.csv", Options{Starts: starts[:1], Tick: time.Second, Light: "5"}, "", Accounts{Records: 2, Problems: 3}, ',', false, 5, 0, "2027-08-02T07:05:00Z", "2027-08-02T07:10:00Z", [2]float64{40, nan}, [2]float64{41, nan}},
		{"month-name-no-zeros.txt", Options{}, "", Accounts{Records: 8}, ',', false, 4, 0, "2027-08-02T17:03:52Z", "2027-08-02T17:05:03Z", [2]float64{400.5, nan}, [2]float64{150, nan}},
		{"one-column-zeros.csv", Options{}, "columns", Accounts{Problems: 6}, 0, false, 0, 0, "", "", [2]float64{}, [2]float64{}},
		{"quoted-clock-reset.csv", Options{Columns: []Role{Date, Clock, Temp, Humidity, Light, Skip}}, "", Accounts{Records: 3}, ',', false, 5, 3, "2027-08-02T12:40:30Z", "2027-08-02T12:55:07Z", [2]float64{880, 18}, [2]float64{0, 19}},
		{"quoted-time-first-word-last.csv", Options{Light: "4"}, "", Accounts{Records: 4}, ',', false, 4, 0, "2027-08-02T06:04:02Z", "2027-08-02T07:00:30Z", [2]float64{31.25, nan}, [2]float64{nan, nan}},
		{"quoted-time-first-word-last.csv", Options{}, "light", Accounts{Problems: 4}, 0, false, 0, 0, "", "", [2]float64{}, [2]float64{}},
		{"clock-chip-garbage.txt", Options{Columns: []Role{Date, Clock, Temp, Skip}}, "", Accounts{Problems: 5}, ' ', false, 0, 3, "", "", [2]float64{}, [2]float64{}},
		{"clock-chip-garbage.txt", Options{}, "light", Accounts{Problems: 5}, 0, false, 0, 0, "", "", [2]float64{}, [2]float64{}},
		{"units-inside-cells.csv", Options{}, "", Accounts{Records: 9, Problems: 1}, ',', false, 4, 2, "2027-08-09T07:00:05Z", "2027-08-17T07:35:00Z", [2]float64{80, 18.25}, [2]float64{nan, nan}},
		{"units-blank-and-decimal-comma.csv", Options{}, "", Accounts{Records: 3, Headers: 1}, ';', true, 2, 3, "2027-08-02T07:00:00Z", "2027-08-02T07:00:02Z", [2]float64{812.5, 23.5}, [2]float64{814, 24.25}},
		{"pipe-day-shown-late.txt", Options{}, "", Accounts{Records: 4, Headers: 1}, '|', false, 2, 0, "2027-08-02T07:00:00Z", "2027-08-13T07:00:00Z", [2]float64{812, nan}, [2]float64{815, nan}},
		{"pipe-day-never-shown.txt", Options{}, "order", Accounts{Headers: 1, Problems: 3}, 0, false, 0, 0, "", "", [2]float64{}, [2]float64{}},
		{"leap-second.csv", Options{}, "", Accounts{Records: 3, Headers: 1}, ',', false, 2, 0, "2016-12-31T23:59:59Z", "2017-01-01T00:00:00Z", [2]float64{812, nan}, [2]float64{814, nan}},
		{"epoch-microseconds-tabs.tsv", Options{}, "", Accounts{Records: 3}, '\t', false, 2, 0, "2027-08-02T07:00:00Z", "2027-08-02T07:00:01.00025Z", [2]float64{812, nan}, [2]float64{814, nan}},
		{"epoch-seconds-damaged-digits.csv", Options{}, "", Accounts{Records: 4, Headers: 1, Problems: 2}, ',', false, 2, 0, "2027-08-02T07:00:00Z", "2027-08-02T07:00:05Z", [2]float64{812, nan}, [2]float64{817, nan}},
		{"time-of-day-20270802.csv", Options{Name: "time-of-day-20270802.csv"}, "", Accounts{Records: 3}, ',', false, 2, 0, "2027-08-02T23:59:58Z", "2027-08-03T00:00:00Z", [2]float64{812, nan}, [2]float64{814, nan}},
		{"one-column-decimal-comma.csv", Options{}, "columns", Accounts{Problems: 3}, 0, false, 0, 0, "", "", [2]float64{}, [2]float64{}},
		{"blanks-many-sums.txt", Options{Light: "white"}, "", Accounts{Records: 2, Headers: 1}, ' ', false, 7, 0, "2027-08-02T07:00:00Z", "2027-08-02T07:00:01Z", [2]float64{5500000000, nan}, [2]float64{5400000000, nan}},
		{"newest-first-offset.csv", Options{}, "", Accounts{Records: 3, Headers: 1}, ',', false, 2, 0, "2027-08-02T07:00:30Z", "2027-08-02T07:00:03Z", [2]float64{830, nan}, [2]float64{803, nan}},
		{"table-of-places.csv", Options{}, "columns", Accounts{Headers: 1, Problems: 2}, 0, false, 0, 0, "", "", [2]float64{}, [2]float64{}},
		{"units-row-below-header.csv", Options{}, "", Accounts{Records: 5, Headers: 4}, ',', false, 2, 3, "2027-08-02T07:00:00Z", "2027-08-02T07:01:00Z", [2]float64{812, 24.5}, [2]float64{790, 23}},
		{"four-header-lines-quoted.csv", Options{Light: "glob_avg"}, "", Accounts{Records: 4, Headers: 3, Comments: 1}, ',', false, 3, 4, "2027-08-02T07:00:00Z", "2027-08-02T07:03:00Z", [2]float64{612.5, 24.5}, [2]float64{606.5, 24.5}},
		{"four-header-lines-quoted.csv", Options{}, "", Accounts{Records: 4, Headers: 3, Comments: 1}, ',', false, 3, 4, "2027-08-02T07:00:00Z", "2027-08-02T07:03:00Z", [2]float64{612.5, 24.5}, [2]float64{606.5, 24.5}},
		{"rule-below-header.txt", Options{}, "", Accounts{Records: 3, Headers: 2}, '|', false, 2, 3, "2027-08-02T07:00:00Z", "2027-08-02T07:00:02Z", [2]float64{812, 24.5}, [2]float64{814, 24.5}},
		{"preamble-of-numbers.csv", Options{}, "", Accounts{Records: 4, Headers: 1, Comments: 4, Blanks: 1}, ',', false, 2, 3, "2027-08-02T07:00:00Z", "2027-08-02T07:00:15Z", [2]float64{812, 24.5}, [2]float64{815, 24.5}},
		{"preamble-longer-than-data.csv", Options{}, "", Accounts{Records: 3, Headers: 1, Comments: 12}, ',', false, 2, 3, "2027-08-02T07:00:00Z", "2027-08-02T07:00:10Z", [2]float64{812, 24.5}, [2]float64{814, 24.5}},
		{"row-number-first-no-header.csv", Options{}, "", Accounts{Records: 20}, ',', false, 3, 0, "2027-08-02T07:00:00Z", "2027-08-02T07:00:19Z", [2]float64{812, nan}, [2]float64{451, nan}},
		{"night-then-day-no-header.csv", Options{}, "", Accounts{Records: 90}, ',', false, 2, 0, "2027-08-02T04:00:00Z", "2027-08-02T04:44:30Z", [2]float64{0, nan}, [2]float64{14400, nan}},
		{"night-only-no-header.csv", Options{}, "light", Accounts{Problems: 40}, 0, false, 0, 0, "", "", [2]float64{}, [2]float64{}},
		{"two-thermometers-no-header.csv", Options{}, "light", Accounts{Problems: 20}, 0, false, 0, 0, "", "", [2]float64{}, [2]float64{}},
		{"two-thermometers-no-header.csv", Options{Columns: []Role{Time, Temp, Skip}}, "", Accounts{Records: 20}, ',', false, 0, 2, "2027-08-02T07:00:00Z", "2027-08-02T07:19:00Z", [2]float64{nan, 24.5}, [2]float64{nan, 24.31}},
		{"stamp-beside-headed-date-and-time.csv", Options{}, "", Accounts{Records: 3, Headers: 1}, ',', false, 3, 0, "2027-08-02T07:00:00Z", "2027-08-02T07:00:02Z", [2]float64{812, nan}, [2]float64{814, nan}},
		{"thousands-and-decimals.csv", Options{}, "", Accounts{Records: 3, Headers: 1}, ',', false, 2, 3, "2027-08-02T07:00:00Z", "2027-08-02T07:00:02Z", [2]float64{998.5, 24.5}, [2]float64{1000.5, 24.5}},
		{"thousands-or-decimals.csv", Options{}, "decimal", Accounts{Headers: 1, Problems: 3}, 0, false, 0, 0, "", "", [2]float64{}, [2]float64{}},
		{"thousands-or-decimals.csv", Options{Decimal: '.'}, "", Accounts{Records: 3, Headers: 1}, ',', false, 2, 0, "2027-08-02T07:00:00Z", "2027-08-02T07:00:02Z", [2]float64{12345, nan}, [2]float64{12347, nan}},
		{"thousands-or-decimals.csv", Options{Decimal: ','}, "", Accounts{Records: 3, Headers: 1}, ',', true, 2, 0, "2027-08-02T07:00:00Z", "2027-08-02T07:00:02Z", [2]float64{12.345, nan}, [2]float64{12.347, nan}},
		{"thousands-point-decimal-comma.csv", Options{}, "", Accounts{Records: 3, Headers: 1}, ';', true, 2, 0, "2027-08-02T07:00:00Z", "2027-08-02T07:00:02Z", [2]float64{999.5, nan}, [2]float64{1001.5, nan}},
		{"remark-with-comma-and-number.csv", Options{Columns: []Role{Time, Light, Temp, Skip}}, "", Accounts{Records: 4}, ',', false, 2, 3, "2027-08-02T07:00:00Z", "2027-08-02T07:00:03Z", [2]float64{812, 24}, [2]float64{815.5, 24.5}},
		{"row-number-and-switch-beside-air.csv", Options{}, "", Accounts{Records: 9, Headers: 1}, ',', false, 0, 3, "2027-08-02T07:00:00Z", "2027-08-02T07:00:08Z", [2]float64{nan, 24.5}, [2]float64{nan, 24.5}},
		{"volts-beside-a-pin.csv", Options{}, "light", Accounts{Headers: 1, Problems: 4}, 0, false, 0, 0, "", "", [2]float64{}, [2]float64{}},
		{"volts-beside-a-pin.csv", Options{Light: "a0"}, "", Accounts{Records: 4, Headers: 1}, ',', false, 3, 2, "2027-08-02T07:00:00Z", "2027-08-02T07:00:03Z", [2]float64{812, 24.5}, [2]float64{803, 24.5}},
		{"dates-in-two-forms.csv", Options{}, "", Accounts{Records: 4, Headers: 1, Problems: 3}, ',', false, 2, 0, "2027-08-02T07:00:00Z", "2027-08-02T07:00:03Z", [2]float64{812, nan}, [2]float64{815, nan}},
		{"dates-in-two-forms.csv", Options{Order: DMY}, "", Accounts{Records: 7, Headers: 1}, ',', false, 2, 0, "2027-08-02T07:00:00Z", "2027-08-02T07:00:06Z", [2]float64{812, nan}, [2]float64{818, nan}},
		{"weekday-month-names-am-pm.csv", Options{}, "", Accounts{Records: 3, Headers: 1}, ',', false, 2, 0, "2027-08-02T07:00:00Z", "2027-08-03T00:00:00Z", [2]float64{812, nan}, [2]float64{0, nan}},
		{"month-name-year-last.txt", Options{}, "", Accounts{Records: 3, Headers: 1}, '|', false, 2, 0, "2027-08-02T07:00:00Z", "2027-08-02T07:00:02Z", [2]float64{812, nan}, [2]float64{814, nan}},
		{"epoch-nanoseconds.csv", Options{}, "", Accounts{Records: 3, Headers: 1}, ',', false, 2, 0, "2027-08-02T07:00:00Z", "2027-08-02T07:00:00.5Z", [2]float64{812, nan}, [2]float64{814, nan}},
		{"clock-with-points.csv", Options{}, "", Accounts{Records: 3, Headers: 1}, ',', false, 2, 0, "2027-08-02T07:00:00Z", "2027-08-02T07:00:02Z", [2]float64{812, nan}, [2]float64{814, nan}},
		{"stamp-then-words.txt", Options{Columns: []Role{Date, Clock, Light, Temp}}, "", Accounts{Records: 5, Problems: 2}, ' ', false, 3, 4, "2027-08-02T07:00:00Z", "2027-08-02T07:00:04Z", [2]float64{812, 24.5}, [2]float64{816, 24.5}},
	} {
		seen[tt.name] = true
		t.Run(tt.name+" "+tt.decides, func(t *testing.T) {
			in, err := os.ReadFile(filepath.Join("testdata/odd", tt.name))
			require.NoError(t, err)
			recs, rep, err := drain(t, bytes.NewReader(in), tt.opt)
			lawful(t, rep, int64(len(in)))
			if rep.Lines != tt.lines {
				t.Errorf("%+v, want %+v: %v, %v", rep.Lines, tt.lines, rep.List, err)
			}
			if tt.decides != "" {
				if e := (*LayoutError)(nil); !errors.As(err, &e) || e.Decides != tt.decides {
					t.Errorf("%v, want a refusal that %q decides", err, tt.decides)
				}
				return
			}
			require.NoError(t, err)
			if l := rep.Layout; l.Delimiter != tt.delimiter || l.DecimalComma != tt.comma || l.has(Light)+1 != tt.light || l.has(Temp)+1 != tt.temp {
				t.Errorf("cut at %q, comma %v, light %d, temp %d: %v", l.Delimiter, l.DecimalComma, l.has(Light)+1, l.has(Temp)+1, l.Reasons)
			}
			if len(recs) == 0 {
				require.Empty(t, tt.first)
				return
			}
			for _, end := range []struct {
				got  Record
				at   string
				want [2]float64
			}{{recs[0], tt.first, tt.a}, {recs[len(recs)-1], tt.last, tt.b}} {
				if !end.got.Time.Equal(at(t, end.at)) || !alike(end.got.Light, end.want[0]) || !alike(end.got.Temp, end.want[1]) {
					t.Errorf("%v light %g temp %g, want %s %v", end.got.Time, end.got.Light, end.got.Temp, end.at, end.want)
				}
			}
		})
	}
	names, err := filepath.Glob("testdata/odd/*")
	require.NoError(t, err)
	for _, name := range names {
		if !seen[filepath.Base(name)] {
			t.Errorf("nothing is expected of %s", name)
		}
	}
}

// alike says that two numbers are the same, NaN and NaN too.
func alike(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }

// Of the units inside cells: what is said of them, and that no other is taken.
func TestUnitsInsideCells(t *testing.T) {
	in, err := os.ReadFile("testdata/odd/units-inside-cells.csv")
	require.NoError(t, err)
	recs, rep, err := drain(t, bytes.NewReader(in), Options{})
	require.NoError(t, err)
	for i, want := range []string{"", "℃", "% moisture", "% light", "sec"} {
		if got := rep.Layout.Columns[i].Unit; got != want {
			t.Errorf("the unit of column %d is %q, want %q", i+1, got, want)
		}
	}
	if rep.Missing[Temp] != 1 || rep.Missing[Light] != 2 || rep.ByKind[TornLine] != 1 || recs[2].Temp != -0.5 || !math.IsNaN(recs[2].Light) {
		t.Errorf("missing %v, problems %v, %+v", rep.Missing, rep.ByKind, recs[2])
	}
	if why := strings.Join(rep.Layout.Reasons, "\n"); !strings.Contains(why, `"℃" behind every number`) || !strings.Contains(why, `light, by "% light"`) {
		t.Errorf("the reasons are %s", why)
	}
	for _, tt := range []struct{ cell, number, unit string }{
		{"22% moisture", "22", "% moisture"}, {"23.5 °C", "23.5", "°C"}, {" -4lx ", "-4", "lx"}, {"981 W/m2", "981", "W/m2"}, {"24.5\xb0C", "24.5", "\xb0C"},
		{"23.5", "", ""}, {"lx", "", ""}, {"7:00", "", ""}, {"2027-08-02", "", ""}, {"2.Mai.2027", "", ""}, {"1 2", "", ""}, {"4711;", "", ""}, {"", "", ""}, {"-", "", ""}, {"1.2.3lx", "", ""},
		{"5 and a word that is longer than any unit", "", ""},
	} {
		number, unit, ok := cellUnit([]byte(tt.cell), '.')
		if ok != (tt.unit != "") || ok && (string(number) != tt.number || string(unit) != tt.unit) {
			t.Errorf("%q: %q %q %v, want %q %q", tt.cell, number, unit, ok, tt.number, tt.unit)
		}
	}
}

// Cells of two units are not mixed: their column is none of numbers.
func TestTwoUnitsInAColumn(t *testing.T) {
	in := "time,light,temp\n2027-08-02 07:00:00,812,23.5 C\n2027-08-02 07:00:01,813,74.3 F\n2027-08-02 07:00:02,814,23.5 C\n"
	_, rep, err := drain(t, strings.NewReader(in), Options{})
	require.NoError(t, err)
	if rep.Layout.has(Temp) >= 0 || rep.Layout.has(Light) != 1 {
		t.Errorf("%+v", rep.Layout.Columns)
	}
}

func TestLeapSecondIsMarked(t *testing.T) {
	in, err := os.ReadFile("testdata/odd/leap-second.csv")
	require.NoError(t, err)
	recs, _, err := drain(t, bytes.NewReader(in), Options{})
	require.NoError(t, err)
	if recs[0].Leap || !recs[1].Leap || recs[2].Leap || !recs[1].Time.Equal(recs[2].Time) {
		t.Errorf("%+v", recs)
	}
}

// What units may decide, where headings do not.
func TestUnitsAndRoles(t *testing.T) {
	for _, tt := range []struct {
		name, head string
		rows       [3]string
		roles      []Role
		reason     string
	}{
		{"one number, in volts", "time,reading", [3]string{"1.2 V", "1.3 V", "1.4 V"}, []Role{Time, Light}, "only number"},
		{"light in two units", "time,light,temp", [3]string{"1.2 klx,24", "1.3 klx,24", "990 lx,24"}, []Role{Time, Skip, Temp}, "more than one unit"},
		{"humidity by its unit", "time,light,b", [3]string{"812,40 % RH", "813,40 % RH", "814,41 % RH"}, []Role{Time, Light, Humidity}, "taken off"},
		{"a serial number is no light", "time,light,b", [3]string{"812,1A", "813,1A", "814,1A"}, []Role{Time, Light, Skip}, "by its heading"},
		{"other dates are no units", "time,light,b", [3]string{"812,2 Aug 2027", "813,2 Aug 2027", "814,2 Aug 2027"}, []Role{Time, Light, Skip}, "by its heading"},
		{"a unit beside two numbers says nothing", "time,unit,light,b", [3]string{"C,812,1", "C,813,2", "C,814,3"}, []Role{Time, Skip, Light, Skip}, "by its heading"},
		{"units beside that change", "time,unit,value", [3]string{"C,24", "F,75", "C,24"}, []Role{Time, Skip, Light}, "only number"},
		{"lux beside", "time,value,unit", [3]string{"24,lux", "75,lux", "24,lux"}, []Role{Time, Light, Skip}, "by the column beside"},
	} {
		in := tt.head + "\n"
		for i, row := range tt.rows {
			in += fmt.Sprintf("2027-08-02 07:00:0%d,%s\n", i, row)
		}
		recs, rep, err := drain(t, strings.NewReader(in), Options{})
		require.NoError(t, err, tt.name)
		lawful(t, rep, int64(len(in)))
		var roles []Role
		for _, c := range rep.Layout.Columns {
			roles = append(roles, c.Role)
		}
		if why := strings.Join(rep.Layout.Reasons, "\n"); len(recs) != 3 || !slices.Equal(roles, tt.roles) || !strings.Contains(why, tt.reason) {
			t.Errorf("%s: %d records, %v, want %v; %s", tt.name, len(recs), roles, tt.roles, why)
		}
	}
}
