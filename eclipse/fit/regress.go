package fit

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/lapack/lapack64"
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

// A regression solves the same shape of problem many times without allocating, and
// without the estimate of the condition that a mat.Cholesky makes each time: what is
// nearly singular, a prior holds.
type regression struct {
	priors [columns]prior
	white  blas64.General    // the columns, whitened, a line of the matrix each, and the log's as the last
	gram   []float64         // the products of all pairs of them, line by line, the second not before the first
	normal blas64.Symmetric  // matrix of the coefficients,
	factor blas64.Triangular // and its factor, in its place
	right  blas64.Vector     // of the normal equations, at the last evaluation
	beta   blas64.Vector
	fresh  bool // the noise or the log is another than when all of white was made
}

func newRegression(n int, priors [columns]prior) *regression {
	const all = columns + 1
	return &regression{priors: priors, fresh: true,
		white:  blas64.General{Rows: all, Cols: n, Stride: n, Data: make([]float64, all*n)},
		gram:   make([]float64, all*all),
		normal: blas64.Symmetric{N: columns, Stride: all, Uplo: blas.Upper, Data: make([]float64, all*all)},
		right:  blas64.Vector{N: columns, Inc: 1, Data: make([]float64, columns)},
		beta:   blas64.Vector{N: columns, Inc: 1, Data: make([]float64, columns)}}
}

// deviance solves for the coefficients of the columns and returns -2 log of the
// marginal likelihood, or +Inf where the columns cannot be told apart.
func (r *regression) deviance(f *whitener, rows []row) float64 {
	const all = columns + 1
	r.whiten(f, rows)
	sums, right := r.normal.Data, r.right.Data
	copy(sums, r.gram)
	rss := sums[columns*all+columns]
	for i := range columns {
		right[i] = sums[i*all+columns]
		if pr := r.priors[i]; !math.IsInf(pr.sd, 1) {
			w := 1 / (pr.sd * pr.sd)
			sums[i*all+i] += w
			right[i] += w * pr.mean
			rss += w * pr.mean * pr.mean
		}
	}
	var ok bool
	if r.factor, ok = lapack64.Potrf(r.normal); !ok {
		return math.Inf(1)
	}
	// Some priors move with the response, so their own widths count as well.
	det := 1.0
	for i := range columns {
		det *= sums[i*all+i]
		if sd := r.priors[i].sd; !math.IsInf(sd, 1) {
			det *= sd
		}
	}
	blas64.Copy(r.right, r.beta)
	r.substitute(r.beta)
	return f.logDet + 2*math.Log(det) + rss - blas64.Dot(r.beta, r.right)
}

// whiten makes white and gram: all of them where they are fresh, else what goes with the shift.
func (r *regression) whiten(f *whitener, rows []row) {
	if r.fresh {
		apply[row](f, rows, 0, r.white)
	} else {
		apply[moving](f, rows, colPower, r.white)
	}
	for i := range r.white.Rows {
		for j := i; j < r.white.Rows; j++ {
			if r.fresh || !still(i) || !still(j) {
				r.gram[i*r.white.Rows+j] = floats.Dot(r.column(i), r.column(j))
			}
		}
	}
	r.fresh = false
}

// substitute solves with the factor, in place.
func (r *regression) substitute(x blas64.Vector) {
	blas64.Trsv(blas.Trans, r.factor, x)
	blas64.Trsv(blas.NoTrans, r.factor, x)
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

// column is a whitened column, or the whitened log where j is columns.
func (r *regression) column(j int) []float64 {
	return r.white.Data[j*r.white.Stride:][:r.white.Cols]
}

// innovations are what the coefficients leave of the whitened log: independent, of
// variance one where the walk is what it is taken for.
func (r *regression) innovations() []float64 {
	out := slices.Clone(r.column(columns))
	for j, b := range r.beta.Data {
		floats.AddScaled(out, -b, r.column(j))
	}
	return out
}

var errSingular = errors.New("the columns of the regression cannot be told apart")

// solution copies out what the last call of deviance found.
func (r *regression) solution(dev float64) (solution, error) {
	if math.IsInf(dev, 0) || math.IsNaN(dev) {
		return solution{}, errSingular
	}
	s := solution{beta: slices.Clone(r.beta.Data), cov: mat.NewSymDense(columns, nil), deviance: dev}
	cov := s.cov.RawSymmetric()
	for i := range columns {
		copy(cov.Data[i*cov.Stride:][:columns], r.factor.Data[i*r.factor.Stride:])
	}
	var err error
	if _, ok := lapack64.Potri(blas64.Triangular{N: columns, Stride: cov.Stride, Uplo: blas.Upper, Diag: blas.NonUnit, Data: cov.Data}); !ok {
		err = errSingular
	}
	return s, err
}
