package disc

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestIntensity(t *testing.T) {
	ok := good(t)
	for _, tt := range []struct {
		law           Law
		mu, want, tol float64
		source        string
	}{
		{Uniform(), 0.2, 1, 0, "definition"},
		{ok(Linear(0.6)), 0, 0.4, 1e-15, "1 - u at the limb"},
		{ok(Quadratic(0.47, 0.23)), 0.1, 0.3907, 1e-15, "handbook quadratic in its other form"},
		{Handbook550(), 0.1, 0.3907, 1e-15, "0.30 + 0.093 - 0.0023"},
		{ok(Power(0.5)), 0.25, 0.5, 1e-15, "square root"},
		{ok(Polynomial([6]float64{0, 2})), 0.25, 0.25, 1e-15, "2 mu, normalised"},
		{ok(NeckelLabs(445.125)), 0.1, 0.2779, 5e-5, "the printed coefficients, summed by hand"},
		{ok(NeckelLabs(541.76)), 0.1, 0.3765, 5e-5, "as above"},
		{ok(NeckelLabs(559.95)), 0.1, 0.3892, 5e-5, "as above"},
		{ok(NeckelLabs(669.4)), 0.1, 0.4665, 5e-5, "as above"},
	} {
		if got := tt.law.Intensity(tt.mu); !(math.Abs(got-tt.want) <= tt.tol) {
			t.Errorf("%v at mu %g: %.6f, want %.6f +- %g (%s)", tt.law, tt.mu, got, tt.want, tt.tol, tt.source)
		}
		if got := tt.law.Intensity(1); !(math.Abs(got-1) <= 1e-14) {
			t.Errorf("%v at the centre: %v", tt.law, got)
		}
		for _, mu := range []float64{-0.1, 1.1, math.NaN()} {
			if got := tt.law.Intensity(mu); !math.IsNaN(got) {
				t.Errorf("%v at mu %v: %v, want NaN", tt.law, mu, got)
			}
		}
	}
}

// Mean is twice the integral of I mu, here by Simpson's rule.
func TestMean(t *testing.T) {
	ok := good(t)
	for _, l := range []Law{Uniform(), ok(Linear(0.6)), Visible(), ok(Power(0.5)), ok(Power(2.5))} {
		// mu = s^2 smooths the power law at the limb
		want := 2 * simpson(func(s float64) float64 { return l.Intensity(s*s) * s * s * 2 * s }, 0, 1, 1e-13)
		if got := l.Mean(); !(math.Abs(got-want) <= 1e-11) {
			t.Errorf("%v: mean %.13f, want %.13f", l, got, want)
		}
	}
}

func TestLawsAreValues(t *testing.T) {
	ok := good(t)
	if (Law{}) != Uniform() || Visible() != ok(NeckelLabs(550)) || Visible() == Handbook550() {
		t.Error("laws do not compare by value")
	}
}

func TestRefusedLaws(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	poly := func(a ...float64) func() (Law, error) {
		return func() (Law, error) { var c [6]float64; copy(c[:], a); return Polynomial(c) }
	}
	for _, tt := range []struct {
		name string
		make func() (Law, error)
		want string // part of the message
	}{
		{"no light", poly(), "above zero"},
		{"dark centre", poly(1, -1), "above zero"},
		{"negative centre", poly(1, -2), "above zero"},
		{"NaN", poly(nan, 1), "finite"},
		{"infinite", poly(1, inf), "finite"},
		{"overflow", poly(1e308, 1e308), "finite"},
		{"dark limb", poly(-0.5, 1.5), "-0.5 of the centre's at mu = 0.000"},
		{"dark ring", poly(0.2, -1, 1.2), "below zero"}, // -0.008 at 5/12
		{"narrow dark ring", poly(0.25-1e-6, -1, 1), "below zero"},
		{"too linear", func() (Law, error) { return Linear(1.01) }, "linear law with coefficients [1.01]"},
		{"NaN linear", func() (Law, error) { return Linear(nan) }, "finite"},
		{"quadratic", func() (Law, error) { return Quadratic(0.9, 0.2) }, "quadratic law with coefficients [0.9 0.2]"},
		{"power below 0", func() (Law, error) { return Power(-0.1) }, "[0, 5]"},
		{"power above 5", func() (Law, error) { return Power(5.1) }, "[0, 5]"},
		{"power NaN", func() (Law, error) { return Power(nan) }, "[0, 5]"},
	} {
		l, err := tt.make()
		bad, ok := errors.AsType[*LawError](err)
		if !ok || !strings.Contains(bad.Error(), tt.want) {
			t.Errorf("%s: %v, want a LawError with %q", tt.name, err, tt.want)
		}
		if l != (Law{}) {
			t.Errorf("%s: refused, but the law is %v", tt.name, l)
		}
	}
}

