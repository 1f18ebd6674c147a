package station

import (
	"errors"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/noonfall/sensor"
	"example.org/noonfall/sun"
)

// Whatever a log holds, the answer is a refusal, an error or numbers.
func TestMorningOfAnything(t *testing.T) {
	clear := newSham(3).samples()
	rapid.Check(t, func(t *rapid.T) {
		samples := append([]MorningSample{}, clear...)
		wild := rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, -1, 1e-320, 1e300, 42})
		for range rapid.IntRange(0, 6).Draw(t, "spoilt stretches") {
			from := rapid.IntRange(0, len(samples)-1).Draw(t, "from")
			until := min(len(samples), from+rapid.IntRange(1, len(samples)).Draw(t, "for"))
			what, v := rapid.IntRange(0, 3).Draw(t, "what"), wild.Draw(t, "value")
			for i := from; i < until; i++ {
				switch s := &samples[i]; what {
				case 0:
					s.Value = v
				case 1:
					s.ValueLnU = v
				case 2:
					s.Status = sensor.Status(i % 5)
				case 3:
					s.Time = s.Time.Add(time.Duration(rapid.Int64Range(-1e18, 1e18).Draw(t, "shift")))
					until = min(until, from+3)
				}
			}
		}
		site := sun.Site{Lat: rapid.Float64Range(-90, 90).Draw(t, "lat"), Lon: rapid.Float64Range(-180, 180).Draw(t, "lon")}
		if rapid.Bool().Draw(t, "at its place") {
			site = newSham(3).site
		}
		o := MorningOptions{FacesSun: rapid.Bool().Draw(t, "faces the Sun"), Exponent: rapid.SampledFrom([]float64{0, 1, -0.7}).Draw(t, "exponent")}
		f, err := FitMorning(samples, site, o)
		var no *Refusal
		if err != nil {
			if f != nil || errors.As(err, &no) && (no.Reason == "" || no.Detail == "") {
				t.Fatalf("%v with %+v", err, f)
			}
			return
		}
		for _, v := range []float64{f.LnValue, f.LnValueU, f.Slope, f.SlopeU, f.R, f.Extinction, f.ExtinctionU, f.Drift, f.Sky, f.SkyU, f.ChiSquare, f.Told, f.SlowLnU, f.MinuteLnU} {
			if !(math.Abs(v) <= math.MaxFloat64) {
				t.Fatalf("%+v", f.Calibration)
			}
		}
	})
}
