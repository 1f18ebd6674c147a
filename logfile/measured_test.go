package logfile

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
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

// What stands in these logs, counted by a few lines of another language and by eye:
// lines of each kind, light, first and last instant. Where nothing tells which
// column is light, or the order of dates, or where there is no time, the file is
// refused, and decides is the option that the refusal must name.
func TestMeasuredLogs(t *testing.T) {
	day := time.Date(2024, 4, 8, 0, 0, 0, 0, time.UTC)
	chicago, err := time.LoadLocation("America/Chicago")
	require.NoError(t, err)
	bogota := time.FixedZone("", -5*3600)
	starts := monthly(10) // invented: these loggers told nobody when they were switched on
	seen := map[string]bool{}
	for _, tt := range []struct {
		name        string
		opt         Options
		decides     string
		delimiter   byte
		lines       Accounts
		light       int // its column, from 1; 0 for none
		order       Direction
		first, last string
	}{
		{"eclipse/2015-03-20_lyngby_overcast_irradiance_1min.csv.gz", Options{}, "", ',', Accounts{Records: 4320, Headers: 1}, 2, Ascending, "2015-03-19T00:00:00Z", "2015-03-21T23:59:00Z"},
		{"eclipse/2017-08-21_medellin_lux_5s.csv", Options{Name: "2017-08-21_medellin_lux_5s.csv", Zone: bogota}, "", ',', Accounts{Records: 1140}, 2, Ascending, "2017-08-21T18:33:30Z", "2017-08-21T20:09:07Z"},
		{"eclipse/2017-08-21_medellin_lux_5s.csv", Options{}, "date", 0, Accounts{Problems: 1140}, 0, Undirected, "", ""},
		{"eclipse/2019-07-02_chile_camera_sum_45s.txt", Options{Light: "W_sum"}, "", ' ', Accounts{Records: 81, Headers: 1}, 10, Ascending, "2019-07-02T19:04:01Z", "2019-07-02T21:49:00Z"},
		{"eclipse/2019-07-02_chile_camera_sum_45s.txt", Options{}, "light", 0, Accounts{Problems: 82}, 0, Undirected, "", ""},
		{"eclipse/2024-04-08_conway_lux_uv_30s.csv", Options{Zone: chicago, Date: day}, "", ',', Accounts{Records: 454, Headers: 1}, 2, Ascending, "2024-04-08T16:02:14Z", "2024-04-08T19:48:44Z"},
		{"eclipse/2024-04-08_illinois_partial_clean_counts_24s.csv", Options{Zone: chicago}, "", ',', Accounts{Records: 2253, Headers: 1}, 2, Ascending, "2024-04-08T10:00:05Z", "2024-04-09T01:59:39Z"},
		{"eclipse/2024-04-08_indiana_total_clean_counts_16s.csv", Options{}, "", ',', Accounts{Records: 3148, Headers: 1}, 2, Ascending, "2024-04-08T10:00:05Z", "2024-04-09T01:59:49Z"},
		{"eclipse/2024-04-08_kentucky_obstructed_counts_16s.csv", Options{}, "", ',', Accounts{Records: 3178, Headers: 1}, 2, Ascending, "2024-04-08T10:00:08Z", "2024-04-09T01:59:55Z"},
		{"eclipse/2024-04-08_michigan_newest_first_counts_16s.csv", Options{}, "", ',', Accounts{Records: 3144, Headers: 1}, 2, Descending, "2024-04-09T01:59:50Z", "2024-04-08T10:00:06Z"},
		{"eclipse/2024-04-08_missouri_deep_partial_clean_counts_16s.csv", Options{}, "", ',', Accounts{Records: 3120, Headers: 1}, 2, Ascending, "2024-04-08T10:00:00Z", "2024-04-09T01:59:57Z"},
		{"eclipse/2024-04-08_ohio_edge_saturated_counts_16s.csv", Options{}, "", ',', Accounts{Records: 3114, Headers: 1}, 2, Ascending, "2024-04-08T10:04:33Z", "2024-04-09T01:59:48Z"},
		{"eclipse/2024-04-08_ohio_total_clouds_counts_16s.csv", Options{}, "", ',', Accounts{Records: 3131, Headers: 1}, 2, Ascending, "2024-04-08T10:00:03Z", "2024-04-09T01:59:58Z"},
		{"eclipse/2024-04-08_ohio_total_counts_16s.csv", Options{}, "", ',', Accounts{Records: 2930, Headers: 1}, 2, Ascending, "2024-04-08T10:00:12Z", "2024-04-09T01:59:44Z"},
		{"eclipse/2024-04-08_unknown_site_temp_hum_press_500ms.csv.gz", Options{}, "", ',', Accounts{Records: 17512, Headers: 1}, 0, Ascending, "2024-04-08T17:51:55.074Z", "2024-04-08T20:18:58.264Z"},
		{"eclipse/control_2024-04-08_lyngby_no_eclipse_irradiance_1min.csv", Options{}, "", ',', Accounts{Records: 1440, Headers: 1}, 2, Ascending, "2024-04-08T00:00:00Z", "2024-04-08T23:59:00Z"},
		{"eclipse/control_2024-04-09_illinois_counts_24s.csv", Options{}, "", ',', Accounts{Records: 2401, Headers: 1}, 2, Ascending, "2024-04-09T10:00:00Z", "2024-04-10T01:59:58Z"},
		{"eclipse/control_2024-06-25_lyngby_clear_irradiance_1min.csv", Options{}, "", ',', Accounts{Records: 1440, Headers: 1}, 2, Ascending, "2024-06-25T00:00:00Z", "2024-06-25T23:59:00Z"},
		{"eclipse/control_2024-07-07_lyngby_broken_cloud_irradiance_1min.csv", Options{}, "", ',', Accounts{Records: 1440, Headers: 1}, 2, Ascending, "2024-07-07T00:00:00Z", "2024-07-07T23:59:00Z"},
		{"eclipse/sites.csv", Options{}, "columns", 0, Accounts{Headers: 1, Problems: 17}, 0, Undirected, "", ""}, // a table of places, no log

		{"loggers/button_thermometer_mixed_eol_latin1.csv", Options{}, "", ',', Accounts{Records: 1587, Headers: 1, Comments: 13, Blanks: 1}, 0, Ascending, "2012-10-11T12:01:00Z", "2012-12-16T14:01:00Z"},
		{"loggers/co2_blank_first_line_utc_z.csv", Options{}, "", ',', Accounts{Records: 592, Headers: 1, Blanks: 1}, 0, Ascending, "2019-06-18T03:17:46.034Z", "2019-06-18T19:38:44.301Z"},
		{"loggers/event_lines_rebooted.txt", Options{Light: "5", Order: MDY}, "", ' ', Accounts{Records: 332, Problems: 11}, 5, Ascending, "2011-08-02T14:53:09Z", "2011-08-02T15:38:23Z"},
		{"loggers/event_lines_rebooted.txt", Options{Light: "5"}, "order", 0, Accounts{Problems: 343}, 0, Undirected, "", ""},
		{"loggers/event_lines_rebooted.txt", Options{Order: MDY}, "light", 0, Accounts{Problems: 343}, 0, Undirected, "", ""},
		{"loggers/hourly_semicolon_decimal_comma.csv", Options{Light: "SO %"}, "", ';', Accounts{Records: 378, Headers: 1}, 16, Ascending, "2022-10-25T00:00:00Z", "2022-10-25T23:00:00Z"},
		{"loggers/hourly_semicolon_decimal_comma.csv", Options{}, "light", 0, Accounts{Problems: 379}, 0, Undirected, "", ""},
		{"loggers/light_epoch_ms_blank_lines.csv", Options{}, "", ',', Accounts{Records: 6364, Blanks: 6364}, 2, Ascending, "2021-08-30T10:17:52.717Z", "2021-09-03T13:46:32.271Z"},
		{"loggers/light_temp_bom_15min.csv", Options{}, "", ',', Accounts{Records: 9682, Headers: 1}, 4, Ascending, "2025-05-08T09:00:00Z", "2025-08-17T05:15:00Z"},
		{"loggers/millis_uv_pressure.csv", Options{Starts: starts[:1], Tick: time.Millisecond}, "", ',', Accounts{Records: 4939, Headers: 1, Problems: 1}, 0, Ascending, "2027-08-02T07:00:00Z", "2027-08-02T07:03:43.564Z"},
		{"loggers/millis_uv_pressure.csv", Options{Starts: starts[:1]}, "tick", 0, Accounts{Headers: 1, Problems: 4940}, 0, Undirected, "", ""},
		{"loggers/millis_uv_pressure.csv", Options{}, "starts", 0, Accounts{Headers: 1, Problems: 4940}, 0, Undirected, "", ""},
		{"loggers/month_name_no_zero_pad.txt", Options{Light: "5"}, "", ',', Accounts{Records: 6648}, 5, Ascending, "2021-05-27T16:23:42Z", "2021-05-28T11:11:04Z"},
		{"loggers/nul_bytes_counter.csv", Options{}, "columns", 0, Accounts{Problems: 5}, 0, Undirected, "", ""},
		{"loggers/nul_bytes_counter_b.csv", Options{}, "columns", 0, Accounts{Problems: 170}, 0, Undirected, "", ""},
		{"loggers/panel_battery_epoch_seconds.csv", Options{}, "", ',', Accounts{Records: 273}, 3, Ascending, "2020-07-07T09:25:01Z", "2020-07-08T09:21:04Z"},
		{"loggers/panel_battery_seconds_since_boot.csv", Options{Starts: starts, Tick: time.Second, Light: "2"}, "", ',', Accounts{Records: 8464, Problems: 2}, 2, Ascending, "2027-08-02T07:05:14Z", "2028-05-03T21:00:20Z"},
		{"loggers/panel_battery_seconds_since_boot.csv", Options{Starts: starts[:2], Tick: time.Second, Light: "2"}, "", ',', Accounts{Records: 3829, Problems: 4637}, 2, Ascending, "2027-08-02T07:05:14Z", "2027-09-05T07:50:14Z"},
		{"loggers/panel_battery_seconds_since_boot.csv", Options{Columns: []Role{Time, Light, Skip, Skip, Skip}, Starts: starts, Tick: time.Second}, "", ',', Accounts{Records: 8464, Problems: 2}, 2, Ascending, "2027-08-02T07:05:14Z", "2028-05-03T21:00:20Z"},
		{"loggers/panel_battery_seconds_since_boot.csv", Options{Starts: starts}, "tick", 0, Accounts{Problems: 8466}, 0, Undirected, "", ""},
		{"loggers/panel_battery_seconds_since_boot.csv", Options{}, "starts", 0, Accounts{Problems: 8466}, 0, Undirected, "", ""},
		{"loggers/plant_millis_resets.csv", Options{Starts: starts[:3], Tick: time.Millisecond, Light: "8"}, "", ',', Accounts{Records: 43}, 8, Ascending, "2027-08-02T07:00:01.405Z", "2027-10-01T07:00:01.376Z"},
		{"loggers/plant_millis_resets.csv", Options{Starts: starts[:1], Tick: time.Millisecond, Light: "8"}, "", ',', Accounts{Records: 18, Problems: 25}, 8, Ascending, "2027-08-02T07:00:01.405Z", "2027-08-02T15:00:17.601Z"},
		{"loggers/plant_millis_resets.csv", Options{}, "starts", 0, Accounts{Problems: 43}, 0, Undirected, "", ""},
		{"loggers/quoted_date_reset_2000.csv", Options{Columns: []Role{Date, Clock, Temp, Skip, Skip, Humidity, Skip, Light, Skip}}, "", ',', Accounts{Records: 3}, 8, Mixed, "2019-07-03T13:41:39Z", "2019-07-03T14:12:25Z"},
		{"loggers/quoted_date_reset_2000.csv", Options{}, "light", 0, Accounts{Problems: 3}, 0, Undirected, "", ""},
		{"loggers/quoted_time_before_date.csv", Options{Light: "7"}, "", ',', Accounts{Records: 3657}, 7, Ascending, "2019-08-23T18:24:02Z", "2019-09-21T15:57:27Z"},
		{"loggers/rtc_garbage_date_two_temps.txt", Options{Columns: []Role{Date, Clock, Temp, Skip}}, "", ' ', Accounts{Problems: 9088}, 0, Undirected, "", ""},
		{"loggers/units_inside_cells.csv", Options{}, "", ',', Accounts{Records: 19}, 4, Mixed, "2021-06-09T11:46:46Z", "2021-06-18T17:33:46Z"},
	} {
		seen[tt.name] = true
		t.Run(filepath.Base(tt.name)+" "+tt.decides, func(t *testing.T) {
			b := measured(t, tt.name)
			recs, rep, err := drain(t, bytes.NewReader(b), tt.opt)
			lawful(t, rep, int64(len(b)))
			if rep.Lines != tt.lines || rep.Order != tt.order {
				t.Errorf("%+v, %v; want %+v, %v: %v", rep.Lines, rep.Order, tt.lines, tt.order, err)
			}
			if tt.decides != "" {
				if e := (*LayoutError)(nil); !errors.As(err, &e) || e.Decides != tt.decides {
					t.Errorf("%v, want a refusal that %q decides", err, tt.decides)
				}
				return
			}
			require.NoError(t, err)
			if l := rep.Layout; l.has(Light)+1 != tt.light || l.Delimiter != tt.delimiter || l.DecimalComma != (tt.delimiter == ';') {
				t.Errorf("cut at %q, light is column %d of %s, want %q and %d", l.Delimiter, l.has(Light)+1, l.names(), tt.delimiter, tt.light)
			}
			if tt.first == "" {
				return // no record
			}
			if first, last := recs[0].Time, recs[len(recs)-1].Time; !first.Equal(at(t, tt.first)) || !last.Equal(at(t, tt.last)) {
				t.Errorf("from %v to %v, want %s to %s", first, last, tt.first, tt.last)
			}
		})
	}
	names, err := filepath.Glob("../../shared/data/*/*")
	require.NoError(t, err)
	for _, name := range names {
		if short := filepath.Base(filepath.Dir(name)) + "/" + filepath.Base(name); !seen[short] {
			t.Errorf("nothing is known of %s", short)
		}
	}
}

