package disc

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func rows(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../../testdata/references/" + name)
	require.NoError(t, err)
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	var out []map[string]string
	for _, r := range all[1:] {
		m := map[string]string{}
		for i, h := range all[0] {
			m[h] = r[i]
		}
		out = append(out, m)
	}
	require.NotEmpty(t, out)
	return out
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err, s)
	return v
}

func law(t *testing.T) func(Law, error) Law {
	return func(l Law, err error) Law {
		t.Helper()
		require.NoError(t, err)
		return l
	}
}

// The table was integrated at 30 digits after Agol, Luger & Foreman-Mackey 2020;
// it prints 12.
func TestFluxAgainstPublishedTable(t *testing.T) {
	ok := law(t)
	columns := []struct {
		name string
		law  Law
		tol  float64
	}{
		{"F_uniform", Uniform(), 2e-12},
		{"F_mu", ok(Linear(1)), 5e-9},
		{"F_quad_allen550", Handbook550(), 5e-9},
		{"F_quad_ps552", PierceSlaughter552(), 5e-9},
		{"F_nl54176", ok(NeckelLabs(541.76)), 5e-9},
		{"F_nl55995", ok(NeckelLabs(559.95)), 5e-9},
		{"F_power_alpha0503", ok(Power(0.503)), 5e-9},
	}
	for _, c := range columns {
		worst := 0.0
		for _, r := range rows(t, "eclipse_lightcurve_check.csv") {
			p, z := number(t, r["p_moon_over_sun"]), number(t, r["z_centre_distance_sun_radii"])
			got, want := c.law.Flux(p, z), number(t, r[c.name])
			if !(math.Abs(got-want) <= c.tol) {
				t.Errorf("%s p=%g z=%g: %.13f, want %.13f +- %g", c.name, p, z, got, want, c.tol)
			}
			worst = math.Max(worst, math.Abs(got-want))
		}
		t.Logf("%s: worst difference %.1e", c.name, worst)
	}
}

// slow is the second method: rings about the source's centre, each with its free
// angle, by adaptive Simpson between the radii where the edge begins and ends.
func slow(l Law, p, z float64) float64 {
	free := func(r float64) float64 {
		switch {
		case z >= r+p || r == 0 && z > p:
			return 2 * math.Pi
		case r <= p-z:
			return 0
		case r >= z+p:
			return 2 * math.Pi
		}
		// half-angle by atan2 of the triangle's sides r, z, p
		s := math.Sqrt(math.Max(0, (r+z+p)*(r+z-p)*(r-z+p)*(-r+z+p)))
		return 2*math.Pi - 2*math.Atan2(s, r*r+z*z-p*p)
	}
	cuts := []float64{0, 1}
	for _, c := range []float64{math.Abs(z - p), z + p} {
		if c > 0 && c < 1 {
			cuts = append(cuts, c)
		}
	}
	for i := range cuts {
		for j := i + 1; j < len(cuts); j++ {
			if cuts[j] < cuts[i] {
				cuts[i], cuts[j] = cuts[j], cuts[i]
			}
		}
	}
	var sum float64
	for i := 1; i < len(cuts); i++ {
		a, b := cuts[i-1], cuts[i]
		// r = a + (b-a) sin^2 t smooths the square roots at both ends.
		f := func(t float64) float64 {
			s, c := math.Sincos(t)
			r := a + (b-a)*s*s
			one := (1 - b) + (b-a)*c*c // 1 - r without cancellation
			return free(r) * l.Intensity(math.Sqrt(math.Max(0, one*(1+r)))) * r * 2 * (b - a) * s * c
		}
		sum += simpson(f, 0, math.Pi/2, 1e-12, 40)
	}
	return sum / (math.Pi * l.Mean())
}

func simpson(f func(float64) float64, a, b, tol float64, depth int) float64 {
	m := (a + b) / 2
	fa, fm, fb := f(a), f(m), f(b)
	return refine(f, a, b, fa, fm, fb, (b-a)/6*(fa+4*fm+fb), tol, depth)
}

func refine(f func(float64) float64, a, b, fa, fm, fb, whole, tol float64, depth int) float64 {
	m := (a + b) / 2
	fl, fr := f((a+m)/2), f((m+b)/2)
	left, right := (m-a)/6*(fa+4*fl+fm), (b-m)/6*(fm+4*fr+fb)
	d := left + right - whole
	if depth <= 0 || math.Abs(d) <= 15*tol {
		return left + right + d/15
	}
	return refine(f, a, m, fa, fl, fm, left, tol/2, depth-1) + refine(f, m, b, fm, fr, fb, right, tol/2, depth-1)
}

