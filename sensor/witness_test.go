package sensor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"example.org/noonfall/testdata/references"
)

// contributions are each derivative times its uncertainty, by differences.
func contributions(f func(x []float64) float64, x, u []float64) []float64 {
	c := make([]float64, len(x))
	for i := range x {
		const h = 1e-4
		at := func(k float64) float64 {
			moved := append([]float64(nil), x...)
			moved[i] += k * h * u[i]
			return f(moved)
		}
		c[i] = (8*(at(1)-at(-1)) - (at(2) - at(-2))) / (12 * h)
	}
	return c
}

// combine is the covariance of two results with contributions a and b.
func combine(a, b []float64, r func(i, j int) float64) float64 {
	sum := 0.0
	for i := range a {
		for j := range b {
			rij := 1.0
			if i != j {
				rij = r(i, j)
			}
			sum += a[i] * b[j] * rij
		}
	}
	return sum
}

// propagate is JCGM 100 eq. 13 with every derivative by differences: u_c of f for
// inputs x with standard uncertainties u and correlations r. It knows nothing of
// circuits, and is the witness for the derivatives worked out by hand.
func propagate(f func(x []float64) float64, x, u []float64, r func(i, j int) float64) float64 {
	c := contributions(f, x, u)
	return math.Sqrt(combine(c, c, r))
}

// secondOrder is what 5.1.2's note adds to the variance for normal, independent
// inputs: the sum over i and j of (f_ij^2/2 + f_i f_ijj) u_i^2 u_j^2, by differences.
func secondOrder(f func(x []float64) float64, x, u []float64) float64 {
	at := func(steps map[int]float64) float64 { // in standard uncertainties
		moved := append([]float64(nil), x...)
		for i, k := range steps {
			moved[i] += k * u[i]
		}
		return f(moved)
	}
	const h = 0.5
	first := func(i int, around map[int]float64) float64 {
		low, high := map[int]float64{i: around[i] - h}, map[int]float64{i: around[i] + h}
		for j, k := range around {
			if j != i {
				low[j], high[j] = k, k
			}
		}
		return (at(high) - at(low)) / (2 * h)
	}
	sum := 0.0
	for i := range x {
		for j := range x {
			fij := (first(i, map[int]float64{j: h}) - first(i, map[int]float64{j: -h})) / (2 * h)
			fijj := (first(i, map[int]float64{j: h}) - 2*first(i, nil) + first(i, map[int]float64{j: -h})) / (h * h)
			sum += fij*fij/2 + first(i, nil)*fijj
		}
	}
	return sum
}

// JCGM 100 H.1, an end gauge against a standard of its length: first order, second
// order and degrees of freedom (from memory, as are its inputs).
func TestWitnessAgainstEndGauge(t *testing.T) {
	// l = ls + d1 + d2 + d3 - ls (da theta + as dtheta), in nm, 1/K and K
	gauge := func(x []float64) float64 {
		ls, mean, random, systematic, da, theta, as, dtheta := x[0], x[1], x[2], x[3], x[4], x[5], x[6], x[7]
		return ls + mean + random + systematic - ls*(da*theta+as*dtheta)
	}
	x := []float64{50.000623e6, 215, 0, 0, 0, -0.1, 11.5e-6, 0}
	u := []float64{25, 5.8, 3.9, 6.7, 0.58e-6, 0.41, 1.2e-6, 0.029}
	freedom := map[int]float64{0: 18, 1: 24, 2: 5, 3: 8, 4: 50, 7: 2} // theta's and as' own derivatives are nothing
	none := func(i, j int) float64 { return 0 }
	first := propagate(gauge, x, u, none)
	second := math.Sqrt(first*first + secondOrder(gauge, x, u))
	// Welch and Satterthwaite, G.4: u^4 over the sum of u_i^4/freedom.
	sum := 0.0
	for i, v := range freedom {
		one := make([]float64, len(u))
		one[i] = u[i]
		sum += math.Pow(propagate(gauge, x, one, none), 4) / v
	}
	effective := math.Floor(math.Pow(first, 4) / sum)
	factor := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: effective}.Quantile(0.995)
	for _, r := range []struct {
		name           string
		got, want, tol float64
	}{
		{"length, nm", gauge(x), 50000838, 0.5}, {"u, nm", first, 32, 0.5}, {"u to the second order, nm", second, 34, 0.5},
		{"degrees of freedom", effective, 16, 0}, {"t", factor, 2.92, 0.005}, {"U99, nm", factor * math.Round(first), 93, 0.5},
	} { // JCGM 100:2008 H.1.3 to H.1.7
		if !(math.Abs(r.got-r.want) <= r.tol) {
			t.Errorf("%s: %.4f, want %g", r.name, r.got, r.want)
		}
	}
}

// JCGM 100 H.2, resistance, reactance and impedance measured together: the
// witness itself against the published example.
func TestWitnessAgainstGUM(t *testing.T) {
	rows := references.Table(t, "gum_h2.csv")
	require.Len(t, rows, 5)
	var data [3][]float64 // V, mA, rad
	for _, row := range rows {
		for i, column := range []string{"V_volt", "I_milliampere", "phi_radian"} {
			data[i] = append(data[i], row.Number(t, column))
		}
	}
	var x, u []float64
	for i := range data {
		x = append(x, stat.Mean(data[i], nil))
		u = append(u, stat.StdErr(stat.StdDev(data[i], nil), float64(len(data[i]))))
	}
	r := func(i, j int) float64 { return stat.Correlation(data[i], data[j], nil) }
	outputs := []struct {
		name    string
		f       func(x []float64) float64
		want, u float64
	}{
		{"R", func(x []float64) float64 { return 1e3 * x[0] / x[1] * math.Cos(x[2]) }, 127.732, 0.07107},
		{"X", func(x []float64) float64 { return 1e3 * x[0] / x[1] * math.Sin(x[2]) }, 219.847, 0.29558},
		{"Z", func(x []float64) float64 { return 1e3 * x[0] / x[1] }, 254.260, 0.23634},
	} // source: JCGM 100:2008 H.2, 0.071, 0.295, 0.236; further digits recomputed from its data
	for k, tt := range outputs {
		if got := tt.f(x); !(math.Abs(got-tt.want) <= 0.5e-3) {
			t.Errorf("%s %.4f ohm, want %.3f", tt.name, got, tt.want)
		}
		if got := propagate(tt.f, x, u, r); !(math.Abs(got-tt.u) <= 0.5e-5) {
			t.Errorf("%s: u %.6f ohm, want %.5f", tt.name, got, tt.u)
		}
		next := outputs[(k+1)%3]
		want := []float64{-0.588, 0.993, -0.485}[k]                                                                                        // r(R, X), r(X, Z), r(Z, R) as printed
		if got := combine(contributions(tt.f, x, u), contributions(next.f, x, u), r) / (tt.u * next.u); !(math.Abs(got-want) <= 0.51e-3) { // half the last digit, and the rounding of u
			t.Errorf("r(%s, %s) %.4f, want %.3f", tt.name, next.name, got, want)
		}
	}
}
