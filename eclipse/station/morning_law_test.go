package station

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sensor"
	"example.org/noonfall/sun"
)

// With nothing unknown but the line, the filter is the least squares of package sensor.
func TestBeliefIsCalibrate(t *testing.T) {
	draw := rand.New(rand.NewPCG(2, 7))
	var b belief
	b.cov[atLevel][atLevel], b.cov[atSlope][atSlope] = 1e7, 1e7
	var points []sensor.KnownLight
	for range 12 {
		lux, u := math.Exp(1+8*draw.Float64()), 0.01+0.05*draw.Float64()
		ln := 5 - 0.7*math.Log(lux/sensorLux) + u*draw.NormFloat64()
		points = append(points, sensor.KnownLight{Lux: lux, Value: math.Exp(ln), ValueLnU: u})
		b.learn(state{atLevel: 1, atSlope: math.Log(lux / sensorLux)}, ln, u*u)
	}
	c, err := sensor.Calibrate(points, sensor.CalibrateOptions{})
	require.NoError(t, err)
	u0, u1 := math.Sqrt(b.cov[atLevel][atLevel]), math.Sqrt(b.cov[atSlope][atSlope])
	for name, v := range map[string][2]float64{
		"level": {b.mean[atLevel], c.LnValue}, "slope": {b.mean[atSlope], c.Slope}, "u(level)": {u0, c.LnValueU}, "u(slope)": {u1, c.SlopeU},
		"r": {b.cov[atLevel][atSlope] / u0 / u1, c.R}, "chi-square": {b.chiSquare, c.ChiSquare},
	} {
		if !(math.Abs(v[0]-v[1]) <= 1e-5*math.Max(1, math.Abs(v[1]))) {
			t.Errorf("%s %.9g, by package sensor %.9g", name, v[0], v[1])
		}
	}
}

// The tangents of the light are those of differences, for a flat and a tilted sensor.
func TestLightTangents(t *testing.T) {
	at := time.Date(2027, 7, 20, 8, 0, 0, 0, time.UTC)
	flat := testSight(sun.Site{Lat: 36, Lon: -5.6}, at)
	tilted := MorningOptions{Surface: sun.Surface{Tilt: 40, Azimuth: 120, Albedo: 0.2}}.see(flat.sun)
	p := state{atAir: math.Log(0.3), atDrift: 0.02, atSky: 0.2, atShape: -0.1, atEast: 1, atNorth: -2}
	for name, s := range map[string]sight{"flat": flat, "tilted": tilted} {
		s.hours = 1.5
		_, by := s.change(p)
		for i := atAir; i < atSlow; i++ {
			up, down := p, p
			up[i] += 1e-5
			down[i] -= 1e-5
			if want := math.Log(s.light(up).lux/s.light(down).lux) / 2e-5; !(math.Abs(by[i]-want) <= 1e-5) || want == 0 {
				t.Errorf("%s: unknown %d changes the light by %.7f, by differences %.7f", name, i, by[i], want)
			}
		}
	}
	// With the usual air it is package sun's sky.
	want := sun.Sky{}.On(tilted.face, tilted.sun)
	if got := tilted.light(usualAir()).lux; !(math.Abs(got/want-1) <= 1e-12) {
		t.Errorf("%.3f lx, by package sun %.3f", got, want)
	}
}

// The gain is never better known than the model's level, and the level moves nothing
// else: a sky that is twice as bright doubles the light of every reading.
func TestGainRestsOnTheModel(t *testing.T) {
	s := newSham(21)
	samples := s.samples()
	a, err := FitMorning(samples, s.site, MorningOptions{ModelLnU: 0.1})
	require.NoError(t, err)
	b, err := FitMorning(samples, s.site, MorningOptions{ModelLnU: 0.5})
	require.NoError(t, err)
	if a.Slope != b.Slope || a.SlopeU != b.SlopeU || a.ExtinctionU != b.ExtinctionU {
		t.Errorf("the level's spread moves the exponent from %v to %v", a.Slope, b.Slope)
	}
	if got, want := square(b.LnValueU)-square(a.LnValueU), square(a.Slope)*(0.25-0.01); !(math.Abs(got-want) <= 1e-9) {
		t.Errorf("the variance of the gain grows by %.6f, want %.6f", got, want)
	}
	for _, f := range []*MorningFit{a, b} {
		if !(f.LnValueU >= math.Abs(f.Slope)*f.ModelLnU) || len(f.Residuals) != f.Used || f.Covariance[0][0] != square(f.LnValueU) && !(math.Abs(f.Covariance[0][0]/square(f.LnValueU)-1) <= 1e-12) {
			t.Errorf("u %.4f of the gain, model %.2f; %d residuals of %d minutes", f.LnValueU, f.ModelLnU, len(f.Residuals), f.Used)
		}
	}
}

