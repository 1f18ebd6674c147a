package disc

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.org/noonfall/testdata/references"
)

// good unwraps a law that must be valid.
func good(t testing.TB) func(Law, error) Law {
	return func(l Law, err error) Law {
		t.Helper()
		require.NoError(t, err)
		return l
	}
}

// Every column of the table was integrated at 30 digits, after Agol, Luger &
// Foreman-Mackey, AJ 159 (2020) 123; it prints 12, so that 5e-13 is its own error.
func TestFluxAgainstPublishedTable(t *testing.T) {
	ok := good(t)
	rows := references.Table(t, "eclipse_lightcurve_check.csv")
	if len(rows) != 63 {
		t.Fatalf("%d rows, want 63", len(rows))
	}
	for _, c := range []struct {
		column string
		law    Law
	}{
		{"F_uniform", Uniform()},
		{"F_mu", ok(Linear(1))},
		{"F_quad_allen550", Handbook550()},
		{"F_quad_ps552", PierceSlaughter552()},
		{"F_nl54176", ok(NeckelLabs(541.76))},
		{"F_nl55995", ok(NeckelLabs(559.95))},
		{"F_power_alpha0503", ok(Power(0.503))},
	} {
		t.Run(c.column, func(t *testing.T) {
			const tol = 1.5e-12 // 1e-12 for the nodes, 5e-13 for the printing
			worst := 0.0
			for _, r := range rows {
				p, z := r.Number(t, "p_moon_over_sun"), r.Number(t, "z_centre_distance_sun_radii")
				got, want := c.law.Flux(p, z), r.Number(t, c.column)
				if !(math.Abs(got-want) <= tol) {
					t.Errorf("p=%g z=%g: %.14f, want %.12f +- %g", p, z, got, want, tol)
				}
				worst = math.Max(worst, math.Abs(got-want))
			}
			t.Logf("worst difference %.1e", worst)
		})
	}
}

// Closed values worked out by hand or at 30 digits.
func TestFluxValues(t *testing.T) {
	ok := good(t)
	mu := ok(Linear(1))
	for _, tt := range []struct {
		law             Law
		p, z, want, tol float64
		source          string
	}{
		{Uniform(), 1, 1, 0.608997781044, 5e-13, "30 digits"},
		{mu, 1, 1, 0.595856898713, 2.5e-12, "30 digits, elliptic form agrees"},
		{mu, 0.5, 0.5, 0.712206590789, 5e-13, "1 - 3/2 Lam, Lam = 1/3 - 4/(9 pi)"},
		{mu, 0.6, 0, 0.512, 1e-15, "central: (1 - p^2)^(3/2)"},
		{ok(Power(0.5)), 0.6, 0, math.Pow(0.64, 1.25), 1e-14, "central: (1 - p^2)^(1 + alpha/2)"},
		{mu, 0, 0.3, 1, 0, "no occulter"},
		{mu, 1.5, 0.5, 0, 0, "total inner contact"},
		{mu, 1.5, 2.5, 1, 0, "outer contact"},
		{mu, 1, 0, 0, 0, "the same disc"},
		{mu, math.Inf(1), 3, 0, 0, "everything behind it"},
		{mu, 3, math.Inf(1), 1, 0, "nothing behind it"},
	} {
		if got := tt.law.Flux(tt.p, tt.z); !(math.Abs(got-tt.want) <= tt.tol) {
			t.Errorf("%v p=%g z=%g: %.15f, want %.15f +- %g (%s)", tt.law, tt.p, tt.z, got, tt.want, tt.tol, tt.source)
		}
	}
}