func TestFluxAgainstSlowIntegration(t *testing.T) {
	ok := law(t)
	laws := []struct {
		law Law
		tol float64
	}{
		{ok(NeckelLabs(550)), 5e-9},
		{ok(Quadratic(0.47, 0.23)), 5e-9},
		{ok(Power(0.503)), 5e-9},
		{ok(Power(0.3)), 5e-9},
	}
	rng := rand.New(rand.NewPCG(1, 2))
	worst := map[string]float64{}
	for i := range 600 {
		p := math.Exp(rng.Float64()*math.Log(1000) - math.Log(100)) // 0.01 to 10
		switch i % 6 {
		case 0, 1, 2:
			p = 0.92 + 0.15*rng.Float64() // the Moon's
		}
		lo, hi := math.Abs(1-p), 1+p
		z := lo + (hi-lo)*rng.Float64()
		switch i % 5 {
		case 1: // next to inner contact, either side
			z = math.Abs(lo + (rng.Float64()-0.5)*math.Pow(10, -1-6*rng.Float64()))
		case 2: // edge through the centre
			z = p * (1 + (rng.Float64()-0.5)*math.Pow(10, -6*rng.Float64()))
		case 3: // inside
			z = lo * rng.Float64()
		}
		for _, c := range laws {
			got, want := c.law.Flux(p, z), slow(c.law, p, z)
			if !(math.Abs(got-want) <= c.tol) {
				t.Errorf("%v p=%.9g z=%.9g: %.12f, want %.12f +- %g", c.law, p, z, got, want, c.tol)
			}
			worst[c.law.String()] = math.Max(worst[c.law.String()], math.Abs(got-want))
		}
	}
	t.Log("worst differences: ", worst)
}

// Before totality the logarithm of the flux is what is fitted: its relative
// error must be small where the flux itself is.
func TestFluxRelativeBeforeTotality(t *testing.T) {
	l := law(t)(NeckelLabs(550))
	for _, d := range []float64{1e-2, 1e-3, 1e-4, 1e-5} {
		p := 1.03
		z := p - 1 + d
		got, want := l.Flux(p, z), l.Flux(p, z)
		finer := adaptiveEdge(l, p, z)
		if !(math.Abs(got/finer-1) <= 1e-9) || !(math.Abs(want/finer-1) <= 1e-9) {
			t.Errorf("d=%g: %.12g, want %.12g", d, got, finer)
		}
	}
}

// adaptiveEdge is edgeAcross with as many nodes as it takes.
func adaptiveEdge(l Law, p, z float64) float64 {
	q := 1 / (4 * z * p)
	w2 := (1 - (z - p)) * (1 + (z - p)) * q
	u2 := (z + p - 1) * (z + p + 1) * q
	w := math.Sqrt(w2)
	f := func(t float64) float64 {
		s := math.Sin(t)
		mu := 2 * math.Sqrt(z*p) * w * s
		return l.ring(mu) * (1 + (p-z)*(p+z)/(1-mu*mu)) * s * w / math.Sqrt(u2+w2*s*s)
	}
	scale := f(math.Pi / 2)
	return simpson(f, 0, math.Pi/2, scale*1e-13, 40) / math.Pi / l.scale
}

func TestOverlap(t *testing.T) {
	for _, tt := range []struct {
		p, z, want, tol float64
		source          string
	}{
		{1, 1, 1 - 0.608997781044, 1e-12, "integrated at 30 digits, Agol et al. 2020 formulae"},
		{1, 0, 1, 0, "the same disc"},
		{0.5, 0, 0.25, 1e-15, "ratio of areas"},
		{0.5, 0.5, 0.25, 1e-15, "inside, touching"},
		{100, 99, 1, 0, "published stability grid, AJ 159 (2020) 123"},
		{100, 101, 0, 0, "published stability grid"},
		{2, 3, 0, 0, "outer contact"},
	} {
		if got := Overlap(tt.p, tt.z); !(math.Abs(got-tt.want) <= tt.tol) {
			t.Errorf("Overlap(%g, %g) = %.15f, want %.15f (%s)", tt.p, tt.z, got, tt.want, tt.source)
		}
	}
	// A very large occulter is a straight edge at h: acos h - h sqrt(1-h^2) over pi.
	const p, h = 1e6, 0.5
	want := (math.Acos(h) - h*math.Sqrt(1-h*h)) / math.Pi
	if got := Overlap(p, p+h); !(math.Abs(got-want) <= 1e-6) {
		t.Errorf("straight edge: %.9f, want %.9f", got, want)
	}
	for _, bad := range [][2]float64{{math.NaN(), 1}, {1, math.NaN()}, {-1, 1}, {1, -1}} {
		if got := Overlap(bad[0], bad[1]); !math.IsNaN(got) {
			t.Errorf("Overlap(%v) = %v, want NaN", bad, got)
		}
		if got := Visible().Flux(bad[0], bad[1]); !math.IsNaN(got) {
			t.Errorf("Flux(%v) = %v, want NaN", bad, got)
		}
	}
}

func TestOverlapAgainstSlowIntegration(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		p := math.Exp(rng.Float64()*math.Log(100) - math.Log(10))
		z := math.Abs(1-p) + (1+p-math.Abs(1-p))*rng.Float64()
		got, want := Overlap(p, z), 1-slow(Uniform(), p, z)
		if !(math.Abs(got-want) <= 2e-11) { // the integration's own tolerance
			t.Errorf("Overlap(%g, %g) = %.14f, want %.14f", p, z, got, want)
		}
	}
}

