package eclipse

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

func all(t testing.TB) []*Elements {
	var out []*Elements
	for _, r := range table(t, "elements.csv") {
		if r["version"] == "canon5m" {
			out = append(out, r.elements(t))
		}
	}
	require.Greater(t, len(out), 40)
	return out
}

// At a contact the discs touch, by the other formula: angular radii.
func TestDiscsTouchAtContacts(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for _, e := range all(t) {
		for range 10 {
			o := watch(t, e, under(e, 3*rng.Float64()-1.5, 6*rng.Float64()-3), 70)
			c := o.Circumstances()
			for _, k := range []struct {
				name  string
				c     Contact
				k     float64
				inner bool
			}{{"C1", c.C1, o.prep.k1, false}, {"C4", c.C4, o.prep.k1, false}, {"C2", c.C2, o.prep.k2, true}, {"C3", c.C3, o.prep.k2, true}} {
				if !k.c.Exists {
					continue
				}
				var w view
				o.see(o.hours(k.c.TT), &w)
				p := w.discs(o.prep.k1, k.k)
				gap := p.separation - p.sun - p.moon
				if k.inner {
					gap = p.separation - math.Abs(p.moon-p.sun)
				}
				// Printed l2 carries 1e-6 Earth radii: 0.003 arcsec.
				if !(math.Abs(gap)/deg*3600 <= 0.005) {
					t.Errorf("%s: %s leaves a gap of %.4f arcsec", e.Date, k.name, gap/deg*3600)
				}
			}
		}
	}
}

// The sky seen from the other hemisphere is the mirror image.
func TestMirror(t *testing.T) {
	elements := all(t)
	rapid.Check(t, func(t *rapid.T) {
		e := *rapid.SampledFrom(elements).Draw(t, "eclipse")
		s := sun.Site{Lat: rapid.Float64Range(-90, 90).Draw(t, "lat"), Lon: rapid.Float64Range(-180, 180).Draw(t, "lon")}
		opt := Options{Scale: timescale.FixedDeltaT(70)}
		a, err := NewObserver(&e, s, opt)
		require.NoError(t, err)
		m := e
		m.Y, m.D = e.Y.times(-1), e.D.times(-1)
		s.Lat = -s.Lat
		b, err := NewObserver(&m, s, opt)
		require.NoError(t, err)
		ca, cb := a.Circumstances(), b.Circumstances()
		if ca.Geometry != cb.Geometry || ca.Seen != cb.Seen {
			t.Fatalf("%v %v, mirrored %v %v", ca.Geometry, ca.Seen, cb.Geometry, cb.Seen)
		}
		if ca.Geometry == None {
			return
		}
		if d := float64(ca.C1.TT - cb.C1.TT); !(math.Abs(d) < 1e-5) {
			t.Fatalf("C1 differs by %g s", d)
		}
		if d := math.Remainder(ca.C1.P+cb.C1.P-180, 360); !(math.Abs(d) < 1e-6) {
			t.Fatalf("P %g and %g are no mirror images", ca.C1.P, cb.C1.P)
		}
	})
}

// Turning the Earth and the site together changes nothing.
func TestTurn(t *testing.T) {
	elements := all(t)
	rapid.Check(t, func(t *rapid.T) {
		e := *rapid.SampledFrom(elements).Draw(t, "eclipse")
		s := sun.Site{Lat: rapid.Float64Range(-90, 90).Draw(t, "lat"), Lon: rapid.Float64Range(-90, 90).Draw(t, "lon")}
		by := rapid.Float64Range(-90, 90).Draw(t, "turn")
		opt := Options{Scale: timescale.FixedDeltaT(70)}
		a, err := NewObserver(&e, s, opt)
		require.NoError(t, err)
		m := e
		m.Mu = e.Mu.plus(by)
		s.Lon -= by
		b, err := NewObserver(&m, s, opt)
		require.NoError(t, err)
		ca, cb := a.Circumstances(), b.Circumstances()
		if d := float64(ca.Max.TT - cb.Max.TT); ca.Geometry != cb.Geometry || !(math.Abs(d) < 1e-4) {
			t.Fatalf("%v and %v, maximum differs by %g s", ca.Geometry, cb.Geometry, d)
		}
	})
}