// Every kind of chain gives back the light that its calibrated part was in.
func TestPart(t *testing.T) {
	divider := sensor.Chain{ADC: sensor.ADC{Bits: 12, Ratiometric: true}, Divider: &sensor.Divider{Wiring: sensor.CellOnTop, SupplyV: 3.3, LoadOhm: 100, LoadTolerance: 0.05,
		Cell: sensor.Photoresistor{R10Ohm: 10e3, Gamma: 0.7, DarkOhm: 1e6, R10LnU: 0.5, GammaU: 0.1}}}
	transistor := sensor.Chain{ADC: sensor.ADC{Bits: 12, ReferenceV: 3.3}, Phototransistor: &sensor.Phototransistor{SupplyV: 3.3, LoadOhm: 50, AmperesPerLux: 5e-7, DarkAmperes: 1e-6}}
	digital := sensor.Chain{Digital: &sensor.Digital{LuxPerCount: 1, MaxCounts: 200000}}
	for name, tt := range map[string]struct {
		chain sensor.Chain
		c     sensor.Calibration // what light does to the part in truth
		unit  string
	}{
		"divider":         {divider, sensor.Calibration{LnValue: math.Log(14e3), LnValueU: 0.1, Slope: -0.8, SlopeU: 0.02, R: 0.5}, "ohm"},
		"phototransistor": {transistor, sensor.Calibration{LnValue: math.Log(4e-6), LnValueU: 0.1, Slope: 1}, "A"},
		"digital":         {digital, sensor.Calibration{LnValue: math.Log(8), LnValueU: 0.1, Slope: 1}, "counts"},
	} {
		p, err := NewPart(tt.chain)
		require.NoError(t, err, name)
		calibrated, err := p.Calibrated(tt.c)
		require.NoError(t, err, name)
		conv, err := calibrated.Compile()
		require.NoError(t, err, name)
		for _, lux := range []float64{6000, 20000, 60000} {
			k, status := p.Value(conv.Counts(lux))
			want := math.Exp(tt.c.LnValue + tt.c.Slope*math.Log(lux/sensorLux))
			if status != sensor.OK || !(math.Abs(k.Value/want-1) <= 1e-9) || !(k.ValueLnU > 0) {
				t.Errorf("%s at %g lx: %g %s (%v), want %g", name, lux, k.Value, p.Unit(), status, want)
			}
		}
		if p.Unit() != tt.unit {
			t.Errorf("%s in %s, want %s", name, p.Unit(), tt.unit)
		}
	}
	p, err := NewPart(digital)
	require.NoError(t, err)
	if _, err := p.Calibrated(sensor.Calibration{Slope: 0.8, SlopeU: 0.01}); err == nil {
		t.Error("a bent law was put into a linear part")
	}
	// An exponent that scatter made is held at 1 where the readings were, not at 10 lx.
	bent, err := p.Calibrated(sensor.Calibration{LnValue: math.Log(8), LnValueU: 0.2, Slope: 1.02, SlopeU: 0.02, R: -0.9})
	require.NoError(t, err)
	if got, want := bent.Digital.LuxPerCount, 10/math.Exp(math.Log(8)-0.9*0.2/0.02*-0.02); !(math.Abs(got/want-1) <= 1e-12) || !(math.Abs(bent.Digital.LuxPerCountLnU-0.2*math.Sqrt(1-0.81)) <= 1e-12) {
		t.Errorf("%g lx a count, u %g", got, bent.Digital.LuxPerCountLnU)
	}
	if _, err := NewPart(sensor.Chain{}); err == nil {
		t.Error("an empty chain was taken")
	}
}
