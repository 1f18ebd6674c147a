package cooling

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/lapack/lapack64"
	"gonum.org/v1/gonum/mat"
)

// formPart is which part of the difference between two ways to count the lost light is
// taken for a standard uncertainty of the lag beyond what the readings tell: neither
// way is true, and with a low Sun they part. Common practice, no source.
const formPart = 0.12

// tries are all answers of the air: by kind, thermometer and time constant, as they are at the
// nodes. They are hundreds and much alike: a dozen or two of other columns, the basis, have
// all of them in it.
type tries struct {
	kinds        []kind
	thermometers []float64  // s
	weights      []float64  // of each of their answers before the readings speak, natural logarithm
	lag, lagU    *mat.Dense // s, by kind and fine time constant; the uncertainty is what is left open of the form
	basis        *mat.Dense // a row for each reading
	coords       *mat.Dense // a column for each answer at the nodes
}

func newTries(t []float64, d *day, thermometers, weights []float64) (out *tries, err error) {
	out = &tries{kinds: d.kinds, thermometers: thermometers}
	for _, w := range weights {
		out.weights = append(out.weights, math.Log(w/float64(len(d.kinds))))
	}
	lags := mat.NewDense(len(d.kinds), tauNodes, nil)
	all := mat.NewDense(len(t), len(d.kinds)*len(thermometers)*tauNodes, nil)
	var air, seen course
	for i, k := range d.kinds {
		lags.SetRow(i, d.answers(&air, k, taus().nodes...))
		for h, th := range thermometers {
			seen.set(&air)
			seen.lag(th)
			for row, x := range t {
				seen.read(all.RawRowView(row)[(i*len(thermometers)+h)*tauNodes:][:tauNodes], x)
			}
		}
	}
	floats.Scale(-1, all.RawMatrix().Data) // the air falls
	out.lag, out.lagU = new(mat.Dense), mat.NewDense(len(d.kinds), tauFine, nil)
	out.lag.Mul(lags, taus().knotless)
	for i, k := range d.kinds {
		other := k
		other.drive = []int{1, 0, 0}[k.drive]
		theirs := out.lag.RawRowView(slices.Index(d.kinds, other))
		for f, mine := range out.lag.RawRowView(i) {
			out.lagU.Set(i, f, formPart*math.Abs(mine-theirs[f]))
		}
	}
	out.basis, out.coords, err = spanned(all)
	return out, err
}

// axes are the columns of the basis.
func (t *tries) axes() (out [][]float64) {
	_, n := t.basis.Dims()
	for k := range n {
		out = append(out, mat.Col(nil, k, t.basis))
	}
	return out
}

// fine reads what is known at the nodes at the fine time constants: a row for each kind and thermometer.
func (t *tries) fine(out *mat.Dense, nodal []float64) {
	out.Mul(mat.NewDense(len(nodal)/tauNodes, tauNodes, nodal), taus().natural)
}

// spanned writes columns as combinations of few orthonormal ones: the principal axes of
// their products, down to a hundred-thousandth of the greatest, which is far below a reading's noise.
func spanned(all *mat.Dense) (basis, coords *mat.Dense, err error) {
	const least = 1e-10 // of the greatest square
	products := new(mat.SymDense)
	products.SymOuterK(1, all)
	var small mat.SymDense
	var axes mat.EigenSym
	few := factored(products)
	if few != nil {
		small.SymOuterK(1, few)
	}
	if few == nil || !axes.Factorize(&small, true) {
		return nil, nil, errors.New("cooling: the answers' products have no axes")
	}
	sizes := axes.Values(nil) // ascending
	rank := len(sizes)
	first, _ := slices.BinarySearch(sizes, least*sizes[rank-1])
	first = min(first, rank-1)
	var vectors mat.Dense
	axes.VectorsTo(&vectors)
	basis, coords = new(mat.Dense), new(mat.Dense)
	basis.Mul(few.T(), vectors.Slice(0, rank, first, rank))
	basis.Apply(func(_, k int, v float64) float64 { return v / math.Sqrt(sizes[first+k]) }, basis)
	coords.Mul(basis.T(), all)
	return basis, coords, nil
}

// factored is F with few rows such that F'F is the matrix but for rounding; its axes are then those
// of the small F F'. It is nil where there are none.
func factored(m *mat.SymDense) *mat.Dense {
	n := m.SymmetricDim()
	order := make([]int, n)
	u, rank, _ := lapack64.Pstrf(m.RawSymmetric(), order, -1, make([]float64, 2*n))
	if rank == 0 {
		return nil
	}
	out := mat.NewDense(rank, n, nil)
	for i := range rank {
		for j := i; j < n; j++ {
			out.Set(i, order[j], u.Data[i*u.Stride+j])
		}
	}
	return out
}
