package limb

import (
	"errors"
	"iter"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/disc"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// Whoever reads the one curve can read the other.
var _ = []interface {
	Flux(timescale.TT) float64
	Lux(timescale.TT) float64
	ClearLux(timescale.TT) float64
	At(timescale.TT) eclipse.Point
	All(time.Duration) iter.Seq[eclipse.Point]
	Circumstances() eclipse.Circumstances
	Observer() *eclipse.Observer
	Options() eclipse.CurveOptions
}{(*eclipse.Curve)(nil), (*Curve)(nil)}

func curveOf(t testing.TB, m Moon) *Curve {
	t.Helper()
	c, err := NewCurve(m, eclipse.CurveOptions{})
	require.NoError(t, err)
	return c
}

// near draws instants around second and third contact, as many in each decade of the
// time from them, on the bright side.
func near(rng *rand.Rand, c2, c3 timescale.TT, n int, visit func(at timescale.TT, away float64)) {
	for i := range n {
		away := 0.1 * math.Pow(3e4, rng.Float64())
		if i%2 == 0 {
			visit(c2-timescale.TT(away), away)
		} else {
			visit(c3+timescale.TT(away), away)
		}
	}
}

// The table against the integral that it was made of.
func TestCurveTableAgainstTheIntegral(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	law := newRim(disc.Visible())
	for _, kind := range kinds {
		worst, relative, last := 0.0, 0.0, 0.0
		for _, o := range centrals(t, kind, 5) {
			m := moonOf(t, o)
			c := curveOf(t, m)
			w := window{moon: &m, origin: c.origin, law: law}
			l := c.Contacts()
			near(rng, l.LimbC2.TT, l.LimbC3.TT, 600, func(at timescale.TT, away float64) {
				want, got := w.light(float64(at-c.origin)), c.Flux(at)
				worst = math.Max(worst, math.Abs(got-want))
				if part := math.Abs(got/want - 1); want > 1e-6 && away > 5 {
					relative = math.Max(relative, part)
				} else if want > 1e-6 {
					last = math.Max(last, part)
				}
			})
		}
		if !(worst <= 2e-5 && relative <= 5e-3 && last <= 5e-2) {
			t.Errorf("%v: %.1e of the full light, %.1e of what is left, %.1e in the last 5 s", kind, worst, relative, last)
		}
		t.Logf("%v: %.1e of the full light, %.1e of what is left, %.1e in the last 5 s", kind, worst, relative, last)
	}
}

// Near a limit beads shine all through, away from any knot of the table.
func TestCurveNearALimit(t *testing.T) {
	law := newRim(disc.Visible())
	worst, relative := 0.0, 0.0
	for i, o := range nearLimits(t) {
		if i%8 != 0 {
			continue
		}
		m := moonOf(t, o)
		c := curveOf(t, m)
		w := window{moon: &m, origin: c.origin, law: law}
		for s := -150.; s < 150; s += 0.37 {
			want, got := w.light(s), c.Flux(c.origin+timescale.TT(s))
			worst = math.Max(worst, math.Abs(got-want))
			if want > 1e-5 {
				relative = math.Max(relative, math.Abs(got/want-1))
			}
		}
	}
	if !(worst <= 2e-5 && relative <= 5e-2) {
		t.Errorf("%.1e of the full light, %.1e of what is left", worst, relative)
	}
	t.Logf("%.1e of the full light, %.1e of what is left", worst, relative)
}

// Without mountains the curve is that of package eclipse, whose method is another.
func TestCurveOfARoundMoon(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for _, kind := range kinds {
		worst, relative := 0.0, 0.0
		for _, o := range centrals(t, kind, 4) {
			m := moonOf(t, o)
			m.grid = roundGrid(t, earthRadius*o.Elements().K2)
			c := curveOf(t, m)
			circ := c.Circumstances()
			near(rng, circ.C2.TT, circ.C3.TT, 500, func(at timescale.TT, away float64) {
				got, want := c.Flux(at), c.Round().Flux(at)
				worst = math.Max(worst, math.Abs(got-want))
				if want > 1e-6 && away > 5 {
					relative = math.Max(relative, math.Abs(got/want-1))
				}
			})
		}
		if !(worst <= 3e-5 && relative <= 5e-3) {
			t.Errorf("%v: %.1e of the full light, %.1e of what is left", kind, worst, relative)
		}
		t.Logf("%v: %.1e of the full light, %.1e of what is left", kind, worst, relative)
	}
}

// What mountains do to the light, in the logarithm, by the time from the smooth
// contacts.
func TestWhatTheLimbDoesToTheLight(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for _, tt := range []struct {
		kind             eclipse.Kind
		from, to         float64 // s from the smooth contact
		least, most, cut float64 // rms of the logarithm; a light below which nobody sees a difference
	}{
		{eclipse.Total, 0.1, 5, 0.3, 1.2, 1e-5},
		{eclipse.Total, 20, 60, 0.05, 0.15, 1e-5},
		{eclipse.Total, 600, 3000, 0, 0.02, 1e-5},
		{eclipse.Annular, 0.1, 5, 0.001, 0.03, 0}, // k2 is 1.1 km less than the limb's mean
		{eclipse.Annular, 20, 60, 0.001, 0.03, 0},
	} {
		var squares, n float64
		for _, o := range centrals(t, tt.kind, 12) {
			c := curveOf(t, moonOf(t, o))
			circ := c.Circumstances()
			near(rng, circ.C2.TT, circ.C3.TT, 400, func(at timescale.TT, away float64) {
				if away < tt.from || away > tt.to {
					return
				}
				got, round := c.Flux(at), c.Round().Flux(at)
				if got > tt.cut && round > tt.cut && (got < 0.99 || round < 0.99) {
					d := math.Log(got / round)
					squares, n = squares+d*d, n+1
				}
			})
		}
		rms := math.Sqrt(squares / n)
		if !(n > 100 && rms >= tt.least && rms <= tt.most) {
			t.Errorf("%v, %g to %g s: %.3f rms of %g", tt.kind, tt.from, tt.to, rms, n)
		}
		t.Logf("%v, %g to %g s: %.3f rms of %g", tt.kind, tt.from, tt.to, rms, n)
	}
}

// The curve joins up everywhere, is whole outside the eclipse and dark in totality.
func TestCurveIsWhole(t *testing.T) {
	for _, site := range []sun.Site{
		{Lat: 36, Lon: -5.6}, {Lat: 37.2, Lon: -5.6}, {Lat: 48, Lon: 2}, // total, beside the path, partial
	} {
		m := moonOf(t, watch(t, elements(t, "2027-08-02"), site, 69))
		c := curveOf(t, m)
		circ := c.Circumstances()
		for _, at := range []timescale.TT{circ.C1.TT - 60, circ.C4.TT + 60, circ.C1.TT - 1e6} {
			if got := c.Flux(at); !(got >= 1-1e-9 && got <= 1) {
				t.Errorf("%+v: %v outside the eclipse", site, got)
			}
		}
		if got := c.Flux(timescale.TT(math.NaN())); !math.IsNaN(got) {
			t.Errorf("NaN gives %v", got)
		}
		if l := c.Contacts(); l.Count > 0 {
			if got := c.Flux((l.LimbC2.TT + l.LimbC3.TT) / 2); got != 0 {
				t.Errorf("%+v: %v in totality", site, got)
			}
		}
		before := c.Flux(circ.C1.TT - 100)
		n := 0
		for at := circ.C1.TT - 100; at < circ.C4.TT+100; at += 0.5 {
			flux := c.Flux(at)
			if !(flux >= 0 && flux <= 1 && math.Abs(flux-before) <= 6e-4) { // the Moon takes 1e-3 a second at most
				t.Errorf("%+v: from %v to %v within half a second, %.1f s from maximum", site, before, flux, float64(at-circ.Max.TT))
				break
			}
			before = flux
		}
		for p := range c.All(5 * time.Minute) {
			if p.Flux != c.Flux(p.TT) || p.Lux != c.Lux(p.TT) {
				t.Errorf("%+v: All has %v and %v lx, the curve %v and %v lx", site, p.Flux, p.Lux, c.Flux(p.TT), c.Lux(p.TT))
			}
			if n++; n == 20 {
				break
			}
		}
		if clear := c.ClearLux(circ.Max.TT); n != 20 || !(clear > 1e4 && c.Lux(circ.Max.TT) < clear/2) {
			t.Errorf("%+v: %d points, clear sky %v lx", site, n, clear)
		}
	}
	far := moonOf(t, watch(t, elements(t, "2027-08-02"), sun.Site{Lat: -60}, 69))
	if _, err := NewCurve(far, eclipse.CurveOptions{}); !errors.Is(err, eclipse.ErrNoEclipse) {
		t.Errorf("no eclipse: %v", err)
	}
	if _, err := NewCurve(moonOf(t, watch(t, elements(t, "2027-08-02"), sun.Site{Lat: 36}, 69)), eclipse.CurveOptions{Floor: -1}); err == nil {
		t.Error("a negative floor is taken")
	}
}
