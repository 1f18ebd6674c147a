package eclipse

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun"
)

func prepared(t testing.TB, e *Elements, opt Options) *Prepared {
	t.Helper()
	p, err := Prepare(e, opt)
	require.NoError(t, err)
	return p
}

func parallel(t testing.TB, p *Prepared, lat, height float64) *Parallel {
	t.Helper()
	r, err := p.Parallel(lat, height)
	require.NoError(t, err)
	return &r
}

// same compares the row's site with Circumstances, which knows no neighbour.
func same(t *testing.T, r *Parallel, inside bool) {
	t.Helper()
	o, err := r.o.prep.Observer(r.Site())
	require.NoError(t, err)
	want := o.Circumstances()
	if r.Geometry() != want.Geometry || inside != (want.Geometry != None) {
		t.Errorf("%s %+v: %v, cold %v", o.Elements().Date, r.Site(), r.Geometry(), want.Geometry)
		return
	}
	if r.Circumstances() != want {
		t.Errorf("%s %+v: Circumstances differ from the observer's", o.Elements().Date, r.Site())
	}
	magnitude, obscuration := r.Seen()
	// 1e-8 is what the series of small angles leave; the rest is for a row's thousand
	// turns. Obscuration goes with the root of the magnitude's error nowhere.
	for _, c := range []struct {
		name           string
		got, want, tol float64
	}{
		{"magnitude", r.Magnitude(), want.Magnitude, 3e-8},
		{"obscuration", r.Obscuration(), want.Obscuration, 3e-8},
		{"seen magnitude", magnitude, want.SeenMagnitude, 3e-8},
		{"seen obscuration", obscuration, want.SeenObscuration, 3e-8},
	} {
		if !(math.Abs(c.got-c.want) <= c.tol) {
			t.Errorf("%s %+v: %s %.10f, cold %.10f +- %g", o.Elements().Date, r.Site(), c.name, c.got, c.want, c.tol)
		}
	}
	if want.Geometry == None {
		return
	}
	if off := float64(r.Max() - want.Max.TT); !(math.Abs(off) <= 0.02) {
		t.Errorf("%s %+v: maximum off by %.3f s", o.Elements().Date, r.Site(), off)
	}
	if off := r.SunAlt() - want.Max.Alt; !(math.Abs(off) <= 1e-4) {
		t.Errorf("%s %+v: Sun's altitude off by %.2g degrees", o.Elements().Date, r.Site(), off)
	}
}

// Warm and cold are one, all over the Earth and from pole to pole, for all printed
// elements: nothing is lost, and nothing turns up outside the penumbra.
func TestParallelIsCircumstances(t *testing.T) {
	for i, e := range all(t) {
		p := prepared(t, e, Options{Horizon: Horizon(i % len(horizons))})
		for lat := -90.0; lat <= 90; lat += 15 {
			r := parallel(t, p, lat, 0)
			for lon := -180.0; lon < 180; lon += 3 {
				same(t, r, r.At(lon))
			}
		}
	}
}

// A neighbour may be anywhere, or where the eclipse is long over.
func TestParallelAnyOrder(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for i, e := range all(t) {
		p := prepared(t, e, Options{})
		for range 5 {
			s := place(e, i+1, rng)
			r := parallel(t, p, s.Lat, s.Height)
			lon, step := s.Lon, math.Pow(10, 3*rng.Float64()-2)
			for range 40 {
				same(t, r, r.At(lon))
				lon += step
				if rng.Float64() < 0.1 {
					lon += 360 * (rng.Float64() - 0.5)
					step = -step
				}
			}
		}
	}
}

// Where the polynomials end early the row ends with them, and so does Circumstances.
func TestParallelShortSpan(t *testing.T) {
	e := *published(t, "canon5m", "2027-08-02")
	e.Span = 1
	p := prepared(t, &e, Options{})
	in := 0
	for lat := -80.0; lat <= 80; lat += 10 {
		r := parallel(t, p, lat, 0)
		for lon := -180.0; lon < 180; lon += 1 {
			inside := r.At(lon)
			if inside {
				in++
			}
			same(t, r, inside)
		}
	}
	if in < 250 {
		t.Errorf("%d sites inside, want enough to tell", in)
	}
}