func TestPresets(t *testing.T) {
	for _, r := range neckelLabs {
		l := law(t)(NeckelLabs(r.nm))
		if !(math.Abs(l.Mean()-r.mean) <= 1e-4) {
			t.Errorf("%g nm: mean %.5f, printed %.4f (Neckel & Labs 1994)", r.nm, l.Mean(), r.mean)
		}
	}
	n := 0
	for _, r := range rows(t, "limb_darkening_power_law.csv") {
		l, err := HestrofferMagnan(number(t, r["wavelength_nm"]))
		if err != nil {
			continue
		}
		n++
		if want := number(t, r["alpha_eq5"]); !(math.Abs(l.a[0]-want) <= 6e-5) {
			t.Errorf("%s nm: alpha %.5f, want %.4f", r["wavelength_nm"], l.a[0], want)
		}
	}
	if n < 15 {
		t.Errorf("only %d rows of the power law were in range", n)
	}
	for _, c := range []struct {
		law  Law
		mean float64
		src  string
	}{
		{Handbook550(), 0.805, "REFERENCES A3, handbook quadratic"},
		{PierceSlaughter552(), 0.81070, "Pierce & Slaughter 1977, eq. 10"},
		{Visible(), 0.803, "between 541.76 (0.8002) and 559.95 nm (0.8061)"},
	} {
		if !(math.Abs(c.law.Mean()-c.mean) <= 5e-4) {
			t.Errorf("%v: mean %.5f, want %.5f (%s)", c.law, c.law.Mean(), c.mean, c.src)
		}
	}
	var out *RangeError
	if _, err := NeckelLabs(2000); !errors.As(err, &out) || out.Max < 1098 {
		t.Errorf("2000 nm: %v", err)
	}
}

func TestLawRefusals(t *testing.T) {
	for _, a := range [][6]float64{{}, {math.NaN()}, {math.Inf(1)}, {-1, 0.5}, {-0.5, 1.5}} {
		var bad *LawError
		if _, err := Polynomial(a); !errors.As(err, &bad) {
			t.Errorf("%v: %v", a, err)
		}
	}
	for _, alpha := range []float64{-0.1, 6, math.NaN()} {
		if _, err := Power(alpha); err == nil {
			t.Errorf("power %v was taken", alpha)
		}
	}
}

func TestLawJSON(t *testing.T) {
	for _, l := range []Law{Uniform(), Visible(), law(t)(Power(0.5))} {
		data, err := json.Marshal(l)
		require.NoError(t, err)
		var back Law
		require.NoError(t, json.Unmarshal(data, &back), string(data))
		if math.Abs(back.Flux(1.03, 0.4)-l.Flux(1.03, 0.4)) > 1e-15 || back.kind != l.kind {
			t.Errorf("%s came back as %v", data, back)
		}
	}
	for _, bad := range []string{`{"law":"cubic"}`, `{"law":"power"}`, `{"law":"polynomial","coefficients":[1]}`, `[]`} {
		var l Law
		if err := json.Unmarshal([]byte(bad), &l); err == nil {
			t.Errorf("%s was taken", bad)
		}
	}
}

func TestFluxProperties(t *testing.T) {
	laws := []Law{Uniform(), Visible(), Handbook550(), law(t)(Power(0.5))}
	rapid.Check(t, func(t *rapid.T) {
		l := rapid.SampledFrom(laws).Draw(t, "law")
		p := rapid.Float64Range(0.05, 5).Draw(t, "p")
		z := rapid.Float64Range(0, 1+p).Draw(t, "z")
		f, g := l.Flux(p, z), l.Flux(p, z+0.01)
		if !(f >= 0 && f <= 1) {
			t.Fatalf("flux %v", f)
		}
		if !(g >= f-1e-7) && z >= 1-p {
			t.Fatalf("flux falls from %v to %v as the occulter leaves", f, g)
		}
	})
}

func FuzzFlux(f *testing.F) {
	f.Add(1.03, 0.03, 0.5)
	f.Add(0.97, 0.03, 0.3)
	f.Add(1.0, 0.0, 0.0)
	f.Add(0.5, 0.5, 1.0)
	f.Fuzz(func(t *testing.T, p, z, alpha float64) {
		pl, err := Power(alpha)
		if err != nil {
			pl = Visible()
		}
		for _, l := range []Law{pl, Visible(), Uniform()} {
			got := l.Flux(p, z)
			if p >= 0 && z >= 0 && p < 1e6 && z < 1e6 {
				if !(got >= 0 && got <= 1) {
					t.Fatalf("%v: Flux(%g, %g) = %v", l, p, z, got)
				}
			}
		}
	})
}

func BenchmarkFlux(b *testing.B) {
	l := Visible()
	rng := rand.New(rand.NewPCG(1, 2))
	var p, z [4096]float64
	for i := range p {
		p[i] = 0.94 + 0.12*rng.Float64()
		z[i] = (1 + p[i]) * rng.Float64()
	}
	b.ReportAllocs()
	var sum float64
	i := 0
	for b.Loop() {
		sum += l.Flux(p[i&4095], z[i&4095])
		i++
	}
	_ = sum
}