// The edge of an ever larger occulter becomes a straight line, at h from the
// centre, which leaves 1/2 + 3h/4 - h^3/4 of the mu law's light.
func TestFluxStraightEdge(t *testing.T) {
	mu := good(t)(Linear(1))
	for _, p := range []float64{1e3, 1e6, 1e12, 1e15, 1e16, 1e300} {
		for _, h := range []float64{-0.5, 0, 0.5} {
			z := p + h // as near as floating point comes to it
			h := z - p
			want, tol := 0.5+0.75*h-h*h*h/4, 2/p+2e-12
			if got := mu.Flux(p, z); !(math.Abs(got-want) <= tol) {
				t.Errorf("p=%g h=%g: %.13f, want %.13f +- %g", p, h, got, want, tol)
			}
		}
	}
}

// slow is the second method, which shares no formula with the first: rings about
// the source's centre, each with the angle that it keeps free, by adaptive
// Simpson between the radii where the occulter's edge begins and ends.
func slow(l Law, p, z float64) float64 {
	free := func(r float64) float64 {
		switch {
		case r <= p-z:
			return 0
		case r == 0 || r <= z-p || r >= z+p:
			return 2 * math.Pi
		}
		// z-p first: both may be huge
		s := math.Sqrt(math.Max(0, (r+z+p)*(r+(z-p))*(r-(z-p))*(-r+z+p)))
		return 2*math.Pi - 2*math.Atan2(s, r*r+(z-p)*(z+p))
	}
	cuts := []float64{0}
	for _, c := range []float64{math.Abs(z - p), z + p} {
		if c > 0 && c < 1 {
			cuts = append(cuts, c)
		}
	}
	cuts = append(cuts, 1)
	var sum float64
	for i := 1; i < len(cuts); i++ {
		a, b := cuts[i-1], cuts[i]
		// r = a + (b-a) sin^2 t smooths the square roots at both ends.
		sum += simpson(func(t float64) float64 {
			s, c := math.Sincos(t)
			r := a + (b-a)*s*s
			below := (1 - b) + (b-a)*c*c // 1 - r without cancellation
			mu := math.Sqrt(math.Max(0, below*(1+r)))
			return free(r) * l.Intensity(mu) * r * 2 * (b - a) * s * c
		}, 0, math.Pi/2, 1e-14)
	}
	return sum / (math.Pi * l.Mean())
}

func simpson(f func(float64) float64, a, b, tol float64) float64 {
	var refine func(a, b, fa, fm, fb, whole, tol float64, depth int) float64
	refine = func(a, b, fa, fm, fb, whole, tol float64, depth int) float64 {
		m := (a + b) / 2
		fl, fr := f((a+m)/2), f((m+b)/2)
		left, right := (m-a)/6*(fa+4*fl+fm), (b-m)/6*(fm+4*fr+fb)
		d := left + right - whole
		if depth == 0 || math.Abs(d) <= 15*tol {
			return left + right + d/15
		}
		return refine(a, m, fa, fl, fm, left, tol/2, depth-1) + refine(m, b, fm, fr, fb, right, tol/2, depth-1)
	}
	fa, fm, fb := f(a), f((a+b)/2), f(b)
	return refine(a, b, fa, fm, fb, (b-a)/6*(fa+4*fm+fb), tol, 40)
}

// placed draws a pair of discs: the Moon's sizes half the time, both contacts and
// the edge through the centre more often than chance would.
func placed(rng *rand.Rand, i int) (p, z float64) {
	p = math.Exp(math.Log(0.01) + rng.Float64()*math.Log(1000)) // 0.01 to 10
	if i%2 == 0 {
		p = 0.92 + 0.15*rng.Float64()
	}
	near := func() float64 { return (rng.Float64() - 0.5) * math.Pow(10, -1-7*rng.Float64()) }
	inner, outer := math.Abs(1-p), 1+p
	switch i % 7 {
	case 1:
		return p, math.Abs(inner + near())
	case 2:
		return p, math.Abs(p + near())
	case 3:
		return p, inner * rng.Float64()
	case 4:
		return p, math.Abs(outer + near())
	}
	return p, inner + (outer-inner)*rng.Float64()
}

