package campaign_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/station"
)

type stationSummary = station.Summary

// Hipparchus' own case, with right depths: the distance comes out as the almanac has it. The lever
// takes the Moon as equally far from all stations, which is wrong by a part in two hundred.
func TestMoonDistanceOfRightDepths(t *testing.T) {
	for _, tt := range []struct {
		name     string
		e        *eclipse.Elements
		lat, lon []float64
	}{
		{"2027, from Spain to the Sahel", elements(t, 2027, 8, 2), []float64{40.4, 36, 33, 31.6, 28}, []float64{-3.7, -5.6, -5, -8, -9}},
		{"2024, across the path", elements(t, 2024, 4, 8), []float64{42, 39.2, 38.6, 35, 33}, []float64{-88.2, -86.9, -90.5, -92.5, -84}},
		{"2026, low Sun", elements(t, 2026, 8, 12), []float64{36, 39, 44, 48}, []float64{-5, -8, 1, 0}},
	} {
		var all []*station.Summary
		for i := range tt.lat {
			s := madeUp(string(rune('A'+i)), station.Site{Lat: tt.lat[i], Lon: tt.lon[i]}, 0, 1)
			if o := observer(t, tt.e, s.Site).Circumstances(); o.Geometry == eclipse.Total {
				s.Contacts = []station.ContactSummary{{Name: "C2", OwnU: 0.5, LateU: 1}, {Name: "C3", OwnU: 0.5, LateU: 1}}
			}
			all = append(all, s)
		}
		r := pool(t, tt.e, all)
		if r.Moon == nil {
			t.Errorf("%s: %v", tt.name, r.Untold)
			continue
		}
		t.Logf("%s: %.0f +- %.0f km from %d, predicted %.0f, base %.0f km", tt.name, r.Moon.Km.Value, r.Moon.Km.U, r.Moon.Km.N, r.Moon.Predicted, r.Moon.BaseKm)
		if !(math.Abs(r.Moon.Km.Value/r.Moon.Predicted-1) <= 0.02) || r.Moon.Km.N != len(all) {
			t.Errorf("%s: %.0f km, the elements have %.0f", tt.name, r.Moon.Km.Value, r.Moon.Predicted)
		}
	}
}

// Depths that are wrong by what calibrations leave open: the interval holds the truth.
func TestMoonDistanceCoverage(t *testing.T) {
	e := elements(t, 2027, 8, 2)
	const logs = 100
	held, told := 0, 0
	for seed := range uint64(logs) {
		rng := rand.New(rand.NewPCG(seed, 3))
		var all []*station.Summary
		for i, lat := range []float64{42, 40.4, 38, 33, 31, 29} {
			s := madeUp(string(rune('A'+i)), station.Site{Lat: lat, Lon: -5 + rng.Float64()}, 0, 1)
			s.CalibrationU = 0.03
			s.Clock.Exponent = station.Estimate{Value: 1 + 0.03*rng.NormFloat64(), U: 0.005}
			all = append(all, s)
		}
		r := pool(t, e, all)
		if r.Moon == nil {
			continue
		}
		told++
		if math.Abs(r.Moon.Km.Value-r.Moon.Predicted) <= 2.78*r.Moon.Km.U { // t of four degrees of freedom
			held++
		}
	}
	t.Logf("%d of %d hold the truth", held, told)
	if !(told >= 90 && float64(held) >= 0.95*float64(told)-3*math.Sqrt(float64(told)*0.05*0.95)) {
		t.Errorf("%d of %d distances hold the truth", held, told)
	}
}

func TestMoonDistanceRefuses(t *testing.T) {
	e := elements(t, 2027, 8, 2)
	raw := madeUp("RAW", station.Site{Lat: 40, Lon: -4}, 0, 1)
	raw.Calibrated = false
	near := madeUp("NEAR", station.Site{Lat: 40.1, Lon: -4}, 0, 1)
	a, b := madeUp("A", station.Site{Lat: 40, Lon: -4}, 0, 1), madeUp("B", station.Site{Lat: 32, Lon: -4}, 0, 1)
	b.Clock.Exponent.U = 2
	for name, all := range map[string][]*station.Summary{"uncalibrated": {raw, b}, "near": {a, near}, "ill": {a, b}} {
		if r := pool(t, e, all); r.Moon != nil || r.Untold["moon"] == "" {
			t.Errorf("%s: %+v", name, r.Moon)
		}
	}
}
