package eclipse

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// sites are where the eclipse of 2 August 2027 is total, deep, shallow, barely
// total and barely there.
var sites = []sun.Site{
	{Lat: 36.0, Lon: -5.6, Height: 10}, {Lat: 40, Lon: -3}, {Lat: 55, Lon: 12}, {Lat: 25.7, Lon: 32.6},
	{Lat: 37.25, Lon: -5.6}, {Lat: 60.2, Lon: 25}, {Lat: 20, Lon: -60}, {Lat: -10, Lon: 40, Height: 3000},
}

func TestCurveTableAgainstExactFlux(t *testing.T) {
	for _, date := range []string{"2027-08-02", "2023-10-14", "2024-04-08"} {
		e := published(t, "canon5m", date)
		for _, s := range sites {
			if date != "2027-08-02" {
				s.Lon -= 90
			}
			o := watch(t, e, s, 69.2)
			c, err := NewCurve(o, CurveOptions{})
			if errors.Is(err, ErrNoEclipse) {
				continue
			}
			require.NoError(t, err)
			rng := rand.New(rand.NewPCG(1, 2))
			circ := c.Circumstances()
			span := float64(circ.C4.TT - circ.C1.TT)
			var worst, worstRelative float64
			for i := range 20000 {
				tt := circ.C1.TT + timescale.TT(span*rng.Float64())
				if circ.C2.Exists && i%2 == 0 { // crowd around the inner contacts
					tt = circ.C2.TT + timescale.TT(math.Copysign(math.Pow(10, 3*rng.Float64()-1), rng.Float64()-0.5))
				}
				got, want := c.Flux(tt), c.exact(o.hours(tt))
				worst = math.Max(worst, math.Abs(got-want))
				if want > 0 {
					worstRelative = math.Max(worstRelative, math.Abs(got/want-1))
				}
			}
			t.Logf("%s %v %v: %.1e, relative %.1e", date, s, circ.Geometry, worst, worstRelative)
			if !(worst <= 1e-7 && worstRelative <= 1e-5) {
				t.Errorf("%s %v %v: table off by %.1e, relative %.1e", date, s, circ.Geometry, worst, worstRelative)
			}
		}
	}
}

// Sites from ten centimetres to ten kilometres either side of the path's limit: a
// totality of a fraction of a second, a crescent that all but closes, a ring that
// hardly does. The light there turns within seconds of maximum.
func TestCurveAtTheLimitOfThePath(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	var worst, worstRelative float64
	limits := 0
	for _, e := range all(t) {
		inside := under(e, 2*rng.Float64()-1, 0)
		limit, ok := pathLimit(e, umbra, inside, 3)
		if !ok {
			continue
		}
		limits++
		for _, metres := range []float64{-10000, -300, -10, -0.1, 0.1, 10, 300, 10000} {
			o := watch(t, e, sun.Site{Lat: limit + math.Copysign(metres/111e3, inside.Lat), Lon: inside.Lon}, 70)
			c, err := NewCurve(o, CurveOptions{})
			require.NoError(t, err)
			for i := range 2000 {
				at := c.circ.Max.TT
				if i%3 == 0 && c.circ.C2.Exists {
					at = c.circ.C2.TT
				}
				at += timescale.TT(math.Copysign(math.Pow(10, 5*rng.Float64()-1.3), rng.Float64()-0.5))
				got, want := c.Flux(at), c.exact(o.hours(at))
				worst = math.Max(worst, math.Abs(got-want))
				if want > 1e-4 { // twice what the floor adds
					worstRelative = math.Max(worstRelative, math.Abs(got/want-1))
				}
			}
		}
	}
	if !(worst <= 2e-7 && worstRelative <= 1e-4) {
		t.Errorf("table off by %.1e, relative %.1e", worst, worstRelative)
	}
	if limits < 20 {
		t.Errorf("only %d limits", limits)
	}
	t.Logf("%d limits: %.1e, relative %.1e above a flux of 1e-4", limits, worst, worstRelative)
}