func TestFluxAgainstSlowIntegration(t *testing.T) {
	ok := good(t)
	rng := rand.New(rand.NewPCG(1, 2))
	for _, c := range []struct {
		law Law
		tol float64
	}{
		{Uniform(), 1e-13},
		{ok(NeckelLabs(550)), 3e-12},
		{ok(NeckelLabs(869.6)), 3e-12},
		{ok(Polynomial([6]float64{5: 1})), 3e-12},
		{ok(Linear(-0.5)), 3e-12},
		{ok(Power(0.3)), 1e-13},
		{ok(Power(1.7)), 1e-13},
		{ok(Power(5)), 1e-13},
	} {
		worst := 0.0
		for i := range 210 {
			p, z := placed(rng, i)
			got, want := c.law.Flux(p, z), slow(c.law, p, z)
			if !(math.Abs(got-want) <= c.tol) {
				t.Errorf("%v p=%.9g z=%.12g: %.14f, want %.14f +- %g", c.law, p, z, got, want, c.tol)
			}
			worst = math.Max(worst, math.Abs(got-want))
		}
		t.Logf("%v: worst difference %.1e", c.law, worst)
	}
}

// From specks to straight edges, at and beside every tangency, for every law that
// is published or can be made.
func TestFluxAtAnyRadius(t *testing.T) {
	ok := good(t)
	laws := []Law{Uniform(), ok(Linear(1)), ok(Linear(-3)), ok(Quadratic(1, 0)), ok(Quadratic(0, 1)), ok(Power(0)), ok(Power(0.001)), ok(Power(5))}
	for p := range Presets() {
		laws = append(laws, p.Law)
	}
	rng := rand.New(rand.NewPCG(9, 10))
	worst := 0.0
	for i := range 1200 {
		l := laws[i%len(laws)]
		p := math.Pow(10, 16*rng.Float64()-8)
		near := min(1, p) * math.Pow(10, -16*rng.Float64())
		if rng.IntN(2) == 0 {
			near = -near
		}
		inner := math.Abs(1 - p)
		z := math.Abs([]float64{inner + near, 1 + p + near, p + near, inner + 2*min(1, p)*rng.Float64(), inner * rng.Float64()}[i%5])
		got, want := l.Flux(p, z), slow(l, p, z)
		if !(math.Abs(got-want) <= 1e-12) {
			t.Errorf("%v p=%.17g z=%.17g: %.14f, want %.14f", l, p, z, got, want)
		}
		worst = math.Max(worst, math.Abs(got-want))
	}
	t.Logf("worst difference %.1e", worst)
}

// No law allocates, wherever the discs stand.
func TestFluxAllocatesNothing(t *testing.T) {
	for _, l := range []Law{Uniform(), Visible(), Handbook550(), good(t)(Power(0.503))} {
		p, z := eclipses()
		i := 0
		if n := testing.AllocsPerRun(1000, func() {
			l.Flux(p[i], z[i])
			Overlap(p[i], z[i])
			i++
		}); n != 0 {
			t.Errorf("%v: %v allocations", l, n)
		}
	}
}

// Next to the inner contact of an annular eclipse, where fixed nodes stall, and at
// it: 1-p is exact for some of the radii.
func TestFluxAnnularContact(t *testing.T) {
	laws := []Law{good(t)(NeckelLabs(550)), good(t)(Power(0.503))}
	worst := 0.0
	for _, p := range []float64{0.1, 0.5, 0.75, 0.875, 0.9, 0.95, 0.99, 0.999} {
		for _, side := range []float64{-1, 1} {
			for e := -1.0; e >= -17; e-- {
				z := 1 - p + side*math.Pow(10, e)*p
				if e == -17 {
					z = 1 - p
				}
				if z < 0 {
					continue
				}
				for _, l := range laws {
					got, want := l.Flux(p, z), slow(l, p, z)
					if !(math.Abs(got-want) <= 1e-12) {
						t.Errorf("%v p=%g z=%.16g: %.14f, want %.14f", l, p, z, got, want)
					}
					worst = math.Max(worst, math.Abs(got-want))
				}
			}
		}
	}
	t.Logf("worst difference %.1e", worst)
}