// Elements whose cones change as none do, and of a higher degree than any.
func TestParallelOddElements(t *testing.T) {
	e := *published(t, "canon5m", "2027-08-02")
	e.TanF1 = Poly{e.TanF1[0], 1e-5, 1e-6}
	e.X = append(append(Poly(nil), e.X...), 1e-6, 1e-7, 1e-8)
	p := prepared(t, &e, Options{})
	for lat := -90.0; lat <= 90; lat += 10 {
		r := parallel(t, p, lat, 9000)
		for lon := -180.0; lon < 180; lon += 3 {
			same(t, r, r.At(lon))
		}
	}
}

// Whole turns do not matter, and no longitude breaks anything.
func TestParallelLongitudes(t *testing.T) {
	p := prepared(t, published(t, "canon5m", "2027-08-02"), Options{})
	r := parallel(t, p, 36, 0)
	for _, lon := range []float64{-5.6 - 360, -5.6, -5.6 + 360, -5.6 + 720} {
		if !r.At(lon) || r.Geometry() != Total {
			t.Errorf("%g: %v, want total", lon, r.Geometry())
		}
		if got := r.Site().Lon; !(math.Abs(math.Remainder(got+5.6, 360)) <= 1e-12 && got >= -180 && got < 360) {
			t.Errorf("%g: the site stands at %g", lon, got)
		}
	}
	for _, lon := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if r.At(lon) || r.Geometry() != None || r.Obscuration() != 0 || r.Magnitude() != 0 {
			t.Errorf("%g: %v, want nothing", lon, r.Geometry())
		}
		if !math.IsNaN(r.SunAlt()) || r.Max() != r.o.prep.elements.T0 || r.Circumstances().Geometry != None {
			t.Errorf("%g: an instant of an eclipse that is none", lon)
		}
		if !r.At(-5.6) || r.Geometry() != Total {
			t.Errorf("after %g: %v, want total again", lon, r.Geometry())
		}
	}
}

func TestParallelRefuses(t *testing.T) {
	p := prepared(t, published(t, "canon5m", "2027-08-02"), Options{})
	for _, s := range []sun.Site{{Lat: 91}, {Lat: math.NaN()}, {Height: 1e5}, {Height: math.NaN()}} {
		var wrong *sun.RangeError
		if _, err := p.Parallel(s.Lat, s.Height); !errors.As(err, &wrong) {
			t.Errorf("%+v: %v, want a RangeError", s, err)
		}
	}
}

// The bounds that allow sites to be passed over hold wherever they are tried: looked at
// every minute, a site out of reach stays outside the penumbra, and so do all that its
// clearance covers.
func TestReachHolds(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	out, clear := 0, 0
	for i, e := range all(t) {
		p := prepared(t, e, Options{})
		for range 40 {
			s := place(e, i+1, rng)
			o, err := p.Observer(s)
			require.NoError(t, err)
			b := o.reach()
			var g glimpse
			h, off, where := 4*rng.Float64()-2, 0.0, elsewhen
			for n := 0; n < 9 && where == elsewhen; n++ {
				h += off
				g.look(&o, h)
				where, off = b.approach(&g, p)
			}
			if where != outOfReach {
				continue
			}
			out++
			if free := b.clearance(&g, p); free > 0 {
				clear++
				o.lon += free / o.rhoCos * (2*rng.Float64() - 1)
			}
			for h := -e.Span; h <= e.Span; h += 1. / 60 {
				var w view
				o.see(h, &w)
				if inside := w.l1 - math.Hypot(w.u, w.v); !(inside < 0) {
					t.Errorf("%s %+v: out of reach, but %.4f inside", e.Date, s, inside)
					break
				}
			}
		}
	}
	if out < 100 || clear < 20 {
		t.Errorf("%d sites out of reach and %d with room about them, want enough to tell", out, clear)
	}
}
