package logfile

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// A stamp that has its form but no time is told from what is no stamp, whether the date
// and the time of day share a cell or not.
func TestNoSuchTime(t *testing.T) {
	for _, tt := range []struct {
		stamp string
		order Order
		want  Kind // 0 for a record
	}{
		{"02/08/2027 07:00:05", DMY, 0},
		{"45/25/2165 45:85:85", DMY, NoSuchTime}, // read off a clock chip that was never set
		{"45/25/2165 45:85:85", MDY, NoSuchTime},
		{"165/165/2165 165:165:85", DMY, NoSuchTime},
		{"2165-165-165 25:165:85", YMD, NoSuchTime},
		{"2000-00-00 00:00:00", YMD, NoSuchTime},
		{"00/00/2000 00:00:00", DMY, NoSuchTime},
		{"0/0/0 0:0:0", DMY, NoSuchTime},
		{"2027-13-02 07:00:00", YMD, NoSuchTime},
		{"2027-02-30 07:00:00", YMD, NoSuchTime},
		{"2027-08-02 24:00:01", YMD, NoSuchTime},
		{"2027-08-02 07:61:00", YMD, NoSuchTime},
		{"2027-08-02 07:00:85", YMD, NoSuchTime},
		{"1899-12-31 07:00:00", YMD, NoSuchTime}, // no logger
		{"2027-08-02 07:0", YMD, 0},
		{"02/08/2027 07:00:00", YMD, BadStamp}, // it exists, but the order does not read it
		{"08/25/2027 07:00:00", DMY, BadStamp},
		{"25/08/2027 07:00:00", MDY, BadStamp},
		{"30/02/2027 07:00:00", YMD, NoSuchTime}, // in no order
		{"2027-08-0 07:00:00", YMD, NoSuchTime},  // a day of zero, or a digit lost
		{"2027-08/02 07:00:00", YMD, BadStamp},
		{"2027-08-02 07:00:00 CST", YMD, BadStamp},
		{"2027-8x-02 07:00:00", YMD, BadStamp},
		{"2027-08- 07:00:00", YMD, BadStamp},
		{"2027-08-02T07:0:05", YMD, BadStamp}, // a digit lost
		{"-- ::", YMD, BadStamp},
		{"1/2/3/4 5:6:7", DMY, BadStamp},
		{"165:165:85 165:165:85", DMY, BadStamp},
		{"nan nan", YMD, BadStamp},
	} {
		for form, columns := range map[string][]Role{"%s,1\n": {Time, Light}, "%s %s,1\n": {Date, Clock, Light}} {
			args := []any{tt.stamp}
			if len(columns) == 3 {
				date, clock, _ := strings.Cut(tt.stamp, " ")
				if strings.Contains(clock, " ") || strings.Count(date, ":") > 0 {
					continue
				}
				form, args = strings.Replace(form, " ", ",", 1), []any{date, clock}
			}
			in := fmt.Sprintf(form, args...)
			recs, rep, err := both(t, in, Options{Columns: columns, Order: tt.order})
			if tt.want == 0 {
				if err != nil || len(recs) != 1 {
					t.Errorf("%q: %v %v", in, err, rep.ByKind)
				}
				continue
			}
			if err != nil || rep.ByKind[tt.want] != 1 {
				t.Errorf("%q: %v %v, want %v", in, err, rep.ByKind, tt.want)
			}
		}
	}
}

// A time of day that does not exist, and a date in its place.
func TestNoSuchTimeOfDay(t *testing.T) {
	for stamp, want := range map[string]Kind{"25:00:00": NoSuchTime, "165:165:85": NoSuchTime, "45:85": NoSuchTime, "7:0x:00": BadStamp, "2027-08-02": BadStamp, "07": BadStamp} {
		in := "07:00:00,1\n" + stamp + ",2\n"
		_, rep, err := both(t, in, Options{Columns: []Role{Clock, Light}, Name: "20270802.csv"})
		require.NoError(t, err)
		if rep.ByKind[want] != 1 {
			t.Errorf("%q: %v, want %v", stamp, rep.ByKind, want)
		}
	}
}

func TestSinceEpoch(t *testing.T) {
	for _, tt := range []struct {
		at         string
		year, days bool
	}{
		{"1899-12-31T09:00:00Z", false, false}, {"1899-12-31T10:00:00Z", true, true}, {"1970-01-01T00:00:00Z", true, true}, {"1970-06-01T00:00:00Z", true, false},
		{"1971-02-01T00:00:00Z", false, false}, {"1980-01-06T00:00:00Z", true, false}, {"1999-12-31T09:59:59Z", false, false}, {"2000-01-02T11:59:59Z", true, true},
		{"2000-01-02T12:00:00Z", true, false}, {"2000-12-31T23:59:59Z", true, false}, {"2001-01-02T00:00:00Z", false, false}, {"2027-08-02T07:00:00Z", false, false},
	} {
		stamp := at(t, tt.at)
		if year, days := sinceEpoch(stamp, unsetSpan), sinceEpoch(stamp, firstSpan); year != tt.year || days != tt.days {
			t.Errorf("%s: %v %v, want %v %v", tt.at, year, days, tt.year, tt.days)
		}
	}
	for _, e := range epochs {
		if e.source == "" || !time.Unix(e.at, 0).UTC().Equal(time.Unix(e.at, 0).UTC().Truncate(24*time.Hour)) {
			t.Errorf("%v", e)
		}
	}
}
