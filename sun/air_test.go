package sun

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/noonfall/testdata/references"
)

func TestAirMass(t *testing.T) {
	for _, r := range references.Table(t, "air_mass.csv") {
		h := r.Number(t, "altitude_deg")
		if want := r.Number(t, "m_formula_1989"); !(math.Abs(AirMass(h)-want) <= 6e-7) {
			t.Errorf("%g deg: %.6f, want %.6f (Kasten & Young 1989)", h, AirMass(h), want)
		}
		if r.Text(t, "m_table_II_1989") != "" { // the paper's own table, which its formula fits to 0.5 %
			if want := r.Number(t, "m_table_II_1989"); !(math.Abs(AirMass(h)/want-1) <= 0.005) {
				t.Errorf("%g deg: %.4f, table II %.4f", h, AirMass(h), want)
			}
		}
	}
}

func TestRefraction(t *testing.T) {
	air := StandardAir()
	for _, c := range []struct {
		alt, want, tol float64 // degrees, arcmin
		source         string
	}{
		{0, 28.98, 0.05, "1.02 cot(0 + 10.3/5.11), Meeus eq. 16.4"},
		{-0.5667, 34.5, 0.6, "horizontal refraction of 34 arcmin"},
		{90, 0, 0.01, "nothing at the zenith"},
		{45, 1.0, 0.05, "one arcminute at 45 degrees"},
	} {
		if got := 60 * air.Refraction(c.alt); !(math.Abs(got-c.want) <= c.tol) {
			t.Errorf("%g deg: %.3f arcmin, want %.3f +- %g (%s)", c.alt, got, c.want, c.tol, c.source)
		}
	}
	if (Air{}).Refraction(0) != 0 {
		t.Error("no air refracts")
	}
	rapid.Check(t, func(t *rapid.T) {
		h := rapid.Float64Range(-90, 89.99).Draw(t, "altitude")
		a, b := air.Refraction(h), air.Refraction(h+0.001)
		if !(a >= 0 && a < 0.8 && math.Abs(a-b) < 0.001) {
			t.Fatalf("refraction %.5f, %.5f at %.4f", a, b, h)
		}
	})
}

// J. Meeus, Astronomical Algorithms, 2nd ed., example 16.a, p. 107, 1010 hPa and
// 10 degrees Celsius: the upper limb at a true altitude of 33.246 arcmin is lifted
// by 24.618 arcmin; the lower limb, apparently at 30, by 28.754 (by the inverse
// formula there, which agrees with this one to 0.1 arcmin).
func TestRefractionOfExample16(t *testing.T) {
	for _, c := range []struct{ alt, want, tol float64 }{ // arcmin
		{33.246, 24.618, 0.0005},
		{1.246, 28.754, 0.1},
	} {
		if got := 60 * StandardAir().Refraction(c.alt/60); !(math.Abs(got-c.want) <= c.tol) {
			t.Errorf("%g arcmin up: %.4f arcmin, want %.3f +- %g (Meeus, example 16.a)", c.alt, got, c.want, c.tol)
		}
	}
}

// Refraction is proportional to the air's density: pressure over temperature.
func TestRefractionFollowsTheAir(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Air{Pressure: rapid.Float64Range(300, 1080).Draw(t, "hPa"), Temperature: rapid.Float64Range(-60, 50).Draw(t, "degC")}
		h := rapid.Float64Range(-1, 89).Draw(t, "altitude")
		want := StandardAir().Refraction(h) * a.Pressure / 1010 * 283 / (273 + a.Temperature)
		if got := a.Refraction(h); !(math.Abs(got-want) <= 1e-12) {
			t.Fatalf("%.9f, want %.9f", got, want)
		}
	})
}

func TestAirMassNeverEnds(t *testing.T) {
	for _, h := range []float64{-90, -6.07995, -0.001, 0} {
		if got := AirMass(h); got != AirMass(0) {
			t.Errorf("%g degrees: %g, want the horizon's %g", h, got, AirMass(0))
		}
	}
}

// From the nadir to the zenith, in the thinnest and the densest air: no step, no
// lowering, and a higher Sun always shows higher.
func TestApparentAltitudeGrowsWithTheTrueOne(t *testing.T) {
	for _, air := range []Air{{}, StandardAir(), {Pressure: 1200, Temperature: -90}, {Pressure: 300, Temperature: 60}} {
		last := -90.0
		for i := range 180_000 {
			h := -90 + float64(i+1)/1000
			r := air.Refraction(h)
			step := h + r - last
			if !(r >= 0 && step > 0 && step < 0.00125) {
				t.Fatalf("%+v: at %.3f degrees refraction %.6f, apparent altitude up by %.6f", air, h, r, step)
			}
			last = h + r
		}
	}
}

func TestTrueAltitudeUndoesRefraction(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Air{Pressure: rapid.Float64Range(0, 1200).Draw(t, "hPa"), Temperature: rapid.Float64Range(-90, 60).Draw(t, "degC")}
		h := rapid.OneOf(rapid.Float64Range(-90, 90), rapid.Float64Range(-2, 1), rapid.Float64Range(89.8, 90)).Draw(t, "altitude")
		if got := a.TrueAltitude(h + a.Refraction(h)); !(math.Abs(got-h) <= 1e-12) {
			t.Fatalf("%+v: %.15f came back as %.15f", a, h, got)
		}
	})
	// J. Meeus, Astronomical Algorithms, 2nd ed., example 16.a, p. 107: the lower
	// limb that shows at 30 arcmin is at 1.246 (by Bennett's own formula, which
	// differs from its inversion by up to 0.1 arcmin).
	if got := 60 * StandardAir().TrueAltitude(0.5); !(math.Abs(got-1.246) <= 0.1) {
		t.Errorf("%.3f arcmin, want 1.246 (Meeus, example 16.a)", got)
	}
	if got := StandardAir().TrueAltitude(0); !(math.Abs(got-altOnHorizon) <= 1e-9) {
		t.Errorf("a Sun on the horizon is at %.9f, want %.9f", got, altOnHorizon)
	}
}

func TestAirRefusals(t *testing.T) {
	for _, a := range []Air{{Pressure: -1}, {Pressure: 1201}, {Pressure: math.NaN()}, {Temperature: 61}, {Temperature: -91}, {Temperature: math.NaN()}} {
		var e *RangeError
		if err := a.Validate(); !errors.As(err, &e) {
			t.Errorf("%+v was taken: %v", a, err)
		}
	}
	for _, a := range []Air{{}, StandardAir()} {
		if err := a.Validate(); err != nil {
			t.Error(err)
		}
	}
}
