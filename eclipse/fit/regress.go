package fit

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// A prior is what is known of a coefficient before the log is read: a mean and
// a standard deviation. An infinite deviation says that nothing is known.
type prior struct{ mean, sd float64 }

// A row is one reading's line of the regression: the columns, then the log.
type row [columns + 1]float64

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
	priors [columns]prior
	white  []row // the rows, whitened
	normal *mat.SymDense
	right  *mat.VecDense
	beta   *mat.VecDense
	chol   mat.Cholesky
}

func newRegression(n int, priors [columns]prior) *regression {
	return &regression{priors: priors, white: make([]row, n),
		normal: mat.NewSymDense(columns, nil), right: mat.NewVecDense(columns, nil), beta: mat.NewVecDense(columns, nil)}
}

// deviance solves for the coefficients of the columns and returns -2 log of the
// marginal likelihood, or +Inf where the columns cannot be told apart.
func (r *regression) deviance(f *whitener, rows []row) float64 {
	f.apply(rows, r.white)
	sums := products(r.white)
	rss := sums[columns][columns]
	for i := range columns {
		for j := i; j < columns; j++ {
			r.normal.SetSym(i, j, sums[i][j])
		}
		b := sums[i][columns]
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

// products sums the products of all pairs of columns, the upper triangle. Four rows
// at a time save most of the loads and stores.
func products(rows []row) (sums [columns + 1]row) {
	k := 0
	for ; k+4 <= len(rows); k += 4 {
		a, b, c, d := &rows[k], &rows[k+1], &rows[k+2], &rows[k+3]
		for i := range sums {
			p, q, r, s := a[i], b[i], c[i], d[i]
			to := sums[i][i:]
			x, y, z, w := a[i:], b[i:len(a)], c[i:len(a)], d[i:len(a)]
			for j := range to {
				to[j] += p*x[j] + q*y[j] + r*z[j] + s*w[j]
			}
		}
	}
	for ; k < len(rows); k++ {
		for i, v := range rows[k] {
			for j := i; j <= columns; j++ {
				sums[i][j] += v * rows[k][j]
			}
		}
	}
	return sums
}

// solve returns the coefficients for another right-hand side, of zeros where the
// columns cannot be told apart.
func (r *regression) solve(right []float64) []float64 {
	var out mat.VecDense
	if err := r.chol.SolveVecTo(&out, mat.NewVecDense(columns, right)); err != nil {
		if _, near := err.(mat.Condition); !near {
			return make([]float64, columns)
		}
	}
	return out.RawVector().Data
}

// left is what the coefficients last solved for leave of a row.
func (r *regression) left(w *row) float64 {
	e := w[columns]
	for j := range columns {
		e -= r.beta.AtVec(j) * w[j]
	}
	return e
}

var errSingular = errors.New("the columns of the regression cannot be told apart")

// solution copies out what the last call of deviance found.
func (r *regression) solution(dev float64) (solution, error) {
	if math.IsInf(dev, 0) || math.IsNaN(dev) {
		return solution{}, errSingular
	}
	s := solution{beta: make([]float64, columns), cov: mat.NewSymDense(columns, nil), deviance: dev}
	copy(s.beta, r.beta.RawVector().Data)
	err := r.chol.InverseTo(s.cov)
	if _, near := err.(mat.Condition); near {
		err = nil // the deviation of a coefficient that only its prior holds is large, not wrong
	}
	return s, err
}
