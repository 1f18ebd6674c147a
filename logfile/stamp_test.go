package logfile

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestStamps(t *testing.T) {
	for _, tt := range []struct {
		in    string
		order Order
		want  string // empty: refused
	}{
		{"2027-08-02T07:00:00Z", YMD, "2027-08-02T07:00:00Z"}, // RFC 3339
		{"2027-08-02t07:00:00z", YMD, "2027-08-02T07:00:00Z"},
		{"1996-12-19T16:39:57-08:00", YMD, "1996-12-20T00:39:57Z"},       // RFC 3339, 5.8
		{"1990-12-31T15:59:60-08:00", YMD, "1991-01-01T00:00:00Z"},       // the same
		{"1937-01-01T12:00:27.87+00:20", YMD, "1937-01-01T11:40:27.87Z"}, // the same
		{"1985-04-12T23:20:50.52Z", YMD, "1985-04-12T23:20:50.52Z"},      // the same
		{"2027-08-02T07:00:00+05:30", YMD, "2027-08-02T01:30:00Z"},
		{"2027-08-02T07:00:00-0800", YMD, "2027-08-02T15:00:00Z"},
		{"2027-08-02T07:00:00+02", YMD, "2027-08-02T05:00:00Z"},
		{"2027-08-02 07:00:00 +02:00", YMD, "2027-08-02T05:00:00Z"},
		{"2027-08-02 07:00:00 UTC", YMD, "2027-08-02T07:00:00Z"},
		{"2027-08-02 07:00:00 GMT+2", YMD, "2027-08-02T05:00:00Z"},
		{"2027-08-02 07:00", YMD, "2027-08-02T07:00:00Z"},
		{"2027-08-02_07:00:05", YMD, "2027-08-02T07:00:05Z"},
		{"2027-08-02, 07:00:05", YMD, "2027-08-02T07:00:05Z"},
		{"2027-08-02 07:00:05,25", YMD, "2027-08-02T07:00:05.25Z"},
		{"20270802T070005.5+0200", YMD, "2027-08-02T05:00:05.5Z"},
		{"20270802070005", YMD, "2027-08-02T07:00:05Z"},
		{"2027/8/2 7:0:5", YMD, "2027-08-02T07:00:05Z"},
		{"2027.8.2 7:00:05.1234567891", YMD, "2027-08-02T07:00:05.123456789Z"},
		{"02/08/2027 07:00:00", DMY, "2027-08-02T07:00:00Z"},
		{"02/08/2027 07:00:00", MDY, "2027-02-08T07:00:00Z"},
		{"02/08/2027 07:00:00", YMD, ""},
		{"02/08/2027 07:00:00", Auto, ""},
		{"27/08/02 07:00:00", YMD, "2027-08-02T07:00:00Z"},
		{"2/8/27 12:00 AM", DMY, "2027-08-02T00:00:00Z"},
		{"2/8/27 12:00:30 pm", DMY, "2027-08-02T12:00:30Z"},
		{"2/8/27 1:00:30PM", DMY, "2027-08-02T13:00:30Z"},
		{"27.May.2021 16:24:2", YMD, "2021-05-27T16:24:02Z"},
		{"2 August 2027 07:00", YMD, "2027-08-02T07:00:00Z"},
		{"02-Aug-27 07:00", MDY, "2027-08-02T07:00:00Z"},
		{"14:53:9 8/2/2011", MDY, "2011-08-02T14:53:09Z"},
		{"2016-12-31T23:59:60Z", YMD, "2017-01-01T00:00:00Z"},
		{"2028-02-29 00:00:00", YMD, "2028-02-29T00:00:00Z"},
		{"2027-02-29 00:00:00", YMD, ""},
		{"45/25/2165 45:85:85", DMY, ""},
		{"2027-08-02 24:00:00", YMD, ""},
		{"2027-08-02 07:60:00", YMD, ""},
		{"2027-08-02 07:00:61", YMD, ""},
		{"2027-13-02 07:00:00", YMD, ""},
		{"2027-08-02 07:00:00 noon", YMD, ""},
		{"2027-08-02 07:00:00 CST", YMD, ""}, // which of them?
		{"2027-08/02 07:00:00", YMD, ""},
		{"2027-08-02T07:00:1 Z", YMD, ""}, // a digit lost
		{"2027-08-02T07:0", YMD, ""},
		{"2027-08-02T07:00:00+19:00", YMD, ""},
		{"2027-08-02T07:00:00+2:5", YMD, ""},
		{"2027-08-02 13:00 PM", YMD, ""},
		{"2027-08-02 0:30 PM", YMD, ""},
		{"27.Mai.2021 16:24:2", YMD, ""},
		{"27.aym.2021 16:24:2", YMD, ""},
		{"", YMD, ""}, {"-", YMD, ""}, {"::", YMD, ""}, {"1", YMD, ""}, {"1.5", YMD, ""}, {"1.2.3", DMY, ""}, {"2027-", YMD, ""}, {"2027-08-", YMD, ""}, {"07:", YMD, ""},
	} {
		s, form := parseStamp([]byte(tt.in), tt.order)
		ok := form && s.valid()
		if tt.want == "" {
			if ok {
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
func TestMidnight(t *testing.T) {
	for d := time.Date(1900, 1, 1, 0, 0, 0, 0, time.UTC); d.Year() < 2300; d = d.AddDate(0, 0, 17) {
		s, form := parseStamp([]byte(d.Format("2006-01-02")), YMD)
		if !form || s.midnight() != d.Unix() {
			t.Fatalf("%v: %d, want %d", d, s.midnight(), d.Unix())
		}
	}
}

// All 86,400 times of day, and every byte in every place of one.
func TestEightBytesOfClock(t *testing.T) {
	day := time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC)
	for i := range 86400 {
		text := day.Add(time.Duration(i) * time.Second).Format("15:04:05")
		if got, ok := clock8([]byte(text)); !ok || got != int64(i) {
			t.Fatalf("%s: %d %v, want %d", text, got, ok, i)
		}
	}
	for _, bad := range []string{"24:00:00", "29:59:59", "00:60:00", "00:00:60", "99:99:99"} {
		if got, ok := clock8([]byte(bad)); ok {
			t.Errorf("%s: %d", bad, got)
		}
	}
	for i := range 8 {
		for c := range 256 {
			b := []byte("12:34:56")
			b[i] = byte(c)
			got, ok := clock8(b)
			s, form := parseStamp(b, YMD)
			want := form && s.valid() && s.sec < 60 && fmt.Sprintf("%02d:%02d:%02d", s.hour, s.minute, s.sec) == string(b)
			if ok != want || ok && got != s.clock() {
				t.Errorf("%q: %d %v, parseStamp %d %v", b, got, ok, s.clock(), want)
			}
		}
	}
}

// Offsets of the zone by the standard library, around both changes of a year and
// at a zone that changed at one minute past midnight.
func TestZones(t *testing.T) {
	for _, name := range []string{"Europe/Madrid", "America/Chicago", "America/St_Johns", "Australia/Lord_Howe", "Asia/Kathmandu"} {
		zone, err := time.LoadLocation(name)
		require.NoError(t, err)
		for _, year := range []int{2005, 2024} {
			var cache zoneCache
			from := time.Date(year, 1, 1, 0, 0, 0, 0, time.UTC).Unix()
			for civil := from; civil < from+366*86400; civil += 597 {
				c := time.Unix(civil, 0).UTC()
				want := time.Date(c.Year(), c.Month(), c.Day(), c.Hour(), c.Minute(), c.Second(), 0, zone).Unix()
				if got := civil - cache.offset(civil, zone); got != want {
					t.Fatalf("%s %v: %d, want %d", name, c, got, want)
				}
			}
		}
	}
}

func TestLeapSecond(t *testing.T) {
	recs, _, err := drain(t, strings.NewReader("time,light\n2016-12-31T23:59:59Z,1\n2016-12-31T23:59:60Z,2\n2017-01-01T00:00:00Z,3\n"), Options{})
	require.NoError(t, err)
	if !recs[1].Leap || recs[0].Leap || recs[2].Leap || !recs[1].Time.Equal(recs[2].Time) {
		t.Errorf("%+v", recs)
	}
}

// A time of day moves on at midnight, and back in a file that is newest first.
func TestOverMidnight(t *testing.T) {
	for in, want := range map[string][]string{
		"23:59:58,1\n23:59:59,2\n00:00:00,3\n00:00:01,4\n": {"2027-08-02T23:59:58Z", "2027-08-03T00:00:01Z"},
		"00:00:02,1\n00:00:01,2\n23:59:59,3\n23:59:58,4\n": {"2027-08-02T00:00:02Z", "2027-08-01T23:59:58Z"},
		"07:00:00,1\n07:00:01,2\n06:59:00,3\n06:59:01,4\n": {"2027-08-02T07:00:00Z", "2027-08-02T06:59:01Z"},
	} {
		recs, _, err := drain(t, strings.NewReader(in), Options{Name: "20270802.csv"})
		require.NoError(t, err)
		if !recs[0].Time.Equal(at(t, want[0])) || !recs[3].Time.Equal(at(t, want[1])) {
			t.Errorf("%q: %v to %v, want %v", in, recs[0].Time, recs[3].Time, want)
		}
	}
}

func TestDateInName(t *testing.T) {
	for name, want := range map[string]string{
		"20270802.csv": "2027-08-02", "a/b/log-2027-08-02.txt": "2027-08-02", "log_2027_08_02": "2027-08-02", "20270802T070000.csv": "2027-08-02",
		"20279902.csv": "", "1234202708021.csv": "", "2027-0802.csv": "", "log.csv": "", "20270802/log.csv": "",
	} {
		got := dateInName(name)
		if want == "" && !got.IsZero() || want != "" && got.Format("2006-01-02") != want {
			t.Errorf("%s: %v, want %s", name, got, want)
		}
	}
}
