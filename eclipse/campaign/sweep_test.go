package campaign_test

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// The speed of the shadow from perfect stamps, against the motion of the axis along the central
// line (package shadow, which knows no stations), where the stations lie around it.
func TestSweepAgainstTheCentralLine(t *testing.T) {
	exact := func(int, *rand.Rand) (float64, float64) { return 0, 0.1 }
	for _, tt := range []struct {
		name     string
		y        int
		m        time.Month
		d        int
		lat, lon float64
		speed    float64 // relative
		heading  float64 // degrees
	}{
		{"2027, high Sun", 2027, 8, 2, 25.5, 33, 0.01, 1},
		{"2027, morning", 2027, 8, 2, 36, -5.6, 0.02, 1.5},
		{"2024, afternoon", 2024, 4, 8, 39.3, -86, 0.02, 1.5},
		{"2026, evening, Sun 10 degrees up", 2026, 8, 12, 42.3, -3.7, 0.08, 3}, // the axis speeds up by a tenth within the stations
		{"2035, across the antimeridian", 2035, 9, 2, 16.8, 180, 0.02, 1.5},
	} {
		r := pool(t, elements(t, tt.y, tt.m, tt.d), scattered(12, tt.lat, tt.lon, 0.5, 1, exact))
		s := r.Sweep
		if s == nil {
			t.Errorf("%s: %v", tt.name, r.Untold)
			continue
		}
		t.Logf("%s: %.4f +- %.4f km/s to %.2f +- %.2f; stations %.4f to %.2f; on the line %.4f to %.2f", tt.name, s.Speed.Value, s.Speed.U, s.Heading.Value, s.Heading.U, s.Predicted.Speed, s.Predicted.Heading, s.OnLine.Speed, s.OnLine.Heading)
		if !(math.Abs(s.Speed.Value/s.OnLine.Speed-1) <= tt.speed && math.Abs(math.Remainder(s.Heading.Value-s.OnLine.Heading, 360)) <= tt.heading) {
			t.Errorf("%s: %.4f km/s to %.2f, the axis goes at %.4f to %.2f", tt.name, s.Speed.Value, s.Heading.Value, s.OnLine.Speed, s.OnLine.Heading)
		}
		if !(math.Abs(s.Speed.Value-s.Predicted.Speed) <= 1e-9) {
			t.Errorf("%s: right stamps give %g, the prediction %g", tt.name, s.Speed.Value, s.Predicted.Speed)
		}
	}
}

// Stamps that scatter, all of them 20 s slow: the offset is found, the speed holds the truth.
func TestSweepCoverage(t *testing.T) {
	e := elements(t, 2027, 8, 2)
	const logs = 200
	var speed, heading, late int
	for seed := range uint64(logs) {
		r := pool(t, e, scattered(10, 36, -5.6, 1.5, seed, func(_ int, r *rand.Rand) (float64, float64) {
			u := 0.3 + 4*r.Float64()
			return -20 + u*r.NormFloat64(), u
		}))
		s := r.Sweep
		if s == nil {
			t.Fatalf("seed %d: %v", seed, r.Untold)
		}
		if math.Abs(s.Speed.Value-s.Predicted.Speed) <= 2.36*s.Speed.U { // t of seven degrees of freedom
			speed++
		}
		if math.Abs(math.Remainder(s.Heading.Value-s.Predicted.Heading, 360)) <= 2.36*s.Heading.U {
			heading++
		}
		if math.Abs(r.Shared.Value+20) <= 2.26*r.Shared.U { // of nine
			late++
		}
	}
	t.Logf("of %d: speed %d, heading %d, offset %d", logs, speed, heading, late)
	// 95 % less three deviations of the count.
	for name, n := range map[string]int{"speed": speed, "heading": heading, "offset": late} {
		if !(float64(n) >= 0.95*logs-3*math.Sqrt(logs*0.95*0.05)) {
			t.Errorf("%s holds the truth in %d of %d", name, n, logs)
		}
	}
}

func TestSweepRefuses(t *testing.T) {
	e := elements(t, 2027, 8, 2)
	exact := func(int, *rand.Rand) (float64, float64) { return 0, 1 }
	few := scattered(3, 36, -5.6, 1, 1, exact)
	line := scattered(6, 36, -5.6, 1, 1, exact)
	for i, s := range line {
		s.Site.Lat, s.Site.Lon = 36+0.1*float64(i), -5.6
	}
	hand := scattered(8, 36, -5.6, 1, 1, exact)
	for _, s := range hand {
		s.ClockSet = "hand"
	}
	close := scattered(8, 36, -5.6, 0.01, 1, exact)
	for name, all := range map[string]int{"few": 0, "in a line": 1, "set by hand": 2, "close together": 3} {
		r := pool(t, e, [][]*stationSummary{few, line, hand, close}[all])
		if r.Sweep != nil || r.Untold["shadow"] == "" {
			t.Errorf("%s: %+v, %v", name, r.Sweep, r.Untold)
		}
	}
}
