package disc

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

func TestOverlapValues(t *testing.T) {
	for _, tt := range []struct {
		p, z, want, tol float64
		source          string
	}{
		{1, 1, 2./3 - math.Sqrt(3)/(2*math.Pi), 1e-15, "the lens of two equal discs through each other's centres"},
		{1, 0, 1, 0, "the same disc"},
		{0.5, 0, 0.25, 0, "ratio of areas"},
		{0.5, 0.5, 0.25, 0, "inside, touching"},
		{0, 0.5, 0, 0, "no occulter"},
		{2, 1, 1, 0, "total inner contact"},
		{2, 3, 0, 0, "outer contact"},
		{math.Inf(1), 1, 1, 0, "everything"},
		{1, math.Inf(1), 0, 0, "nothing"},
	} {
		if got := Overlap(tt.p, tt.z); !(math.Abs(got-tt.want) <= tt.tol) {
			t.Errorf("Overlap(%g, %g) = %.16f, want %.16f +- %g (%s)", tt.p, tt.z, got, tt.want, tt.tol, tt.source)
		}
	}
}

const prec = 1200 // bits: enough for radii of 1e150 beside 1

func num(x float64) *big.Float { return new(big.Float).SetPrec(prec).SetFloat64(x) }

func add(a, b *big.Float) *big.Float { return new(big.Float).SetPrec(prec).Add(a, b) }
func sub(a, b *big.Float) *big.Float { return new(big.Float).SetPrec(prec).Sub(a, b) }
func mul(a, b *big.Float) *big.Float { return new(big.Float).SetPrec(prec).Mul(a, b) }
func quo(a, b *big.Float) *big.Float { return new(big.Float).SetPrec(prec).Quo(a, b) }
func root(a *big.Float) *big.Float   { return new(big.Float).SetPrec(prec).Sqrt(a) }

// atan is the series after halving the angle 40 times.
func atan(x *big.Float) *big.Float {
	for range 40 {
		x = quo(x, add(num(1), root(add(num(1), mul(x, x)))))
	}
	sum, power, x2 := num(0), x, mul(x, x)
	for n := 1; n < 40; n += 2 {
		term := quo(power, num(float64(n)))
		if n%4 == 3 {
			term.Neg(term)
		}
		sum, power = add(sum, term), mul(power, x2)
	}
	return new(big.Float).SetMantExp(sum, 40)
}

// acos is 2 atan sqrt((1-x)/(1+x)).
func acos(x *big.Float) *big.Float {
	return mul(num(2), atan(root(quo(sub(num(1), x), add(num(1), x)))))
}

// exactOverlap is the school formula at 1200 bits, for edges that cross.
func exactOverlap(p, z float64) float64 {
	P, Z, one, two := num(p), num(z), num(1), num(2)
	p2, z2 := mul(P, P), mul(Z, Z)
	arc := acos(quo(sub(add(z2, p2), one), mul(two, mul(Z, P))))
	limb := acos(quo(sub(add(z2, one), p2), mul(two, Z)))
	heron := mul(mul(sub(add(P, Z), one), sub(add(P, one), Z)), mul(sub(add(Z, one), P), add(add(P, Z), one)))
	area := sub(add(limb, mul(p2, arc)), quo(root(heron), two))
	f, _ := quo(area, mul(num(4), atan(one))).Float64()
	return f
}

// The radii and separations are the published stability grid (AJ 159 (2020) 123)
// and what lies a few roundings to either side; then tangencies at all distances
// and radii from 1e-9 to 1e100.
func TestOverlapAgainstHighPrecision(t *testing.T) {
	var pairs [][2]float64
	for _, r := range []float64{0.01, 0.1} {
		for _, b := range []float64{0, r, 1 - r, 1, 1 + r} {
			pairs = append(pairs, [2]float64{r, b})
		}
	}
	for _, r := range []float64{1, 10, 100} {
		for _, b := range []float64{r - 1, r, r + 1} {
			pairs = append(pairs, [2]float64{r, b})
		}
	}
	for _, c := range pairs[:len(pairs):len(pairs)] {
		up, down := c[1], c[1]
		for range 3 {
			up, down = math.Nextafter(up, math.Inf(1)), math.Nextafter(down, 0)
			pairs = append(pairs, [2]float64{c[0], up}, [2]float64{c[0], down})
		}
	}
	rng := rand.New(rand.NewPCG(3, 4))
	random := 600
	if testing.Short() {
		random = 60
	}
	for i := range random {
		p := math.Pow(10, 6*rng.Float64()-3)
		switch i % 6 {
		case 0:
			p = 0.9 + 0.2*rng.Float64()
		case 1:
			p = math.Pow(10, 12*rng.Float64()-9)
		case 2:
			p = math.Pow(10, 100*rng.Float64())
		}
		inner, outer := math.Abs(1-p), 1+p
		near := math.Pow(10, -16*rng.Float64())
		for _, z := range []float64{inner + (outer-inner)*rng.Float64(), inner + near, outer - near, p, p + near} {
			pairs = append(pairs, [2]float64{p, z})
		}
	}
	worst, crossed := 0.0, 0
	for _, c := range pairs {
		p, z := c[0], c[1]
		P, Z, one := num(p), num(z), num(1)
		var want float64
		switch {
		case Z.Cmp(add(P, one)) >= 0:
		case Z.Cmp(sub(P, one)) <= 0:
			want = 1
		case Z.Cmp(sub(one, P)) <= 0:
			want = p * p
		default:
			want = exactOverlap(p, z)
			crossed++
		}
		got := Overlap(p, z)
		if !(math.Abs(got-want) <= 1e-14) {
			t.Errorf("Overlap(%.17g, %.17g) = %.17g, want %.17g", p, z, got, want)
		}
		worst = math.Max(worst, math.Abs(got-want))
	}
	if 2*crossed < len(pairs) {
		t.Errorf("only %d of %d pairs crossed", crossed, len(pairs))
	}
	t.Logf("worst difference %.1e over %d pairs, %d crossing", worst, len(pairs), crossed)
}

func TestOverlapAgainstSlowIntegration(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for i := range 300 {
		p, z := placed(rng, i)
		got, want := Overlap(p, z), 1-slow(Uniform(), p, z)
		if !(math.Abs(got-want) <= 1e-13) {
			t.Errorf("Overlap(%g, %g) = %.15f, want %.15f", p, z, got, want)
		}
	}
}

// What the Moon covers of the Sun is the same area as what the Sun would cover of
// the Moon.
func TestOverlapExchange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := math.Exp(rapid.Float64Range(-5, 5).Draw(t, "log p"))
		z := (1 + p) * rapid.Float64Range(0, 1.1).Draw(t, "z/(1+p)")
		got, want := Overlap(p, z), p*p*Overlap(1/p, z/p)
		if !(math.Abs(got-want) <= 1e-14*math.Max(1, p*p)) {
			t.Fatalf("%v, exchanged %v", got, want)
		}
	})
}
