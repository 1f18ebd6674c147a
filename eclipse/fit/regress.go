package fit

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
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

// A regression solves the same shape of problem many times without allocating, and
// without the estimate of the condition that a mat.Cholesky makes each time: what is
// nearly singular, a prior holds.
type regression struct {
	priors [columns]prior
	white  []row // the rows, whitened
	normal blas64.Symmetric
	factor blas64.Triangular // of the normal matrix, in its place
	beta   blas64.Vector
}

func newRegression(n int, priors [columns]prior) *regression {
	return &regression{priors: priors, white: make([]row, n),
		normal: blas64.Symmetric{N: columns, Stride: columns, Uplo: blas.Upper, Data: make([]float64, columns*columns)},
		beta:   blas64.Vector{N: columns, Inc: 1, Data: make([]float64, columns)}}
}

// deviance solves for the coefficients of the columns and returns -2 log of the
// marginal likelihood, or +Inf where the columns cannot be told apart.
func (r *regression) deviance(f *whitener, rows []row) float64 {
	f.apply(rows, r.white)
	sums := products(r.white)
	rss := sums[columns][columns]
	var right [columns]float64
	for i := range columns {
		copy(r.normal.Data[i*columns+i:(i+1)*columns], sums[i][i:columns])
		right[i] = sums[i][columns]
		if pr := r.priors[i]; !math.IsInf(pr.sd, 1) {
			w := 1 / (pr.sd * pr.sd)
			r.normal.Data[i*columns+i] += w
			right[i] += w * pr.mean
			rss += w * pr.mean * pr.mean
		}
	}
	var ok bool
	if r.factor, ok = lapack64.Potrf(r.normal); !ok {
		return math.Inf(1)
	}
	det := 1.0
	for i := range columns {
		det *= r.factor.Data[i*columns+i]
	}
	copy(r.beta.Data, right[:])
	r.substitute(r.beta)
	return f.logDet + 2*math.Log(det) + rss - blas64.Dot(r.beta, blas64.Vector{N: columns, Inc: 1, Data: right[:]})
}

// substitute solves with the factor, in place.
func (r *regression) substitute(x blas64.Vector) {
	blas64.Trsv(blas.Trans, r.factor, x)
	blas64.Trsv(blas.NoTrans, r.factor, x)
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

// solve returns the coefficients for another right-hand side, in its place.
func (r *regression) solve(right []float64) []float64 {
	r.substitute(blas64.Vector{N: columns, Inc: 1, Data: right})
	return right
}

// left is what the coefficients last solved for leave of a row.
func (r *regression) left(w *row) float64 {
	e := w[columns]
	for j := range columns {
		e -= r.beta.Data[j] * w[j]
	}
	return e
}

var errSingular = errors.New("the columns of the regression cannot be told apart")

// solution copies out what the last call of deviance found.
func (r *regression) solution(dev float64) (solution, error) {
	if math.IsInf(dev, 0) || math.IsNaN(dev) {
		return solution{}, errSingular
	}
	s := solution{beta: slices.Clone(r.beta.Data), cov: mat.NewSymDense(columns, nil), deviance: dev}
	cov := s.cov.RawSymmetric()
	copy(cov.Data, r.normal.Data)
	factor := r.factor
	factor.Data = cov.Data
	var err error
	if _, ok := lapack64.Potri(factor); !ok {
		err = errSingular
	}
	return s, err
}