// An eclipse whose first and last contacts are both below the horizon while its
// middle is not: 68.97 N 33.075 E, 16 January 2037, found by a search over the
// Earth; and the same by a scan of altitudes.
func TestSeenAgainstScan(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	elements := all(t)
	low := 0
	for i := range 400 {
		e := elements[i%len(elements)]
		s := sun.Site{Lat: math.Copysign(55+35*rng.Float64(), rng.Float64()-0.5), Lon: 360*rng.Float64() - 180}
		for _, h := range []Horizon{RefractedUpperLimb, RefractedCentre, UpperLimb, Centre} {
			o, err := NewObserver(e, s, Options{Scale: timescale.FixedDeltaT(70), Horizon: h})
			require.NoError(t, err)
			c := o.Circumstances()
			if c.Geometry == None {
				continue
			}
			want := None
			deepest := -1.0
			for tt := o.hours(c.C1.TT); tt <= o.hours(c.C4.TT); tt += 10.0 / 3600 {
				if o.height(tt) <= 0 {
					continue
				}
				want = max(want, Partial)
				var w view
				o.see(tt, &w)
				p := w.discs(o.prep.k1, o.prep.k2)
				if p.separation < math.Abs(p.moon-p.sun) {
					want = c.Geometry
				}
				k := o.prep.k1
				if c.Geometry > Partial {
					k = o.prep.k2
				}
				deepest = math.Max(deepest, w.discs(o.prep.k1, k).magnitude())
			}
			if !c.C1.Above || !c.C4.Above {
				low++
			}
			if c.Seen != want {
				if c.MaxSeen.Exists && math.Abs(float64(c.MaxSeen.TT-c.C1.TT)) < 10 || math.Abs(float64(c.MaxSeen.TT-c.C4.TT)) < 10 {
					continue // up for less than the scan's step
				}
				t.Errorf("%s %+v %v: seen %v, scan says %v", e.Date, s, h, c.Seen, want)
			}
			if want != None && c.Geometry == Partial && !(math.Abs(c.SeenMagnitude-deepest) <= 0.003) {
				t.Errorf("%s %+v %v: deepest seen %.4f, scan says %.4f", e.Date, s, h, c.SeenMagnitude, deepest)
			}
		}
	}
	if low < 50 {
		t.Errorf("only %d eclipses touched the horizon", low)
	}
}

func TestElementsJSON(t *testing.T) {
	for _, e := range all(t) {
		data, err := json.Marshal(e)
		require.NoError(t, err)
		var back Elements
		require.NoError(t, json.Unmarshal(data, &back), string(data))
		if math.Abs(float64(back.T0-e.T0)) > 1e-6 || !slices.Equal(back.X, e.X) || back.K2 != e.K2 || back.Date != e.Date {
			t.Fatalf("%s came back as %+v", data, back)
		}
	}
	for _, bad := range []string{`{}`, `{"version":2}`, `{"version":1,"colour":"red"}`, `{"version":1,"t0_tt":"noon"}`} {
		if err := json.Unmarshal([]byte(bad), new(Elements)); err == nil {
			t.Errorf("%s was taken", bad)
		}
	}
}

func TestWithRadiiThereAndBack(t *testing.T) {
	for _, e := range all(t) {
		back := e.WithRadii(0.2724, 0.2724).WithRadii(e.K1, e.K2)
		if d := math.Abs(back.L1[0]-e.L1[0]) + math.Abs(back.L2[0]-e.L2[0]); !(d < 1e-9) {
			t.Errorf("%s: off by %g Earth radii", e.Date, d)
		}
		// A larger Moon casts a wider penumbra and a longer umbra.
		if w := e.WithRadii(e.K1+1e-4, e.K2+1e-4); !(w.L1[0] > e.L1[0] && w.L2[0] < e.L2[0]) {
			t.Errorf("%s: a larger Moon gives l1 %g to %g, l2 %g to %g", e.Date, e.L1[0], w.L1[0], e.L2[0], w.L2[0])
		}
	}
}

func TestObserverRefusals(t *testing.T) {
	e := all(t)[0]
	var rangeErr *sun.RangeError
	if _, err := NewObserver(e, sun.Site{Lat: 91}, Options{}); !errors.As(err, &rangeErr) {
		t.Errorf("latitude 91: %v", err)
	}
	for _, broken := range []func(*Elements){
		func(e *Elements) { e.X = nil }, func(e *Elements) { e.L1 = Poly{math.NaN()} }, func(e *Elements) { e.K1 = 0 },
		func(e *Elements) { e.Span = -1 }, func(e *Elements) { e.Date = "yesterday" }, func(e *Elements) { e.T0 = timescale.TT(math.Inf(1)) },
	} {
		b := *e
		broken(&b)
		var bad *ElementsError
		if _, err := NewObserver(&b, sun.Site{}, Options{}); !errors.As(err, &bad) {
			t.Errorf("%v", err)
		}
	}
	if _, err := NewObserver(nil, sun.Site{}, Options{}); err == nil {
		t.Error("no elements were taken")
	}
	if _, err := NewObserver(e, sun.Site{}, Options{Horizon: 9}); err == nil {
		t.Error("horizon 9 was taken")
	}
}

func jittered(b *testing.B) ([]*Observer, []timescale.TT) {
	e := published(b, "canon5m", "2027-08-02")
	rng := rand.New(rand.NewPCG(1, 2))
	var os []*Observer
	var ts []timescale.TT
	for range 256 {
		s := under(e, 3*rng.Float64()-1.5, 0.5-rng.Float64())
		if rng.Float64() < 0.5 {
			s.Lat = math.Max(-89, math.Min(89, s.Lat+40*rng.Float64()-20))
		}
		os = append(os, watch(b, e, s, 69.2))
		ts = append(ts, e.T0+timescale.TT(7200*(rng.Float64()-0.5)))
	}
	return os, ts
}

func BenchmarkAspect(b *testing.B) {
	os, ts := jittered(b)
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		os[i&255].Aspect(ts[(i*7)&255])
		i++
	}
}

func BenchmarkCircumstances(b *testing.B) {
	os, _ := jittered(b)
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		os[i&255].Circumstances()
		i++
	}
}