// Discs of nearly the same size and place leave a sliver of limb, whatever the
// closed forms add and subtract. Its light is at most a
// uniform disc's. The integration takes each of
// two parts for good at 15e-14.
func TestFluxNearlyTheSameDisc(t *testing.T) {
	ok := good(t)
	for _, l := range []Law{Visible(), ok(Linear(1)), ok(Polynomial([6]float64{5: 1})), ok(Power(0.503))} {
		for e := -1.0; e >= -16; e -= 0.5 {
			for f := -1.0; f >= -16; f -= 0.5 {
				p, z := 1-math.Pow(10, e), math.Pow(10, f)
				got, want := l.Flux(p, z), slow(l, p, z)
				if free := 1 - Overlap(p, z); !(math.Abs(got-want) <= 3e-12*free+3e-13) || !(got <= free+1e-15) {
					t.Errorf("%v p=1-1e%g z=1e%g: %.10g, want %.10g", l, e, f, got, want)
				}
			}
		}
	}
}

// Polynomial and power laws go different ways to the same light.
func TestFluxTwoWays(t *testing.T) {
	ok := good(t)
	rng := rand.New(rand.NewPCG(5, 6))
	for n := range 6 {
		var a [6]float64
		a[n] = 1
		one, other := ok(Polynomial(a)), ok(Power(float64(n)))
		for i := range 2000 {
			p, z := placed(rng, i)
			if got, want := one.Flux(p, z), other.Flux(p, z); !(math.Abs(got-want) <= 3e-12) {
				t.Errorf("mu^%d p=%.9g z=%.12g: polynomial %.14f, power %.14f", n, p, z, got, want)
			}
		}
	}
}

// Before totality the logarithm of the light is what is fitted, so its relative
// error must stay small where the light itself is. The second method here is
// Simpson over the crescent alone.
func TestFluxRelativeBeforeTotality(t *testing.T) {
	ok := good(t)
	for _, c := range []struct {
		law Law
		tol float64
	}{{Uniform(), 1e-11}, {ok(NeckelLabs(550)), 1e-11}, {Handbook550(), 1e-11}, {ok(Power(0.503)), 1e-11}} {
		for _, p := range []float64{1.001, 1.01, 1.03, 1.06, 1.5, 3, 50} {
			for _, thin := range []float64{0.04, 1e-2, 1e-3, 1e-4, 1e-5, 1e-6} {
				z := p - 1 + thin
				thin := z - (p - 1) // as it was rounded
				want := crescentLight(c.law, p, thin)
				if got := c.law.Flux(p, z); !(math.Abs(got/want-1) <= c.tol) {
					t.Errorf("%v p=%g, %g before contact: %.14g, want %.14g", c.law, p, thin, got, want)
				}
			}
		}
	}
}

// crescentLight sums the rings r in (1 - thin, 1) of a crescent, with z - p + 1 = thin.
func crescentLight(l Law, p, thin float64) float64 {
	z := thin + p - 1
	f := func(t float64) float64 {
		s, c := math.Sincos(t)
		in := thin * c * c // 1 - r
		r := 1 - in
		mu := math.Sqrt(in * (1 + r))
		// Half the free angle a: cos a = (p^2 - z^2 - r^2)/(2 r z), so that
		// sin^2(a/2) = (z + r - p)(z + r + p)/(4 r z), with z + r - p = thin s^2.
		a := 2 * math.Asin(math.Sqrt(math.Min(1, thin*s*s*(z+r+p)/(4*r*z))))
		return 2 * a * l.Intensity(mu) * r * 2 * thin * s * c
	}
	scale := thin * f(0.8) / thin
	return simpson(f, 0, math.Pi/2, math.Abs(scale)*1e-13) / (math.Pi * l.Mean())
}

