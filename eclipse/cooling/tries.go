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

// A form is one answer of the air, and what is believed of it before the readings speak.
type form struct {
	kind        kind
	thermometer float64 // s
	tau         float64 // of all of it, s
	lag, lagU   float64 // s; the uncertainty is what is left open of its form
	prior       float64 // natural logarithm
}

// tries are the readings' columns of all answers at the nodes. They are hundreds and much alike:
// a dozen or two of other columns, the basis, have all of them in it.
type tries struct {
	basis  *mat.Dense // a row for each reading
	coords *mat.Dense // a column for each answer: by kind, thermometer, time constant
	spline *mat.Dense // from the values at the nodes to those at the fine time constants
	forms  []form     // at those: by kind, thermometer, time constant
}

func newTries(t []float64, d *day, tauT, wT []float64) (out tries, err error) {
	coarse := nodes(tauNodes)
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
	out.spline = splined()
	each := math.Log(float64(len(d.kinds) * tauFine))
	for _, k := range d.kinds {
		other := k
		other.drive = map[int]int{0: 1, 1: 0, 2: 0}[k.drive]
		mine, theirs := between(lags[k]), between(lags[other])
		for h, th := range tauT {
			for i, tau := range nodes(tauFine) {
				z := math.Log(tau/tauUsual) / tauSpread
				out.forms = append(out.forms, form{
					kind: k, thermometer: th, tau: tau * (1 + k.ahead), lag: mine[i], lagU: formPart * math.Abs(mine[i]-theirs[i]),
					prior: math.Log(wT[h]) - 0.5*z*z - tauNorm - each,
				})
			}
		}
	}
	out.basis, out.coords, err = spanned(all)
	return out, err
}

// fine reads what is known at the nodes at the fine time constants.
func (t *tries) fine(nodal []float64) []float64 {
	var out mat.Dense
	out.Mul(mat.NewDense(len(nodal)/tauNodes, tauNodes, nodal), t.spline.T())
	return out.RawMatrix().Data
}

// splined is the natural cubic in the logarithm of the time constant, as a matrix: what each
// node gives to each fine one.
func splined() *mat.Dense {
	out := mat.NewDense(tauFine, tauNodes, nil)
	for j := range tauNodes {
		unit := make([]float64, tauNodes)
		unit[j] = 1
		out.SetCol(j, read(new(interp.NaturalCubic), unit))
	}
	return out
}

// between reads lags of the nodes at the fine time constants.
func between(nodal []float64) []float64 { return read(new(interp.NotAKnotCubic), nodal) }

// read lays a cubic through the nodes, in the logarithm of the time constant.
func read(curve interp.FittablePredictor, nodal []float64) []float64 {
	log, out := make([]float64, tauNodes), make([]float64, tauFine)
	for i, tau := range nodes(tauNodes) {
		log[i] = math.Log(tau)
	}
	if curve.Fit(log, nodal) != nil {
		return out // a dozen ascending nodes always fit
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

// axes are the columns of the basis.
func (t *tries) axes() (out [][]float64) {
	_, n := t.basis.Dims()
	for k := range n {
		out = append(out, mat.Col(nil, k, t.basis))
	}
	return out
}
