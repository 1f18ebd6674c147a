package cooling

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/mat"
)

// formPart is which part of the difference between two ways to count the lost light is
// taken for a standard uncertainty of the lag beyond what the readings tell: neither
// way is true, and with a low Sun they part. Common practice, no source.
const formPart = 0.12

// tries are the readings' columns of all answers at the nodes. They are hundreds and much alike:
// a dozen or two of other columns, the basis, have all of them in it.
type tries struct {
	basis  *mat.Dense  // a row for each reading
	coords *mat.Dense  // a column for each answer
	lags   [][]float64 // by kind, at the fine time constants
	form   [][]float64 // what is left open of them
	tauT   []float64
	kinds  []kind
}

func newTries(t []float64, d *day, tauT []float64) (tries, error) {
	coarse := nodes(tauNodes)
	out := tries{tauT: tauT, kinds: d.kinds}
	all := mat.NewDense(len(t), len(d.kinds)*len(tauT)*len(coarse), nil)
	lags := map[kind][]float64{} // of the nodes
	for i, k := range d.kinds {
		for j, tau := range coarse {
			a := d.answer(k, tau)
			lags[k] = append(lags[k], a.lag)
			for h, th := range tauT {
				seen := a.air.lagged(th)
				for row, x := range t {
					all.Set(row, (i*len(tauT)+h)*len(coarse)+j, -seen.at(x))
				}
			}
		}
	}
	for _, k := range d.kinds {
		other := k
		other.drive = map[int]int{0: 1, 1: 0, 2: 0}[k.drive]
		mine, theirs := between(lags[k]), between(lags[other])
		form := make([]float64, tauFine)
		for i := range form {
			form[i] = formPart * math.Abs(mine[i]-theirs[i])
		}
		out.lags, out.form = append(out.lags, mine), append(out.form, form)
	}
	var err error
	out.basis, out.coords, err = spanned(all)
	return out, err
}

// between reads the values of the nodes at the fine time constants, by cubics in the logarithm.
func between(nodal []float64) []float64 {
	var curve interp.NotAKnotCubic
	log := make([]float64, tauNodes)
	for i, tau := range nodes(tauNodes) {
		log[i] = math.Log(tau)
	}
	out := make([]float64, tauFine)
	if curve.Fit(log, nodal) != nil {
		return out // twelve ascending nodes always fit
	}
	for i, tau := range nodes(tauFine) {
		out[i] = curve.Predict(math.Log(tau))
	}
	return out
}

// spanned writes columns as combinations of few orthonormal ones: the principal axes of
// their products, down to a hundred-thousandth of the greatest, which is far below a reading's noise.
func spanned(all *mat.Dense) (basis, coords *mat.Dense, err error) {
	const least = 1e-10 // of the greatest square
	n, _ := all.Dims()
	products := mat.NewSymDense(n, nil)
	products.SymOuterK(1, all)
	var axes mat.EigenSym
	if !axes.Factorize(products, true) {
		return nil, nil, errors.New("cooling: the answers' products have no axes")
	}
	sizes := axes.Values(nil) // ascending
	first, _ := slices.BinarySearch(sizes, least*sizes[n-1])
	var vectors mat.Dense
	axes.VectorsTo(&vectors)
	basis = mat.DenseCopyOf(vectors.Slice(0, n, min(first, n-1), n))
	coords = new(mat.Dense)
	coords.Mul(basis.T(), all)
	return basis, coords, nil
}
