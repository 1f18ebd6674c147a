package cooling_test

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/cooling"
	"example.org/noonfall/sensor/air"
	"example.org/noonfall/sun"
	"example.org/noonfall/testdata/references"
)

// sites stand for the regions of testdata/references/eclipse_temperature.csv: towns
// there, from memory to a tenth of a degree.
var sites = map[string]sun.Site{
	"UK": {Lat: 52.5, Lon: -1.5}, "UK relatively clear": {Lat: 52.5, Lon: -1.5}, "UK relatively cloudy": {Lat: 52.5, Lon: -1.5},
	"UK screen temperatures": {Lat: 52.5, Lon: -1.5}, "southern UK inland": {Lat: 51.5, Lon: -1.5}, "Reading UK": {Lat: 51.4, Lon: -0.9},
	"Greece": {Lat: 36.1, Lon: 29.6}, "two observers": {Lat: 36.8, Lon: 31.4}, "Kadapa India": {Lat: 14.5, Lon: 78.8},
	"Hopkinsville Kentucky US": {Lat: 36.9, Lon: -87.5}, "Hungary": {Lat: 46.9, Lon: 18.1}, "Spain annular": {Lat: 40.4, Lon: -3.7},
}

// delayed is an answer to the lost light that is deepest so many seconds after maximum, of
// its greatest: through three equal responses in a row, as ground, skin and air might
// be, which is none of the estimator's own.
func delayed(l cooling.Light, late float64) func(time.Time) float64 {
	const step = 20.0 // s
	max := l.Circumstances().Max.UTC
	var from time.Time
	var loss []float64
	for p := range l.All(step * time.Second) {
		if from.IsZero() {
			from = p.UTC
		}
		loss = append(loss, 1-p.Flux)
	}
	loss = append(loss, make([]float64, 3*3600/step)...)
	answer := func(tau float64) (out []float64, most, at float64) {
		var y [3]float64
		for i, x := range loss {
			for k := range y {
				y[k] += (1 - math.Exp(-step/tau)) * (x - y[k])
				x = y[k]
			}
			if out = append(out, x); x > most {
				most, at = x, from.Add(time.Duration(float64(i)*step*1e9)).Sub(max).Seconds()
			}
		}
		return out, most, at
	}
	short, long := step, 3600.0
	for range 30 {
		if _, _, at := answer((short + long) / 2); at < late {
			short = (short + long) / 2
		} else {
			long = (short + long) / 2
		}
	}
	out, most, _ := answer(long)
	return func(t time.Time) float64 {
		x := t.Sub(from).Seconds() / step
		i := int(math.Floor(x))
		if i < 0 || i+1 >= len(out) {
			return 0
		}
		return (out[i] + (x-float64(i))*(out[i+1]-out[i])) / most
	}
}

// afternoon is a made-up day without eclipse, read each minute to a twentieth of a
// degree: a slope, a bend, and gusts of 0.05 degrees forgotten in five minutes.
func afternoon(from, to time.Time, seed uint64, fall func(time.Time) float64) (out []cooling.Reading) {
	r := rand.New(rand.NewPCG(seed, 1))
	keep := math.Exp(-1. / 5)
	gust := 0.0
	for t := from; t.Before(to); t = t.Add(time.Minute) {
		h := t.Sub(from).Hours()
		gust = keep*gust + 0.05*math.Sqrt(1-keep*keep)*r.NormFloat64()
		c := 15 + 0.8*h - 0.1*h*h + gust - fall(t) + 0.03*r.NormFloat64()
		out = append(out, cooling.Reading{UTC: t, C: math.Round(20*c) / 20})
	}
	return out
}

// Every published response must be an answer that this package can give: laid into a
// made-up day at a place of its region it is found within three standard uncertainties,
// and no warning says that no air does so. Where a row has no lag, or no drop, 12 min and
// 1 degree stand for it, which are in the middle of the others. None is refused,
// falls of half a degree neither.
func TestPublishedResponses(t *testing.T) {
	for i, row := range references.Table(t, "eclipse_temperature.csv") {
		day, region, source := row.Text(t, "eclipse_date"), row.Text(t, "region"), row.Text(t, "source")
		t.Run(day+" "+region, func(t *testing.T) {
			site, ok := sites[region]
			require.True(t, ok, "a region without a site")
			drop, lag := 1.0, 12.0
			for to, column := range map[*float64]string{&drop: "drop_degC", &lag: "lag_min"} {
				if row.Text(t, column) != "" {
					*to = row.Number(t, column)
				}
			}
			curve, err := curveOf(day, site)
			require.NoError(t, err)
			c := curve.Circumstances()
			require.NotEqual(t, eclipse.None, c.Seen)
			shape := delayed(curve, 60*lag)
			readings := afternoon(c.C1.UTC.Add(-2*time.Hour), c.C4.UTC.Add(2*time.Hour), uint64(i), func(t time.Time) float64 { return drop * shape(t) })
			r, err := cooling.Measure(context.Background(), readings, curve, cooling.Options{Thermometer: air.Thermometer{Tau: time.Second}})
			require.NoError(t, err)
			t.Logf("drop %.2f, found %.2f +- %.2f; lag %.0f min, found %.1f +- %.1f", drop, r.Drop.Value, r.Drop.U, lag, r.Lag.Value/60, r.Lag.U/60)
			if !(math.Abs(r.Drop.Value-drop) <= 3*r.Drop.U && math.Abs(r.Lag.Value/60-lag) <= 3*r.Lag.U/60) {
				t.Errorf("drop %+v, published %g; lag %+v, published %g min (%s)", r.Drop, drop, r.Lag, lag, source)
			}
			if len(r.Warnings) > 0 {
				t.Errorf("%q of what was published by %s", r.Warnings, source)
			}
		})
	}
}
