package sensor

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// A model is what leastSquares fits.
type model interface {
	// weigh settles the weights for the parameters p: an effective variance has others
	// for each p.
	weigh(p []float64)
	// residuals are weighted, measured less the model's; false where the model has no
	// value.
	residuals(p []float64) ([]float64, bool)
	// slopes are the weighted derivatives of the model, a row for each residual.
	slopes(p []float64) *mat.Dense
}

// A solution is where the sum of squares is least.
type solution struct {
	p         []float64
	residuals []float64  // weighted
	sum       float64    // of their squares
	cov       *mat.Dense // of p, for residuals of unit variance
}

const (
	maxSquaresSteps = 3000 // the worst of the reference sets wants 1725 from its far start
	// settled is by how much the fitted values may still move, all together, in
	// uncertainties: no parameter then moves by more of its own.
	settled = 1e-10
	// nearlySettled is what serves where rounding lets nothing better be found.
	nearlySettled = 1e-6

	firstDamping, leastDamping, mostDamping = 1e-3, 1e-12, 1e12 // below the least there is none
	dampMore, dampLess                      = 10, 100
	probe                                   = 0.1  // part of a step over which its bend is measured
	mostBend                                = 0.75 // as the authors advise
)

// leastSquares is Levenberg's and Marquardt's method (D. W. Marquardt, J. SIAM 11
// (1963) 431) on columns divided by their lengths, each step by QR
// and not by normal equations, which lose half of the digits. Weights are taken anew in
// each step and are constant within it. False where it does not settle, or where the
// parameters cannot be told apart.
func leastSquares(m model, start []float64) (solution, bool) {
	at, ok := stand(m, start)
	damping := firstDamping
	for range maxSquaresSteps {
		if !ok {
			return solution{}, false
		}
		if at.left <= settled {
			return at.polished(m)
		}
		p, found := at.better(m, &damping)
		if !found {
			if at.left <= nearlySettled {
				return at.polished(m)
			}
			return solution{}, false
		}
		at, ok = stand(m, p)
	}
	return solution{}, false
}

// A foothold is all that is known of the model at a set of parameters.
type foothold struct {
	p, r  []float64
	j     *mat.Dense // columns of unit length
	scale []float64  // their lengths
	// left is the length of the part of r that a move of the parameters could take
	// away, by the first order; NaN where the slopes are no numbers.
	left float64
}

// stand weighs anew.
func stand(m model, p []float64) (at foothold, ok bool) {
	m.weigh(p)
	r, ok := m.residuals(p)
	if !ok {
		return at, false
	}
	at = foothold{p: p, r: r, j: m.slopes(p)}
	rows, columns := at.j.Dims()
	for k := range columns {
		length := mat.Norm(at.j.ColView(k), 2)
		if !(length > 0) {
			return at, false // a parameter that moves nothing
		}
		at.scale = append(at.scale, length)
		for i := range rows {
			at.j.Set(i, k, at.j.At(i, k)/length)
		}
	}
	var qr mat.QR
	qr.Factorize(at.j)
	var q mat.Dense
	qr.QTo(&q)
	var along mat.VecDense
	along.MulVec(q.T(), mat.NewVecDense(len(r), r))
	at.left = mat.Norm(along.SliceVec(0, columns), 2)
	return at, true
}

// polished goes on undamped for as long as that helps: the sum of squares has no
// digits left to tell, but the slopes have.
func (at foothold) polished(m model) (solution, bool) {
	for range 50 {
		next, ok := stand(m, at.moved(damped(at.j, at.r, 0), 1))
		if !ok || !(next.left < 0.9*at.left) {
			break
		}
		at = next
	}
	return at.solved()
}

// better damps the step until the sum of squares is less; else it gives p back.
func (at foothold) better(m model, damping *float64) (next []float64, found bool) {
	for *damping < mostDamping {
		next, ok := at.bent(m, *damping)
		if now, sound := m.residuals(next); ok && sound && squares(now) < squares(at.r) {
			if *damping /= dampLess; *damping < leastDamping {
				*damping = 0
			}
			return next, true
		}
		*damping = math.Max(leastDamping, *damping*dampMore)
	}
	return at.p, false
}

// bent is a damped step that follows the model's curve to the second order (M. K.
// Transtrum and J. P. Sethna, arXiv:1201.5885, from memory), which a narrow valley wants.
// False where the bend is not small beside the step: a long step that happens to help
// may land where a parameter moves nothing.
func (at foothold) bent(m model, damping float64) ([]float64, bool) {
	straight := damped(at.j, at.r, damping)
	near, ok := m.residuals(at.moved(straight, probe))
	if !ok {
		return at.p, false
	}
	// Half of the model's second derivative along the step, from a difference.
	var foretold mat.VecDense
	foretold.MulVec(at.j, mat.NewVecDense(len(straight), straight))
	half := make([]float64, len(at.r))
	for i := range half {
		half[i] = -((at.r[i]-near[i])/probe - foretold.AtVec(i)) / probe
	}
	bend := damped(at.j, half, damping)
	if !(2*math.Sqrt(squares(bend)) <= mostBend*math.Sqrt(squares(straight))) {
		return at.p, false
	}
	for k := range straight {
		straight[k] += bend[k]
	}
	return at.moved(straight, 1), true
}

func (at foothold) moved(step []float64, part float64) []float64 {
	next := append([]float64(nil), at.p...)
	for k := range next {
		next[k] += part * step[k] / at.scale[k]
	}
	return next
}

func squares(r []float64) (sum float64) {
	for _, x := range r {
		sum += x * x
	}
	return sum
}

// damped solves (J'J + damping) step = J'r, as least squares with a row more for each
// parameter.
func damped(j *mat.Dense, r []float64, damping float64) []float64 {
	rows, columns := j.Dims()
	tall, right := mat.NewDense(rows+columns, columns, nil), mat.NewVecDense(rows+columns, nil)
	tall.Slice(0, rows, 0, columns).(*mat.Dense).Copy(j)
	for i, x := range r {
		right.SetVec(i, x)
	}
	for k := range columns {
		tall.Set(rows+k, k, math.Sqrt(damping))
	}
	var qr mat.QR
	qr.Factorize(tall)
	step := mat.NewVecDense(columns, nil)
	if err := qr.SolveVecTo(step, false, right); err != nil && step.AtVec(0) == 0 {
		return make([]float64, columns) // nowhere to go; the next is damped more
	}
	return step.RawVector().Data
}

// solved adds the covariance, the inverse of R'R.
func (at foothold) solved() (solution, bool) {
	n := len(at.p)
	var qr mat.QR
	qr.Factorize(at.j)
	var upper, inverse mat.Dense
	qr.RTo(&upper)
	if err := inverse.Inverse(upper.Slice(0, n, 0, n)); err != nil {
		return solution{}, false
	}
	cov := mat.NewDense(n, n, nil)
	cov.Mul(&inverse, inverse.T())
	for k := range n {
		for l := range n {
			cov.Set(k, l, cov.At(k, l)/(at.scale[k]*at.scale[l]))
		}
	}
	return solution{p: at.p, residuals: at.r, sum: squares(at.r), cov: cov}, true
}
