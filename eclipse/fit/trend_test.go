package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// The filter against the covariance matrix that the walk stands for, written out
// term by term: it must give the same determinant and the same quadratic forms.
func TestWhitenerIsTheInverseCovariance(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	const n = 40
	at := make([]float64, n)
	w := walk{white: make([]float64, n), level: make([]float64, n), cloud: make([]float64, n), memory: 200, slope: 1e-9, answer: make([]float64, n)}
	for k := range at {
		w.white[k] = 1e-4 * math.Exp(rng.NormFloat64())
		w.answer[k] = 0.3 + 2*rng.Float64()
		w.cloud[k] = 1e-5 * math.Exp(2*rng.NormFloat64())
		if k > 0 {
			at[k] = at[k-1] + 60*rng.ExpFloat64()
			w.level[k] = 1e-4 * math.Exp(2*rng.NormFloat64())
		}
	}
	cov := denseCovariance(at, w)
	var chol mat.Cholesky
	if !chol.Factorize(cov) {
		t.Fatal("the covariance is not positive definite")
	}
	f := newWhitener(at)
	f.run(w)
	if got, want := f.logDet, chol.LogDet(); !(math.Abs(got-want) <= 1e-9*math.Abs(want)) {
		t.Errorf("logarithm of the determinant %.12g, dense %.12g", got, want)
	}
	rows := make([]row, n)
	white := newRegression(n, [columns]prior{}).white
	for k := range rows {
		for j := range rows[k] {
			rows[k][j] = rng.NormFloat64()
		}
	}
	apply[row](f, rows, 0, white)
	for i := range rows[0] {
		for j := range rows[0] {
			a, b, x := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
			var got float64
			for k := range rows {
				a.SetVec(k, rows[k][i])
				b.SetVec(k, rows[k][j])
				got += white.Data[i*white.Stride+k] * white.Data[j*white.Stride+k]
			}
			if err := chol.SolveVecTo(x, b); err != nil {
				t.Fatal(err)
			}
			if want := mat.Dot(a, x); !(math.Abs(got-want) <= 1e-8*math.Abs(want)+1e-6) {
				t.Fatalf("columns %d and %d: %.12g, dense %.12g", i, j, got, want)
			}
		}
	}
}

// What goes with the shift is whitened alone as it is among all columns, into its own place.
func TestMovingColumnsAreWhitenedAlike(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	const n = 30
	at, w, rows := make([]float64, n), newWalk(n), make([]row, n)
	w.memory, w.slope = 100, 1e-8
	for k := range at {
		at[k] = float64(k*k) / 2
		w.white[k], w.level[k], w.cloud[k], w.answer[k] = rng.Float64(), rng.Float64(), rng.Float64(), 1+rng.Float64()
		for j := range rows[k] {
			rows[k][j] = rng.NormFloat64()
		}
	}
	f := newWhitener(at)
	f.run(w)
	all, some := newRegression(n, [columns]prior{}).white, newRegression(n, [columns]prior{}).white
	apply[row](f, rows, 0, all)
	apply[moving](f, rows, colPower, some)
	for j := range columns + 1 {
		for k := range n {
			want := all.Data[j*n+k]
			if j < colPower || j == columns {
				want = 0
			}
			if got := some.Data[j*n+k]; got != want {
				t.Fatalf("column %d, reading %d: %g, want %g", j, k, got, want)
			}
		}
	}
}

// denseCovariance adds up, for every pair of readings, what they share: the level's
// steps, the slope's (an integrated walk, each second of it answered), and what the cloud has
// not forgotten, answered by either.
func denseCovariance(at []float64, w walk) *mat.SymDense {
	n := len(at)
	cov := mat.NewSymDense(n, nil)
	cloud := make([]float64, n) // variance
	cloud[0] = w.cloud[0] * w.memory / 2
	for k := 1; k < n; k++ {
		keep := math.Exp(-2 * (at[k] - at[k-1]) / w.memory)
		cloud[k] = cloud[k-1]*keep + w.cloud[k]*w.memory/2*(1-keep)
	}
	run := make([]float64, n) // how far a slope of one has moved the level
	for k := 1; k < n; k++ {
		run[k] = run[k-1] + w.answer[k]*(at[k]-at[k-1])
	}
	// What the slope gains between two readings moves the level a little there, and on and on
	// after.
	slope := func(i, j int) (sum float64) {
		for k := 1; k <= i; k++ {
			h, a := at[k]-at[k-1], w.answer[k]
			toI, toJ := run[i]-run[k], run[j]-run[k]
			sum += a*a*h*h*h/3 + a*h*h/2*(toI+toJ) + h*toI*toJ
		}
		return w.slope * sum
	}
	var level float64
	for i := range n {
		level += w.level[i]
		for j := i; j < n; j++ {
			v := level + slope(i, j) + w.answer[i]*w.answer[j]*cloud[i]*math.Exp(-(at[j]-at[i])/w.memory)
			if i == j {
				v += w.white[i]
			}
			cov.SetSym(i, j, v)
		}
	}
	return cov
}
