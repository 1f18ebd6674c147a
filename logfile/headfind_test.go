package logfile

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Headers with more names than the lines have fields, or fewer, and what stands about them.
func TestHeadersOfAnyWidth(t *testing.T) {
	const comma = "2027-08-02 07:00:00,812,24.5\n2027-08-02 07:00:01,813,24.5\n2027-08-02 07:00:02,814,24.5\n"
	blank := strings.ReplaceAll(comma, ",", " ")
	halves := strings.ReplaceAll(comma, "-02 ", "-02,")
	for _, tt := range []struct {
		name, in    string
		lines       Accounts
		light, temp int // columns from 1
		names       string
	}{
		{"one name over date and time of day", "Time Light Temp\n" + blank, Accounts{Records: 3, Headers: 1}, 3, 4, `"Time", "Time", "Light", "Temp"`},
		{"the same between commas", "timestamp,light,temp\n" + halves, Accounts{Records: 3, Headers: 1}, 3, 4, `"timestamp", "timestamp", "light", "temp"`},
		{"units behind a blank", "Date Time Light (lux) Temp (C)\n" + blank, Accounts{Records: 3, Headers: 1}, 3, 4, `"Date", "Time", "Light (lux)", "Temp (C)"`},
		{"names for the first columns", "time,light\n" + comma, Accounts{Records: 3, Headers: 1}, 2, 0, `"time", "light", ""`},
		{"more names than fields name nothing", "time,temp,light,humidity\n" + strings.ReplaceAll(comma, ",24.5", ""), Accounts{Records: 3, Headers: 1}, 2, 0, `"", ""`},
		{"no time under the name for it", "temp,time\n" + strings.ReplaceAll(comma, "24.5", "cloud"), Accounts{Records: 3, Headers: 1}, 2, 0, `"", "", ""`},
		{"again, and lines told before it", "Rate: 1\ntime,light\n" + comma + "time,light\n" + comma, Accounts{Records: 6, Headers: 2, Comments: 1}, 2, 0, `"time", "light", ""`},
		{"zeros before it", "\x00\x00\x00time,light,temp\n" + comma, Accounts{Records: 3, Headers: 1}, 2, 3, `"time", "light", "temp"`},
		{"units below it, of words that tell of light", "t,a,b\ns,lx,degC\n" + comma, Accounts{Records: 3, Headers: 2}, 2, 3, `"t", "a", "b"`},
		{"words below the data are none", "time,light,temp\n" + comma + "-,-,degC\n", Accounts{Records: 3, Headers: 1, Problems: 1}, 2, 3, `"time", "light", "temp"`},
		{"torn digits above it are no words", ":00,811,24.5\ntime,light,temp\n" + comma, Accounts{Records: 3, Headers: 1, Problems: 1}, 2, 3, `"time", "light", "temp"`},
	} {
		recs, rep, err := drain(t, strings.NewReader(tt.in), Options{})
		require.NoError(t, err, tt.name)
		lawful(t, rep, int64(len(tt.in)))
		l := rep.Layout
		if rep.Lines != tt.lines || l.has(Light)+1 != tt.light || l.has(Temp)+1 != tt.temp || l.names() != tt.names || recs[len(recs)-1].Light != 814 {
			t.Errorf("%s: %+v, light %d, temp %d, %s: %v", tt.name, rep.Lines, l.has(Light)+1, l.has(Temp)+1, l.names(), l.Reasons)
		}
	}
}

// The units below a header are those of its columns.
func TestUnitsBelowTheHeader(t *testing.T) {
	l := layoutOf(t, "time,light,air,sky\nUTC,[klx],degC,---\n2027-08-02 07:00:00,81.2,24.5,clear\n", Options{})
	for i, want := range []string{"UTC", "klx", "degC", ""} {
		if got := l.Columns[i].Unit; got != want {
			t.Errorf("column %d has the unit %q, want %q", i+1, got, want)
		}
	}
	if l.has(Temp) != 2 {
		t.Errorf("degC makes no temperature of %v", l.Columns[2])
	}
}
