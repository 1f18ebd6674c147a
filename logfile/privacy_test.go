package logfile

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

func TestGridRound(t *testing.T) {
	for _, tt := range []struct{ step, v, want float64 }{
		{0, 12.345678, 12.345678},
		{0.1, 0.3, 0.3}, // 3*0.1 is 0.30000000000000004
		{0.01, -8.41178, -8.41},
		{0.25, 43.37, 43.25},
		{0.25, 43.38, 43.5},
		{1, 89.6, 90},
		{0.3, 359.9, 360},
		{0.1, -0.04, 0},
		{1e-6, 12.3456784, 12.345678},
	} {
		got := Grid{Step: tt.step}.Round(tt.v)
		if got != tt.want || math.Signbit(got) != math.Signbit(tt.want) {
			t.Errorf("%v on a grid of %v: %v, want %v", tt.v, tt.step, got, tt.want)
		}
	}
	if got := (Grid{Step: 0.1}).Round(math.NaN()); !math.IsNaN(got) {
		t.Errorf("no place became %v", got)
	}
}

// The length of a degree from handbooks of geodesy (WGS84): 110.574 km of latitude
// and 111.320 km of longitude at the equator, 111.694 km of latitude at a pole.
func TestGridCostOfOneDegree(t *testing.T) {
	for _, tt := range []struct{ φ, north, east, tol float64 }{
		{0, 110574, 111320, 1},
		{90, 111694, 0, 1},
	} {
		m, p := curvature(tt.φ * deg)
		if !(math.Abs(m*deg-tt.north) <= tt.tol && math.Abs(p*deg-tt.east) <= tt.tol) {
			t.Errorf("a degree at %v: %.1f m and %.1f m, want %v and %v", tt.φ, m*deg, p*deg, tt.north, tt.east)
		}
	}
	// Half a step each way at the equator: 0.05 degrees of 110.57 and 111.32 km.
	got := Grid{Step: 0.1, SecondsPerKm: 1.5}.Cost(0)
	want := 0.05 * math.Hypot(110574, 111320)
	if !(math.Abs(got.Metres-want) <= 1 && math.Abs(got.Seconds-want*1.5/1000) <= 0.002) {
		t.Errorf("%v, want %.0f m and %.2f s", got, want, want*1.5/1000)
	}
	if got := (Grid{Step: 0.1}).Cost(0); !math.IsNaN(got.Seconds) {
		t.Errorf("seconds from no figure: %v", got)
	}
}

// chord is the straight distance of two places on the ellipsoid, another way than
// the bound was made.
func chord(lat1, lon1, lat2, lon2 float64) float64 {
	xyz := func(lat, lon float64) (x, y, z float64) {
		sin, cos := math.Sincos(lat * deg)
		n := equatorRadius / math.Sqrt(1-e2*sin*sin)
		return n * cos * math.Cos(lon*deg), n * cos * math.Sin(lon*deg), n * (1 - e2) * sin
	}
	x1, y1, z1 := xyz(lat1, lon1)
	x2, y2, z2 := xyz(lat2, lon2)
	return math.Hypot(math.Hypot(x1-x2, y1-y2), z1-z2)
}

func TestGridCostIsABound(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, step := range []float64{0.001, 0.1, 1} {
		g := Grid{Step: step}
		closest := 0.0
		for range 20000 {
			lat, lon := 180*rng.Float64()-90, 360*rng.Float64()-180
			d, bound := chord(lat, lon, g.Round(lat), g.Round(lon)), g.Cost(lat).Metres
			if !(d <= bound*(1+1e-9)+1e-6) {
				t.Fatalf("%v, %v is %.3f m off, the bound says %.3f", lat, lon, d, bound)
			}
			closest = math.Max(closest, d/bound)
		}
		// A corner of some cell is always near among so many.
		if !(closest >= 0.98) {
			t.Errorf("step %v: the worst place reached only %.3f of the bound", step, closest)
		}
	}
}

// The worst place of a cell is its corner towards the equator.
func TestGridCostHoldsInCorners(t *testing.T) {
	g := Grid{Step: 1}
	for lat := 0.0; lat <= 90; lat++ {
		bound := g.Cost(lat).Metres
		for _, corner := range []float64{lat - 0.5, math.Min(lat+0.5, 90)} {
			d := chord(lat, 0, corner, 0.5)
			if !(d <= bound && (corner > lat || lat == 90 || d >= bound*0.985)) {
				t.Errorf("corner %v of the cell at %v is %.1f m off, the bound says %.1f", corner, lat, d, bound)
			}
		}
	}
}

func TestGridRefuses(t *testing.T) {
	for _, g := range []Grid{{Step: -0.1}, {Step: 0.07}, {Step: 2}, {Step: 1e-9}, {Step: math.NaN()}, {Step: math.Inf(1)},
		{SecondsPerKm: -1}, {Step: 0.1, SecondsPerKm: math.NaN()}, {Step: 0.1, SecondsPerKm: math.Inf(1)}} {
		err := g.check()
		if e, ok := errors.AsType[*WriteError](err); !ok || !errors.Is(err, ErrField) || e.Found == "" {
			t.Errorf("%+v: %v", g, err)
		}
	}
}