// monthly are instants thirty days apart.
func monthly(n int) (out []time.Time) {
	for i := range n {
		out = append(out, time.Date(2027, 8, 2+30*i, 7, 0, 0, 0, time.UTC))
	}
	return out
}

// Of the counts since the start: how often it began again, and where; counted by a few
// lines of another language. Of the clock that was never set: what its lines are.
func TestMeasuredClocks(t *testing.T) {
	panel := []int{2670, 3830, 7844, 8019, 8041, 8070, 8094, 8265, 8333}
	for _, tt := range []struct {
		name     string
		opt      Options
		starts   int
		restarts []int // lines
		problems string
	}{
		{"loggers/panel_battery_seconds_since_boot.csv", Options{Starts: monthly(10), Tick: time.Second, Light: "2"}, 10, panel, "map[unreadable stamp:2]"},
		{"loggers/panel_battery_seconds_since_boot.csv", Options{Starts: monthly(2), Tick: time.Second, Light: "2"}, 10, panel[:1], "map[unreadable stamp:2 a count since a start that nobody gave:4635]"},
		{"loggers/plant_millis_resets.csv", Options{Starts: monthly(3), Tick: time.Millisecond, Light: "8"}, 3, []int{19, 43}, "map[]"},
		{"loggers/millis_uv_pressure.csv", Options{Starts: monthly(1), Tick: time.Millisecond}, 1, nil, "map[torn line:1]"},
		{"loggers/rtc_garbage_date_two_temps.txt", Options{Columns: []Role{Date, Clock, Temp, Skip}}, 0, nil, "map[a time that does not exist:9088]"},
	} {
		b := measured(t, tt.name)
		recs, rep, err := drain(t, bytes.NewReader(b), tt.opt)
		require.NoError(t, err)
		lawful(t, rep, int64(len(b)))
		var restarts []int
		for _, e := range Events(recs) {
			if e.Kind == Restart {
				restarts = append(restarts, e.Line)
			}
		}
		if rep.Starts != tt.starts || !slices.Equal(restarts, tt.restarts) || fmt.Sprint(rep.ByKind) != tt.problems {
			t.Errorf("%s: %d starts, again at %v, %v; want %d, %v, %s", tt.name, rep.Starts, restarts, rep.ByKind, tt.starts, tt.restarts, tt.problems)
		}
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
