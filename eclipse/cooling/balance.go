package cooling

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// A balance holds series against each other under one kind of day after another: the day's
// columns of known shape first, then whatever is to be weighed.
type balance struct {
	log   *series
	known int         // how many columns
	side  [][]float64 // for each reading, all series
	chain chain
	white *mat.Dense    // a row for each series
	gram  *mat.SymDense // what weigh leaves
}

func newBalance(log *series, columns [][]float64, others ...[]float64) *balance {
	all := append(columns[:len(columns):len(columns)], others...)
	b := &balance{
		log: log, known: len(columns), side: make([][]float64, len(log.t)), chain: make(chain, len(log.t)),
		white: mat.NewDense(len(all), len(log.t), nil), gram: mat.NewSymDense(len(all), nil),
	}
	for i := range b.side {
		for _, series := range all {
			b.side[i] = append(b.side[i], series[i])
		}
	}
	return b
}

// weigh takes the products of all series through the inverse of the covariance K of what is random
// that kind of day, and turns them into the triangle R of R'R. The columns' sizes are
// normal of variance one; what stands below them in R belongs to the others' products through the
// inverse of all of the day's covariance, of which it returns the logarithm of the determinant.
func (b *balance) weigh(g rough) (r blas64.Symmetric, logDet float64, err error) {
	if !b.chain.factor(b.log, g) {
		return r, 0, fmt.Errorf("cooling: the covariance of %d readings cannot be factorized", len(b.chain))
	}
	rows := make([][]float64, len(b.side[0]))
	for k := range rows {
		rows[k] = b.white.RawRowView(k)
	}
	b.chain.whiten(rows, b.side)
	b.gram.SymOuterK(1, b.white)
	r = b.gram.RawSymmetric()
	logDet = b.chain.logDet()
	for k := range b.known {
		r.Data[k*r.Stride+k]++
	}
	root(r)
	for k := range b.known {
		logDet += 2 * math.Log(r.Data[k*r.Stride+k])
	}
	return r, logDet, nil
}

// root turns the upper triangle of products G of some series into R with R'R = G. A series of which
// those before it leave nothing but rounding has no row in it.
func root(g blas64.Symmetric) {
	const least = 1e-14 // of its own size: the products are sums of a hundred
	size := make([]float64, g.N)
	for k := range size {
		size[k] = g.Data[k*g.Stride+k]
	}
	for k := range size {
		row := g.Data[k*g.Stride:][:g.N][k:]
		if !(row[0] > least*size[k]) {
			clear(row)
			continue
		}
		floats.Scale(1/math.Sqrt(row[0]), row)
		for i, v := range row[1:] {
			from := k + 1 + i
			floats.AddScaled(g.Data[from*g.Stride:][from:g.N], -v, row[1+i:])
		}
	}
}
