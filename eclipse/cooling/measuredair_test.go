package cooling_test

import (
	"context"
	"errors"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/cooling"
	"example.org/noonfall/eclipse/internal/quantile"
	"example.org/noonfall/sensor/air"
	"example.org/noonfall/sun"
)

// Real air is rougher than made-up air, and no model's own: into measured days without
// (or hardly with) an eclipse a fall of 3 degrees, 12 min late, is laid, and the intervals
// must hold it. The stretches overlap and come from five days, so that they are no
// independent witnesses; the bound is the binomial one of five days, 92 % less two standard
// deviations, that is 67 %.
func TestFallsInMeasuredAir(t *testing.T) {
	const drop, late = 3.0, 720.0
	curve, err := curveOf("2015-03-20", sun.Site{Lat: 55.79064, Lon: 12.52505, Height: 50})
	require.NoError(t, err)
	shape := delayed(curve, late)
	day := time.Date(2015, 3, 20, 0, 0, 0, 0, time.UTC)
	n, refused := 0, 0
	var held [2]int
	var offs, halves [2][]float64
	for _, file := range []string{"2015-03-20_lyngby_overcast_irradiance_1min.csv.gz", "control_2024-04-08_lyngby_no_eclipse_irradiance_1min.csv",
		"control_2024-06-25_lyngby_clear_irradiance_1min.csv", "control_2024-07-07_lyngby_broken_cloud_irradiance_1min.csv"} {
		all := column(t, file, "Time(utc)", "air_temperature", minuteStamp)
		first := all[0].UTC.Truncate(24 * time.Hour)
		for d := first; d.Before(all[len(all)-1].UTC.Add(-12 * time.Hour)); d = d.Add(24 * time.Hour) {
			if d.Equal(day) {
				continue // its own small fall is there already
			}
			for hours := -1; hours <= 3; hours += 2 {
				move := day.Sub(d) - time.Duration(hours)*time.Hour
				var in []cooling.Reading
				for _, q := range all {
					at := q.UTC.Add(move)
					in = append(in, cooling.Reading{UTC: at, C: math.Round(10*(q.C-drop*shape(at))) / 10})
				}
				r, err := cooling.Measure(context.Background(), in, curve, cooling.Options{Thermometer: air.Thermometer{Tau: time.Second}})
				if no := (*cooling.Refusal)(nil); errors.As(err, &no) {
					refused++
					t.Logf("%s %s %+d h: %v", file, d.Format(time.DateOnly), hours, err)
					continue
				}
				require.NoError(t, err)
				n++
				for i, q := range []struct {
					got   cooling.Value
					truth float64
				}{{r.Drop, drop}, {r.Lag, late}} {
					if q.got.CI95[0] <= q.truth && q.truth <= q.got.CI95[1] {
						held[i]++
					}
					offs[i], halves[i] = append(offs[i], math.Abs(q.got.Value-q.truth)), append(halves[i], (q.got.CI95[1]-q.got.CI95[0])/2)
				}
			}
		}
	}
	for i, name := range []string{"drop", "lag"} {
		t.Logf("%s: %d of %d hold, %d refused, scatter %.2f, half-width %.2f", name, held[i], n, refused, 1.4826*quantile.Median(offs[i]), quantile.Median(halves[i]))
		if !(float64(held[i]) >= 0.67*float64(n)) {
			t.Errorf("%d of %d intervals hold the %s", held[i], n, name)
		}
	}
	if !(n >= 2*refused) {
		t.Errorf("%d told, %d refused", n, refused)
	}
}

// The two real logs by plain figures, taken from them without this package. Half-second
// log: means of a minute fall from 34.2 degrees at the greatest to 25.8 near 19:05.
// Minute log under thick cloud: between first and last contact the air moved by 1.2 degrees,
// and was coldest an hour before maximum.
func TestMeasuredFigures(t *testing.T) {
	fast := column(t, "2024-04-08_unknown_site_temp_hum_press_500ms.csv.gz", "timestamp", "temperature", milliStamp)
	high, low, at := span(fast, 60*time.Second)
	if !(math.Abs(high-34.2) <= 0.05 && math.Abs(low-25.8) <= 0.05 && at.Format("15:04") == "19:05") {
		t.Errorf("half-second log: %.2f to %.2f at %s", high, low, at.Format(time.TimeOnly))
	}
	place, err := curveOf("2024-04-08", sun.Site{Lat: 35.08, Lon: -92.46})
	require.NoError(t, err)
	r, err := cooling.Measure(context.Background(), fast, place, cooling.Options{})
	require.NoError(t, err)
	// The air itself was a little colder than a lagging thermometer's least, and its fall
	// no more than the raw one and what a spring morning still gains in its last hour.
	if !(r.MinC > low-0.5 && r.MinC < low+1.2 && r.Drop.CI95[0] < high-low && r.Drop.CI95[1] > high-low-2) {
		t.Errorf("drop %+v, coldest %.2f; raw %.2f to %.2f", r.Drop, r.MinC, high, low)
	}
	slow := column(t, "2015-03-20_lyngby_overcast_irradiance_1min.csv.gz", "Time(utc)", "air_temperature", minuteStamp)
	curve, err := curveOf("2015-03-20", sun.Site{Lat: 55.79064, Lon: 12.52505, Height: 50})
	require.NoError(t, err)
	c := curve.Circumstances()
	var within []cooling.Reading
	for _, q := range slow {
		if q.UTC.After(c.C1.UTC) && q.UTC.Before(c.C4.UTC) {
			within = append(within, q)
		}
	}
	h2, l2, a2 := span(within, time.Minute)
	if !(h2 == 5.2 && l2 == 4.0 && a2.Format("15:04") == "08:45") { // tenths as printed
		t.Errorf("minute log: %.2f to %.2f at %s", h2, l2, a2.Format(time.TimeOnly))
	}
}