func TestFluxProperties(t *testing.T) {
	ok := good(t)
	laws := []Law{Visible(), Handbook550(), ok(Power(0.5)), ok(NeckelLabs(320.468)), ok(NeckelLabs(1098.95)), ok(Linear(1))}
	size := func(t *rapid.T) float64 {
		return math.Exp(rapid.Float64Range(math.Log(1e-3), math.Log(1e3)).Draw(t, "log p"))
	}
	flat := ok(Linear(0))
	const seam = 3e-12 // two errors of the nodes

	t.Run("within 0 and 1, more light as the occulter leaves", rapid.MakeCheck(func(t *rapid.T) {
		l, p := rapid.SampledFrom(laws).Draw(t, "law"), size(t)
		z := (1 + p) * rapid.Float64Range(0, 1.1).Draw(t, "z/(1+p)")
		step := rapid.Float64Range(0, 0.1).Draw(t, "step")
		f, g := l.Flux(p, z), l.Flux(p, z+step)
		if !(f >= 0 && f <= 1) || !(g >= f-seam) {
			t.Fatalf("%v p=%v: %v at z=%v, %v at %v", l, p, f, z, g, z+step)
		}
	}))
	t.Run("less light behind a larger occulter", rapid.MakeCheck(func(t *rapid.T) {
		l, p := rapid.SampledFrom(laws).Draw(t, "law"), size(t)
		z := rapid.Float64Range(0, 3).Draw(t, "z")
		f, g := l.Flux(p, z), l.Flux(p*1.01, z)
		if !(g <= f+seam) {
			t.Fatalf("%v z=%v: %v at p=%v, %v at %v", l, z, f, p, g, p*1.01)
		}
	}))
	t.Run("no jumps", rapid.MakeCheck(func(t *rapid.T) {
		l := rapid.SampledFrom(laws).Draw(t, "law")
		p := rapid.Float64Range(0.05, 10).Draw(t, "p")
		z := (1 + p) * rapid.Float64Range(0, 1).Draw(t, "z/(1+p)")
		z = rapid.SampledFrom([]float64{z, math.Abs(1 - p), p, math.Abs(p - crescent), 1 + p}).Draw(t, "z")
		const step = 1e-9
		// The light of a strip a step wide, at most 2 long and 1 bright.
		bound := 2*step/(math.Pi/2*l.Mean())*2 + seam
		if f, g := l.Flux(p, z), l.Flux(p, z+step); !(math.Abs(g-f) <= bound) {
			t.Fatalf("%v p=%v z=%v: %v then %v", l, p, z, f, g)
		}
	}))
	t.Run("the uniform disc loses what is covered", rapid.MakeCheck(func(t *rapid.T) {
		p := size(t)
		z := (1 + p) * rapid.Float64Range(0, 1.1).Draw(t, "z/(1+p)")
		want := 1 - Overlap(p, z)
		for _, l := range []Law{Uniform(), {}, flat} {
			if got := l.Flux(p, z); !(math.Abs(got-want) <= 1e-13) {
				t.Fatalf("%v p=%v z=%v: flux %v, want %v", l, p, z, got, want)
			}
		}
	}))
}

func TestFluxOfNonsense(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	for _, bad := range [][2]float64{{nan, 1}, {1, nan}, {nan, nan}, {nan, inf}, {inf, nan}, {-1, 1}, {1, -1}, {-inf, 1}, {1, -inf}, {inf, inf}} {
		if got := Overlap(bad[0], bad[1]); !math.IsNaN(got) {
			t.Errorf("Overlap(%v) = %v, want NaN", bad, got)
		}
		for _, l := range []Law{Uniform(), Visible(), good(t)(Power(0.5))} {
			if got := l.Flux(bad[0], bad[1]); !math.IsNaN(got) {
				t.Errorf("%v: Flux(%v) = %v, want NaN", l, bad, got)
			}
		}
	}
}
