package sun

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/noonfall/sun/timescale"
)

// The worked example of NREL/TP-560-34302, table A5.1: a surface at 30 degrees that
// faces 10 degrees east of south sees the Sun at 25.18700 degrees from its normal
// (from memory), with the refracted altitude; our place differs by up to 3e-5.
func TestIncidenceOfTheReport(t *testing.T) {
	scale := timescale.FixedDeltaT(67)
	o, err := NewObserver(Site{Lat: 39.742476, Lon: -105.1786, Height: 1830.14}, scale)
	if err != nil {
		t.Fatal(err)
	}
	h := o.Position(timescale.FromJulianDate(2452929.5, (19*3600+30*60+30+67)/86400.0))
	h.Alt += Air{Pressure: 820, Temperature: 11}.Refraction(h.Alt)
	if got := (Surface{Tilt: 30, Azimuth: 170}).Incidence(h); !(math.Abs(got-25.187) <= 1e-4) {
		t.Errorf("%.6f degrees, want 25.18700", got)
	}
}

// A surface's geometry by its symmetries.
func TestIncidence(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := Horizontal{Alt: rapid.Float64Range(-90, 90).Draw(t, "alt"), Az: rapid.Float64Range(0, 360).Draw(t, "az")}
		s := Surface{Tilt: rapid.Float64Range(0, 180).Draw(t, "tilt"), Azimuth: rapid.Float64Range(-180, 360).Draw(t, "faces")}
		back := Surface{Tilt: 180 - s.Tilt, Azimuth: math.Mod(s.Azimuth+180, 360)}
		if sum := s.Incidence(h) + back.Incidence(h); !(math.Abs(sum-180) <= 1e-9) {
			t.Fatalf("front and back make %.12f degrees", sum)
		}
		if got := (Surface{Azimuth: s.Azimuth}).Incidence(h); !(math.Abs(got-(90-h.Alt)) <= 1e-9) {
			t.Fatalf("flat: %.12f at altitude %.12f", got, h.Alt)
		}
		if got := (Surface{Tilt: 90 - h.Alt, Azimuth: h.Az}).Incidence(h); !(got <= 1e-9) {
			t.Fatalf("turned to the Sun: %.12f degrees", got)
		}
	})
}

func TestLightOnSurfaces(t *testing.T) {
	sky := Sky{}
	rapid.Check(t, func(t *rapid.T) {
		h := Horizontal{Alt: rapid.Float64Range(-20, 90).Draw(t, "alt"), Az: rapid.Float64Range(0, 360).Draw(t, "az"), Distance: 1}
		l := sky.Illuminance(h.Alt, 1)
		if got := sky.On(Surface{Albedo: 0.9}, h); !(math.Abs(got/l.Global-1) <= 1e-9) {
			t.Fatalf("flat: %.6f lx, want %.6f", got, l.Global)
		}
		// Face down there is only the ground.
		if got := sky.On(Surface{Tilt: 180, Albedo: 0.25}, h); !(math.Abs(got/(0.25*l.Global)-1) <= 1e-9) {
			t.Fatalf("face down: %.6f lx, want a quarter of %.6f", got, l.Global)
		}
		// Turned to the Sun the beam is whole; turned away it is gone.
		shown := math.Max(0, h.Alt+StandardAir().Refraction(h.Alt))
		facing := sky.On(Surface{Tilt: 90 - shown, Azimuth: h.Az}, h)
		if want := l.Direct + l.Sky*(1+math.Sin(shown*deg))/2; !(math.Abs(facing/want-1) <= 1e-9) {
			t.Fatalf("facing: %.6f lx, want %.6f", facing, want)
		}
		away := sky.On(Surface{Tilt: 90, Azimuth: math.Mod(h.Az+180, 360)}, h)
		if want := l.Sky / 2; !(math.Abs(away/want-1) <= 1e-9) {
			t.Fatalf("away: %.6f lx, want half the sky's %.6f", away, l.Sky)
		}
	})
}

func TestSurfaceRefusals(t *testing.T) {
	for _, s := range []Surface{{Tilt: -1}, {Tilt: 181}, {Azimuth: 361}, {Azimuth: math.NaN()}, {Albedo: 1.1}, {Albedo: math.NaN()}} {
		var e *RangeError
		if err := s.Validate(); !errors.As(err, &e) {
			t.Errorf("%+v was taken: %v", s, err)
		}
	}
	if err := (Surface{Tilt: 180, Azimuth: -180, Albedo: 1}).Validate(); err != nil {
		t.Error(err)
	}
}