func TestCurveOutsideTheEclipse(t *testing.T) {
	o := watch(t, published(t, "canon5m", "2027-08-02"), sites[0], 69.2)
	c, err := NewCurve(o, CurveOptions{})
	require.NoError(t, err)
	circ := c.Circumstances()
	for _, tt := range []timescale.TT{circ.C1.TT - 1, circ.C4.TT + 1, circ.C1.TT - 1e6, circ.C4.TT + 1e6} {
		if f := c.Flux(tt); f != 1 {
			t.Errorf("flux %g outside the eclipse", f)
		}
	}
	for _, tt := range []timescale.TT{circ.C2.TT + 0.001, circ.Max.TT, circ.C3.TT - 0.001} {
		if f := c.Flux(tt); f != 0 {
			t.Errorf("flux %g in totality", f)
		}
		if l := c.Lux(tt); !(math.Abs(l-DefaultFloor) < 1e-9) {
			t.Errorf("%g lx in totality, want the floor", l)
		}
	}
	if f := c.Flux(timescale.TT(math.NaN())); !math.IsNaN(f) {
		t.Errorf("flux %g at no instant", f)
	}
	// Joined without a step where the elements' span ends.
	edge := o.prep.elements.T0 + timescale.TT(o.prep.elements.Span*3600)
	if a, b := c.ClearLux(edge-0.5), c.ClearLux(edge+0.5); !(math.Abs(a/b-1) < 1e-3) {
		t.Errorf("clear light steps from %g to %g lx", a, b)
	}
	n := 0
	for p := range c.All(time.Minute) {
		if !(p.Flux >= 0 && p.Flux <= 1 && p.Obscuration >= 0 && p.Obscuration <= 1 && p.Lux > 0) {
			t.Fatalf("%+v", p)
		}
		n++
	}
	if want := int((circ.C4.TT-circ.C1.TT)/60) + 60; n < want || n > want+2 {
		t.Errorf("%d points, want about %d", n, want)
	}
	for range c.All(0) {
		t.Fatal("a cadence of zero yields points")
	}
	n = 0
	for range c.All(time.Nanosecond) { // more points than 32 bits count
		if n++; n == 3 {
			break
		}
	}
	if n != 3 {
		t.Errorf("a cadence of a nanosecond yields %d points", n)
	}
}

func TestCurveRefusals(t *testing.T) {
	e := published(t, "canon5m", "2027-08-02")
	if _, err := NewCurve(watch(t, e, sun.Site{Lat: -70, Lon: 100}, 69.2), CurveOptions{}); !errors.Is(err, ErrNoEclipse) {
		t.Errorf("70 S 100 E: %v", err)
	}
	if _, err := NewCurve(nil, CurveOptions{}); err == nil {
		t.Error("no observer was taken")
	}
	if _, err := NewCurve(new(Observer), CurveOptions{}); err == nil {
		t.Error("a zero observer was taken")
	}
	for _, floor := range []float64{-1, math.NaN(), math.Inf(1)} {
		if _, err := NewCurve(watch(t, e, sites[0], 69.2), CurveOptions{Floor: floor}); err == nil {
			t.Errorf("floor %g was taken", floor)
		}
	}
}

// Darmstadt, 20 March 2015 (testdata/references/eclipse_light_measured.csv): 74.0 %
// obscured at 10:38 local time (UTC+1), 13,000 lx measured on the horizontal. The
// clear-sky model's own spread is a third.
func TestMeasuredLight(t *testing.T) {
	o := watch(t, published(t, "canon5m", "2015-03-20"), sun.Site{Lat: 49.8778, Lon: 8.6558, Height: 145}, 67.7)
	c, err := NewCurve(o, CurveOptions{})
	require.NoError(t, err)
	p := c.At(timescale.Scale{}.TT(time.Date(2015, 3, 20, 9, 38, 0, 0, time.UTC)))
	if !(math.Abs(p.Obscuration-0.740) <= 0.003) {
		t.Errorf("obscuration %.4f, published 0.740", p.Obscuration)
	}
	if !(p.Lux > 13000/1.35 && p.Lux < 13000*1.35) {
		t.Errorf("%.0f lx, measured 13000", p.Lux)
	}
	t.Logf("%.0f lx modelled, 13000 measured", p.Lux)
}
