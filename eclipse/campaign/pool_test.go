package campaign_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.org/noonfall/eclipse/campaign"
	"example.org/noonfall/eclipse/station"
)

// One clock a minute off among nine is found, and does not pull the rest; one that says itself
// that it does not know is none.
func TestOutliers(t *testing.T) {
	e := elements(t, 2027, 8, 2)
	all := scattered(10, 36, -5.6, 1.5, 4, func(i int, r *rand.Rand) (float64, float64) {
		switch i {
		case 2:
			return 41, 1
		case 3:
			return -130, 107
		}
		return -20 + 2*r.NormFloat64(), 2
	})
	for i, s := range all {
		for o := 0.05; o < 1; o += 0.1 {
			light := (1 - o) * math.Exp(0.01*float64(i%3))
			if i == 4 {
				light *= 0.7
			}
			s.Light = append(s.Light, station.LightBin{Obscuration: o, Light: light, N: 3})
		}
	}
	all[6].Clock.Exponent = station.Estimate{Value: 0.6, U: 0.02}
	all[6].CalibrationU = 0.05
	r := pool(t, e, all)
	found := map[string]string{}
	for _, o := range r.Outliers {
		found[o.What] += o.Name
	}
	if len(found) != 3 || found["clock"] != "MADE-UP-02" || found["light"] != "MADE-UP-04" || found["response"] != "MADE-UP-06" {
		t.Errorf("%+v", r.Outliers)
	}
	if !(math.Abs(r.Shared.Value+20) < 3*r.Shared.U) || r.Shared.N != 9 {
		t.Errorf("shared %+v", r.Shared)
	}
	if r.Sweep == nil || slices.Contains(r.Sweep.Used, "MADE-UP-02") || r.Sweep.Speed.N != 9 {
		t.Errorf("%+v", r.Sweep)
	}
	// What is left of the lone clock is its own.
	for _, m := range r.Stations {
		if m.Name == "MADE-UP-02" && !(math.Abs(m.Own-61) < 3) {
			t.Errorf("its own: %+v", m.Own)
		}
	}
}

// The mean of limb darkenings against the weights written out, where they agree; where they do not,
// the spread between them counts as well.
func TestDarkeningIsPooled(t *testing.T) {
	e := elements(t, 2027, 8, 2)
	two := func(a, b float64) campaign.Figure {
		all := scattered(2, 36, -5.6, 1, 2, func(int, *rand.Rand) (float64, float64) { return 0, 1 })
		all[0].Darkening, all[1].Darkening = &station.Estimate{Value: a, U: 0.03}, &station.Estimate{Value: b, U: 0.06}
		return pool(t, e, all).Darkening
	}
	agree := two(0.71, 0.73) // weights 4 to 1
	if want := (4*0.71 + 0.73) / 5; !(math.Abs(agree.Value-want) < 1e-12 && math.Abs(agree.U-0.06/math.Sqrt(5)) < 1e-12) || agree.N != 2 {
		t.Errorf("%+v, want %g", agree, want)
	}
	if apart := two(0.6, 0.9); !(apart.U > 0.1 && math.Abs(apart.Value-0.75) < 0.05) {
		t.Errorf("two that disagree: %+v", apart)
	}
}

func TestPooledCurve(t *testing.T) {
	e := elements(t, 2027, 8, 2)
	all := scattered(5, 36, -5.6, 1, 2, func(int, *rand.Rand) (float64, float64) { return 0, 1 })
	for i, s := range all {
		s.Light = []station.LightBin{{Obscuration: 0.5, Light: 0.4 + 0.05*float64(i), N: 2}}
	}
	all[0].Light = append(all[0].Light, station.LightBin{Obscuration: 0.7, Light: 0.2, N: 1})
	r := pool(t, e, all)
	if len(r.Curve) != 2 || r.Curve[0].N != 5 || !(math.Abs(r.Curve[0].Median-0.5) < 0.03) || !(r.Curve[0].Low < r.Curve[0].Median && r.Curve[0].High > r.Curve[0].Median) ||
		r.Curve[1] != (campaign.CurvePoint{Obscuration: 0.7, Median: 0.2, Low: 0.2, High: 0.2, N: 1}) {
		t.Errorf("%+v", r.Curve)
	}
}
