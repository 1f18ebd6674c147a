package logfile

import (
	"bytes"
	"compress/gzip"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"github.com/stretchr/testify/require"
)

// measured returns a log that is no part of the project, or skips.
func measured(t *testing.T, name string) []byte {
	t.Helper()
	f, err := os.Open(filepath.Join("../../shared/data", name))
	if errors.Is(err, os.ErrNotExist) {
		t.Skip("no measured logs beside the project")
	}
	require.NoError(t, err)
	defer f.Close()
	var in io.Reader = f
	if strings.HasSuffix(name, ".gz") {
		in, err = gzip.NewReader(f)
		require.NoError(t, err)
	}
	b, err := io.ReadAll(in)
	require.NoError(t, err)
	return b
}

// What the keepers of these logs say of them: rows, first and last instant.
func TestMeasuredLogs(t *testing.T) {
	day := time.Date(2024, 4, 8, 0, 0, 0, 0, time.UTC)
	chicago, err := time.LoadLocation("America/Chicago")
	require.NoError(t, err)
	for _, tt := range []struct {
		name        string
		opt         Options
		lines       Accounts
		light       string
		order       Direction
		first, last string
	}{
		{"eclipse/2024-04-08_conway_lux_uv_30s.csv", Options{Zone: chicago, Date: day}, Accounts{Records: 454, Headers: 1}, "Run 2: Illumination (lux)", Ascending, "2024-04-08T16:02:14Z", "2024-04-08T19:48:44Z"},
		{"eclipse/2024-04-08_indiana_total_clean_counts_16s.csv", Options{}, Accounts{Records: 3148, Headers: 1}, "clear", Ascending, "2024-04-08T10:00:05Z", "2024-04-09T01:59:49Z"},
		{"eclipse/2024-04-08_illinois_partial_clean_counts_24s.csv", Options{Zone: chicago}, Accounts{Records: 2253, Headers: 1}, "clear", Ascending, "2024-04-08T10:00:05Z", "2024-04-09T01:59:39Z"},
		{"eclipse/2024-04-08_michigan_newest_first_counts_16s.csv", Options{}, Accounts{Records: 3144, Headers: 1}, "clear", Descending, "2024-04-09T01:59:50Z", "2024-04-08T10:00:06Z"},
		{"eclipse/control_2024-06-25_lyngby_clear_irradiance_1min.csv", Options{}, Accounts{Records: 1440, Headers: 1}, "GHI", Ascending, "2024-06-25T00:00:00Z", "2024-06-25T23:59:00Z"},
		{"eclipse/2015-03-20_lyngby_overcast_irradiance_1min.csv.gz", Options{}, Accounts{Records: 4320, Headers: 1}, "GHI", Ascending, "2015-03-19T00:00:00Z", "2015-03-21T23:59:00Z"},
		{"eclipse/2017-08-21_medellin_lux_5s.csv", Options{Name: "2017-08-21_medellin_lux_5s.csv", Zone: time.FixedZone("", -5*3600)}, Accounts{Records: 1140}, "", Ascending, "2017-08-21T18:33:30Z", "2017-08-21T20:09:07Z"},
		{"eclipse/2019-07-02_chile_camera_sum_45s.txt", Options{Light: "W_sum"}, Accounts{Records: 81, Headers: 1}, "W_sum", Ascending, "2019-07-02T19:04:01Z", "2019-07-02T21:49:00Z"},
		{"loggers/button_thermometer_mixed_eol_latin1.csv", Options{}, Accounts{Records: 1587, Headers: 1, Comments: 13, Blanks: 1}, "Value", Ascending, "2012-10-11T12:01:00Z", "2012-12-16T14:01:00Z"},
		{"loggers/light_temp_bom_15min.csv", Options{}, Accounts{Records: 9682, Headers: 1}, "Intensity.lum.per.sqft", Ascending, "2025-05-08T09:00:00Z", "2025-08-17T05:15:00Z"},
		{"loggers/quoted_time_before_date.csv", Options{Light: "7"}, Accounts{Records: 3657}, "", Ascending, "2019-08-23T18:24:02Z", "2019-09-21T15:57:27Z"},
		{"loggers/quoted_date_reset_2000.csv", Options{Columns: []Role{Date, Clock, Temp, Skip, Skip, Humidity, Skip, Light, Skip}}, Accounts{Records: 3}, "", Mixed, "2019-07-03T13:41:39Z", "2019-07-03T14:12:25Z"},
		{"loggers/month_name_no_zero_pad.txt", Options{Light: "5"}, Accounts{Records: 6648}, "", Ascending, "2021-05-27T16:23:42Z", "2021-05-28T11:11:04Z"},
		{"loggers/light_epoch_ms_blank_lines.csv", Options{Light: "2"}, Accounts{Records: 6364, Blanks: 6364}, "", Ascending, "2021-08-30T15:47:00Z", "2021-09-03T19:16:00Z"},
		{"loggers/panel_battery_epoch_seconds.csv", Options{Light: "3"}, Accounts{Records: 273}, "", Ascending, "2020-07-07T09:25:01Z", "2020-07-08T09:21:04Z"},
	} {
		t.Run(filepath.Base(tt.name), func(t *testing.T) {
			b := measured(t, tt.name)
			recs, rep, err := drain(t, bytes.NewReader(b), tt.opt)
			require.NoError(t, err)
			lawful(t, rep, int64(len(b)))
			if rep.Lines != tt.lines || rep.Order != tt.order {
				t.Errorf("%+v, %v; want %+v, %v", rep.Lines, rep.Order, tt.lines, tt.order)
			}
			if i := rep.Layout.has(Light); i < 0 || rep.Layout.Columns[i].Name != tt.light {
				t.Errorf("light is column %d of %s, want %q", i+1, rep.Layout.names(), tt.light)
			}
			if first, last := recs[0].Time, recs[len(recs)-1].Time; !first.Equal(at(t, tt.first)) || !last.Equal(at(t, tt.last)) {
				t.Errorf("from %v to %v, want %s to %s", first, last, tt.first, tt.last)
			}
		})
	}
}

// Whatever the loggers of the measured folder wrote: no panic, every byte, and
// the same by the careful way and a byte at a time.
func TestAnyMeasuredLog(t *testing.T) {
	names, err := filepath.Glob("../../shared/data/*/*")
	require.NoError(t, err)
	if len(names) == 0 {
		t.Skip("no measured logs beside the project")
	}
	for _, name := range names {
		b := measured(t, filepath.Join(filepath.Base(filepath.Dir(name)), filepath.Base(name)))
		opt := Options{Name: "20240408.csv"}
		recs, rep, err := drain(t, bytes.NewReader(b), opt)
		lawful(t, rep, int64(len(b)))
		r := NewReader(iotest.OneByteReader(bytes.NewReader(b)), opt)
		r.slow = true
		recs1, rep1, err1 := walk(t, r)
		if !same(recs, recs1) || rep.Lines != rep1.Lines || (err == nil) != (err1 == nil) {
			t.Errorf("%s: the ways differ: %v %v", filepath.Base(name), rep, rep1)
		}
	}
}

// same compares records, NaN for NaN.
func same(a, b []Record) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if !a[i].saysTheSame(b[i]) || a[i].Line != b[i].Line || a[i].Offset != b[i].Offset {
			return false
		}
	}
	return true
}
