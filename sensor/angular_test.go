package sensor

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// response = cos^n; the exponents are printed for these half angles.
func TestAngularResponse(t *testing.T) {
	for _, r := range []struct{ half, n, tol float64 }{
		{60, 1, 0.5e-9}, {30, 4.819, 0.5e-3}, {20, 11.143, 0.5e-3}, {15, 19.994, 0.5e-3},
	} { // source: n = ln 0.5/ln cos(half angle), computed
		a := AngularResponse{HalfAngleDeg: r.half}
		if got := a.Response(r.half); !(math.Abs(got-0.5) <= 1e-12) {
			t.Errorf("half angle %g: response %.15f there", r.half, got)
		}
		if got := math.Log(a.Response(40)) / math.Log(math.Cos(40*deg)); !(math.Abs(got-r.n) <= r.tol) {
			t.Errorf("half angle %g: n %.5f, want %g", r.half, got, r.n)
		}
		if a.Response(0) != 1 || a.Response(90) != 0 || a.Response(-40) != a.Response(40) || !math.IsNaN(a.Response(math.NaN())) {
			t.Errorf("half angle %g: %g straight on, %g from the side", r.half, a.Response(0), a.Response(90))
		}
	}
	own := AngularResponse{Points: []AnglePoint{{0, 1}, {20, 0.9}, {50, 0.3}}}
	for off, want := range map[float64]float64{0: 1, 10: 0.95, -10: 0.95, 20: 0.9, 35: 0.6, 50: 0.3, 50.1: 0, 89: 0} { // by hand
		if got := own.Response(off); !(math.Abs(got-want) <= 1e-12) {
			t.Errorf("own curve at %g degrees: %g, want %g", off, got, want)
		}
	}
}

// A lensed sensor turned away from a beam comes back to what a cosine receiver
// there reads; the count is the witness, made by hand.
func TestLuxFrom(t *testing.T) {
	c := transistor(58)
	c.Angular = &AngularResponse{HalfAngleDeg: 30, LnU: 0.05}
	conv := compile(t, c)
	for _, off := range []float64{0, 10, 25, 40} {
		const beam = 50e3                                                                   // lx facing it
		n := math.Log(0.5) / math.Log(math.Cos(math.Pi/6))                                  // 4.819
		counts := 4096 * 0.5e-6 * beam * math.Pow(math.Cos(off*math.Pi/180), n) * 58. / 3.3 // Ohm's law
		r := conv.LuxFrom(counts, Beam{OffAxisDeg: off})
		want := beam * math.Cos(off*math.Pi/180)
		if !(math.Abs(r.Lux/want-1) <= 1e-12) || r.Status != OK {
			t.Errorf("%g degrees off: %+v, want %.1f lx", off, r, want)
		}
		u := 0.05
		if off == 0 {
			u = 0
		}
		if got := r.CommonU() / r.Lux; !(math.Abs(got-u) <= 1e-9) { // nothing else is uncertain
			t.Errorf("%g degrees off: common part %.4f, want %g", off, got, u)
		}
		if back := conv.CountsFrom(r.Lux, Beam{OffAxisDeg: off}); !(math.Abs(back-counts) <= 1e-6) {
			t.Errorf("%g degrees off: back to %g counts of %g", off, back, counts)
		}
	}
	// d ln(cos^(1-n))/d angle = (n-1) tan: 3.819 tan 25 degrees = 1.781 a radian.
	r := conv.LuxFrom(1000, Beam{OffAxisDeg: 25, OffAxisU: 1})
	if got := r.CommonU() / r.Lux; !(math.Abs(got-math.Hypot(0.05, 3.819*math.Tan(25*deg)*deg)) <= 1e-5) {
		t.Errorf("one degree at 25: %.6f", got)
	}
	for _, b := range []Beam{{OffAxisDeg: 90}, {OffAxisDeg: 120}, {OffAxisDeg: math.NaN()}, {OffAxisDeg: 89, OffAxisU: 5}, {OffAxisU: math.NaN()}} {
		if r := conv.LuxFrom(1000, b); r.Status != Missing || !math.IsNaN(r.Lux) {
			t.Errorf("%+v reads %+v", b, r)
		}
	}
	if r := conv.LuxFrom(4095, Beam{OffAxisDeg: 20}); r.Status != Saturated || !(r.Lux > 0) {
		t.Errorf("a bound seen from the side: %+v", r)
	}
}

// With a cosine receiver the direction is no matter.
func TestCosineReceiver(t *testing.T) {
	conv := compile(t, real(CellOnTop))
	rapid.Check(t, func(t *rapid.T) {
		counts := rapid.Float64Range(0, 4095).Draw(t, "counts")
		b := Beam{OffAxisDeg: rapid.Float64Range(0, 80).Draw(t, "off"), OffAxisU: rapid.Float64Range(0, 5).Draw(t, "u")}
		a, r := conv.Lux(counts), conv.LuxFrom(counts, b)
		if a.Status != r.Status || !(math.Abs(r.Lux/a.Lux-1) <= 1e-12) || !(math.Abs(r.LuxU-a.LuxU) <= 1e-9*a.Lux) {
			t.Fatalf("%+v straight on, %+v from %+v", a, r, b)
		}
	})
}