func TestBarelyValidLaws(t *testing.T) {
	ok := good(t)
	ok(Linear(1))
	ok(Linear(-3))
	ok(Quadratic(0, 1))
	ok(Quadratic(1, 0))
	ok(Power(0))
	ok(Power(5))
	ok(Polynomial([6]float64{0.25, -1, 1})) // touches zero at mu = 1/2
	ok(Polynomial([6]float64{0, 0, 0, 0, 0, 7}))
}

// The Bernstein search against a fine scan, over polynomials that often dip.
func TestDarkestAgainstScan(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	refused := 0
	for range 2000 {
		var a [6]float64
		for i := range a {
			a[i] = rng.NormFloat64()
		}
		least := math.Inf(1)
		l := Law{kind: polynomial, a: a}
		for i := range 2001 {
			least = math.Min(least, l.Intensity(float64(i)/2000))
		}
		mu, dark := darkest(a)
		if math.Abs(least) < 1e-4 {
			continue // the scan cannot tell
		}
		if (dark < 0) != (least < 0) {
			t.Fatalf("%v: darkest %v at %v, the scan finds %v", a, dark, mu, least)
		}
		if dark < 0 {
			refused++
			if got := l.Intensity(mu); !(math.Abs(got-dark) <= 1e-12) {
				t.Fatalf("%v at %v: %v, want %v", a, mu, got, dark)
			}
		}
	}
	if refused < 500 {
		t.Errorf("only %d dipped", refused)
	}
}

func TestLawJSON(t *testing.T) {
	ok := good(t)
	laws := []Law{Uniform(), ok(Power(0.503)), ok(Linear(1.0 / 3)), ok(Polynomial([6]float64{0.3, 2.7, 0.1, 0.7, 0.1, 0.9}))}
	for p := range Presets() {
		laws = append(laws, p.Law)
	}
	for _, l := range laws {
		data, err := json.Marshal(l)
		require.NoError(t, err)
		var back Law
		require.NoError(t, json.Unmarshal(data, &back), string(data))
		if back != l {
			t.Errorf("%s came back as %v", data, back)
		}
	}
	for text, want := range map[string]string{
		`{"law":"cubic"}`:                                "no such law",
		`{"law":"power"}`:                                "0 coefficients found, 1 wanted",
		`{"law":"power","coefficients":[9]}`:             "[0, 5]",
		`{"law":"polynomial","coefficients":[1]}`:        "1 coefficients found, 6 wanted",
		`{"version":2,"law":"uniform"}`:                  "version 2",
		`[]`:                                             "limb-darkening law",
		`{"law":"polynomial","coefficients":"straight"}`: "limb-darkening law",
	} {
		l := Handbook550()
		if err := json.Unmarshal([]byte(text), &l); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", text, err, want)
		}
		if l != Handbook550() {
			t.Errorf("%s: refused, but the law changed", text)
		}
	}
	var bare Law
	require.NoError(t, json.Unmarshal([]byte(`{"law":"power","coefficients":[0.5]}`), &bare))
	if bare != ok(Power(0.5)) {
		t.Errorf("without a version: %v", bare)
	}
}

func TestLawString(t *testing.T) {
	for law, want := range map[Law]string{
		Uniform():            "uniform",
		good(t)(Power(0.5)):  "power[0.5]",
		Handbook550():        "polynomial[0.3 0.93 -0.23 0 0 0]",
		PierceSlaughter552(): "polynomial[0.29462 0.98032 -0.27494 0 0 0]",
	} {
		if got := law.String(); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}
