package fit

import (
	"math"
	"testing"
	"time"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// The derivatives of a leaning sensor's light against differences of it.
func TestStanceHasItsDerivatives(t *testing.T) {
	const h = 1e-5
	for _, b := range []beam{
		{share: 0.8, east: 0.3, north: -1.1, mass: 1.2, slant: -0.3},
		{share: 0.5, east: -4, north: 3, mass: 6, slant: -1.9}, // low in the south-east or so
	} {
		for _, m := range []mount{{}, {east: 0.1, north: -0.05}, {east: 0.3, north: 0.2}} {
			s := m.stand(b)
			east := (mount{m.east + h, m.north}.stand(b).change - mount{m.east - h, m.north}.stand(b).change) / (2 * h)
			north := (mount{m.east, m.north + h}.stand(b).change - mount{m.east, m.north - h}.stand(b).change) / (2 * h)
			if !(math.Abs(s.east-east) <= 1e-6*(1+math.Abs(east)) && math.Abs(s.north-north) <= 1e-6*(1+math.Abs(north))) {
				t.Errorf("%+v on %+v: %g and %g, by differences %g and %g", b, m, s.east, s.north, east, north)
			}
			// Extinction and slant work on the disc's part of the light alone.
			if disc := -s.air / b.mass; !(disc >= 0 && disc <= 1) || !(math.Abs(s.slant-disc*b.slant) <= 1e-12) {
				t.Errorf("%+v on %+v: air %g, slant %g", b, m, s.air, s.slant)
			}
		}
	}
}

// A level sensor sees the clear sky as it is predicted, but for the rim.
func TestLevelSensorChangesNothing(t *testing.T) {
	if s := (mount{}).stand(beam{share: 0.9, east: 1, north: 1, mass: 1, slant: -0.1}); !(math.Abs(s.change) <= 0.003) {
		t.Errorf("a level sensor's light differs by %g", s.change)
	}
}

// What the table holds does not hang on what it was asked for before, and is the model's own
// within the error that its step leaves; past its ends it is night.
func TestClearTableAsFarAsItIsAsked(t *testing.T) {
	at := time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC)
	site := sun.Site{Lat: 36, Lon: -5.6}
	_, _, asked := smoothLight(t, at, site)
	for _, first := range []float64{0, -clearSpan + clearStep, clearSpan - 3*clearStep, 5e4} {
		o, _, fresh := smoothLight(t, at, site)
		fresh.clear.at(first)
		scale := o.Scale()
		observer, err := sun.NewObserver(site, scale)
		if err != nil {
			t.Fatal(err)
		}
		for s := -clearSpan + clearStep; s < clearSpan-2*clearStep; s += 977 {
			got, beam := fresh.clear.at(s), fresh.clear.beamAt(s)
			if got != asked.clear.at(s) || beam != asked.clear.beamAt(s) {
				t.Fatalf("%.0f s from maximum: after %.0f another light than before", s, first)
			}
			h := observer.Position(fresh.max + timescale.TT(s))
			var sky sun.Sky
			want := math.Log(math.Max(darkest, sky.Illuminance(h.Alt, h.Distance).Global))
			if h.Alt > 1 && !(math.Abs(got-want) <= 3e-4) {
				t.Errorf("%.0f s from maximum, %.1f deg high: a logarithm of %.5f, the model's is %.5f", s, h.Alt, got, want)
			}
		}
	}
	for _, s := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -clearSpan, clearSpan} {
		if got := asked.clear.at(s); got != math.Log(darkest) || asked.clear.beamAt(s) != (beam{}) {
			t.Errorf("%g s from maximum: a logarithm of %g, want night", s, got)
		}
	}
}
