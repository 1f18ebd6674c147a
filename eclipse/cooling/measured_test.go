package cooling_test

import (
	"context"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/cooling"
	"example.org/noonfall/sun"
	"example.org/noonfall/testdata/references"
)

// measured is where logs of real days lie, beside the module; they are no part of it.
const measured = "../../../shared/data/eclipse"

// column reads a log's stamps and temperatures; the test skips where it is absent.
func column(t *testing.T, file, stamp, temp string, parse func(string) (time.Time, error)) (out []cooling.Reading) {
	t.Helper()
	path := filepath.Join(measured, file)
	if _, err := os.Stat(path); err != nil {
		t.Skipf("no measured log: %v", err)
	}
	for _, row := range references.File(t, path) {
		utc, err := parse(row.Text(t, stamp))
		require.NoError(t, err)
		c, err := strconv.ParseFloat(row.Text(t, temp), 64)
		if err == nil {
			out = append(out, cooling.Reading{UTC: utc, C: c})
		}
	}
	return out
}

func minuteStamp(s string) (time.Time, error) { return time.Parse(time.DateTime, s) }

func milliStamp(s string) (time.Time, error) {
	ms, err := strconv.ParseInt(s, 10, 64)
	return time.UnixMilli(ms).UTC(), err
}

// span is the greatest and the least of means over a width, and when that was.
func span(all []cooling.Reading, width time.Duration) (high, low float64, at time.Time) {
	high, low = math.Inf(-1), math.Inf(1)
	for i := 0; i < len(all); {
		from, sum, n := all[i].UTC, 0.0, 0.0
		for ; i < len(all) && all[i].UTC.Sub(from) < width; i++ {
			sum, n = sum+all[i].C, n+1
		}
		high = math.Max(high, sum/n)
		if sum/n < low {
			low, at = sum/n, from.Add(width/2)
		}
	}
	return high, low, at
}

// Under thick cloud the air near Copenhagen hardly moved (the data's own note): whatever
// is said must be small, as published from cloudy places that day, 0.31 +- 0.40 degrees
// (testdata/references/eclipse_temperature.csv).
func TestOvercastDay(t *testing.T) {
	readings := column(t, "2015-03-20_lyngby_overcast_irradiance_1min.csv.gz", "Time(utc)", "air_temperature", minuteStamp)
	curve, err := curveOf("2015-03-20", sun.Site{Lat: 55.79064, Lon: 12.52505, Height: 50})
	require.NoError(t, err)
	r, err := cooling.Measure(context.Background(), readings, curve, cooling.Options{})
	t.Logf("%+v", err)
	if no := (*cooling.Refusal)(nil); errors.As(err, &no) {
		if no.Reason != cooling.NoDrop && no.Reason != cooling.TooCoarse {
			t.Errorf("refused with %v", no)
		}
		return
	}
	require.NoError(t, err)
	t.Logf("drop %+v, lag %+v", r.Drop, r.Lag)
	if !(r.Drop.Value < 0.31+2*0.40) {
		t.Errorf("the air fell by %.2f degrees", r.Drop.Value)
	}
}

// Days without eclipse at the same place, laid on the eclipse's hours of another day:
// none may be found.
func TestMeasuredControls(t *testing.T) {
	curve, err := curveOf("2015-03-20", sun.Site{Lat: 55.79064, Lon: 12.52505, Height: 50})
	require.NoError(t, err)
	for _, file := range []string{"control_2024-04-08_lyngby_no_eclipse_irradiance_1min.csv",
		"control_2024-06-25_lyngby_clear_irradiance_1min.csv", "control_2024-07-07_lyngby_broken_cloud_irradiance_1min.csv"} {
		readings := column(t, file, "Time(utc)", "air_temperature", minuteStamp)
		day := readings[0].UTC.Truncate(24 * time.Hour)
		for i := range readings {
			readings[i].UTC = readings[i].UTC.Add(time.Date(2015, 3, 20, 0, 0, 0, 0, time.UTC).Sub(day))
		}
		r, err := cooling.Measure(context.Background(), readings, curve, cooling.Options{})
		t.Logf("%s: %v", file, err)
		if err == nil {
			t.Errorf("%s: drop %+v", file, r.Drop)
		}
	}
}

// The log of half a second comes from an unknown place in the path: the reading is
// lowest at 19:05 UTC (the data's own note). Taken to be at a place whose maximum is
// ten to fifteen minutes before that, as published lags have it, its fall must be found
// and be no greater than 7 degrees or so above the raw 8.6, and the lag positive.
func TestUnknownPlace(t *testing.T) {
	readings := column(t, "2024-04-08_unknown_site_temp_hum_press_500ms.csv.gz", "timestamp", "temperature", milliStamp)
	curve, err := curveOf("2024-04-08", sun.Site{Lat: 35.08, Lon: -92.46}) // sites.csv has another log from there
	require.NoError(t, err)
	t.Log("maximum there", curve.Circumstances().Max.UTC)
	r, err := cooling.Measure(context.Background(), readings, curve, cooling.Options{})
	require.NoError(t, err)
	t.Logf("drop %+v, lag %+v, tau %+v, lowest %v %.1f, %v", r.Drop, r.Lag, r.Tau, r.Min, r.MinC, r.Warnings)
	if !(r.Drop.CI95[0] > 2 && r.Drop.Value < 10) {
		t.Errorf("drop %+v", r.Drop)
	}
	if d := r.Min.Sub(time.Date(2024, 4, 8, 19, 5, 0, 0, time.UTC)); d.Abs() > 6*time.Minute {
		t.Errorf("lowest at %v, the log's own is 19:05", r.Min)
	}
}
