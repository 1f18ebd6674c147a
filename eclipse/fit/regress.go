package fit

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// A prior is what is known of a coefficient before the log is read: a mean and
// a standard deviation. An infinite deviation says that nothing is known.
type prior struct{ mean, sd float64 }

// A solution is a regression read through a walk.
type solution struct {
	beta []float64
	cov  *mat.SymDense
	// deviance is -2 log of the probability of the log given the shift and the
	// walk, the coefficients integrated out: the quantity that shifts and walks
	// are compared by. Constants are left out.
	deviance float64
}

// A regression solves the same shape of problem many times without allocating.
type regression struct {
	n, p   int
	priors []prior
	y      []float64
	cols   [][]float64
	normal *mat.SymDense
	right  *mat.VecDense
	beta   *mat.VecDense
	chol   mat.Cholesky
}

func newRegression(n int, priors []prior) *regression {
	p := len(priors)
	r := &regression{n: n, p: p, priors: priors, y: make([]float64, n), cols: make([][]float64, p),
		normal: mat.NewSymDense(p, nil), right: mat.NewVecDense(p, nil), beta: mat.NewVecDense(p, nil)}
	for j := range r.cols {
		r.cols[j] = make([]float64, n)
	}
	return r
}

// deviance solves for the coefficients of the columns in y and returns -2 log
// of the marginal likelihood, or +Inf where the columns cannot be told apart.
func (r *regression) deviance(f *whitener, y []float64, cols [][]float64) float64 {
	f.apply(y, r.y)
	for j := range cols {
		f.apply(cols[j], r.cols[j])
	}
	var rss float64
	for _, v := range r.y {
		rss += v * v
	}
	for i := range r.p {
		for j := i; j < r.p; j++ {
			r.normal.SetSym(i, j, dot(r.cols[i], r.cols[j]))
		}
		b := dot(r.cols[i], r.y)
		if pr := r.priors[i]; !math.IsInf(pr.sd, 1) {
			w := 1 / (pr.sd * pr.sd)
			r.normal.SetSym(i, i, r.normal.At(i, i)+w)
			b += w * pr.mean
			rss += w * pr.mean * pr.mean
		}
		r.right.SetVec(i, b)
	}
	if !r.chol.Factorize(r.normal) {
		return math.Inf(1)
	}
	if err := r.chol.SolveVecTo(r.beta, r.right); err != nil {
		if _, near := err.(mat.Condition); !near {
			return math.Inf(1)
		}
	}
	return f.logDet + r.chol.LogDet() + rss - mat.Dot(r.beta, r.right)
}

// solution copies out what the last call of deviance found.
func (r *regression) solution(dev float64) (solution, error) {
	s := solution{beta: make([]float64, r.p), cov: mat.NewSymDense(r.p, nil), deviance: dev}
	copy(s.beta, r.beta.RawVector().Data)
	err := r.chol.InverseTo(s.cov)
	if _, near := err.(mat.Condition); near {
		err = nil // the deviation of a coefficient that only its prior holds is large, not wrong
	}
	return s, err
}

func dot(a, b []float64) float64 {
	var s float64
	for i, v := range a {
		s += v * b[i]
	}
	return s
}
