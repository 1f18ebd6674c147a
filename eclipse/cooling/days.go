package cooling

import (
	"context"
	"fmt"
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/lapack/lapack64"
	"gonum.org/v1/gonum/mat"
)

// A weighed is one kind of day with what the readings say of it.
type weighed struct {
	rough
	place  place         // of that among the guesses
	base   float64       // logarithm of the likelihood without eclipse, but for a constant
	bound  float64       // likewise, with whatever answer the basis can make: none is likelier
	by     []float64     // products of the basis with the readings, through the day's covariance,
	square *mat.SymDense // and with itself
	best   float64       // logarithm of the likelihood with the best answer of the nodes
	xy, xx []float64     // of each node's answer: its product with the readings, and with itself
}

// A place is that of a kind of day among the guesses: of its bend, its gusts, their memory.
type place [3]int

func (p place) rough() rough { return rough{bends[p[0]], gusts[p[1]], memories[p[2]]} }

func (p place) exists() bool {
	return p[0] >= 0 && p[1] >= 0 && p[2] >= 0 && p[0] < len(bends) && p[1] < len(gusts) && p[2] < len(memories)
}

// beside are the places one step away.
func (p place) beside() (out []place) {
	for axis := range p {
		for _, step := range []int{-1, 1} {
			q := p
			if q[axis] += step; q.exists() {
				out = append(out, q)
			}
		}
	}
	return out
}

// lattice is every third of the gusts and every other memory.
func lattice() (out []place) {
	for b := range bends {
		for g := 0; g < len(gusts); g += 3 {
			for m := 0; m < len(memories); m += 2 {
				out = append(out, place{b, g, m})
			}
		}
	}
	return out
}

// weighed holds the kinds of day against the readings: those of the lattice, and from where it is
// likely on to what lies beside. What is never reached is hopeless.
func (s *series) weighed(ctx context.Context, p *posterior, tr tries) (out []weighed, err error) {
	const aside = 2 * hopeless            // as unlikely as that, likely ones may lie beside it
	smooth := map[float64]*mat.SymDense{} // by their bends
	all := mat.NewSymDense(len(s.t), nil)
	seen := map[place]bool{}
	top := math.Inf(-1)
	weigh := func(at place) error {
		if seen[at] {
			return nil
		}
		seen[at] = true
		g := at.rough()
		if smooth[g.bend] == nil {
			smooth[g.bend] = s.smooth(g.bend, p.cols, p.sd)
		}
		s.covariance(all, g, smooth[g.bend])
		w, err := p.weigh(g, all, tr)
		if err != nil {
			return err
		}
		w.place = at
		if out = append(out, w); !math.IsInf(w.bound, 1) { // of which nothing is known
			top = math.Max(top, w.bound)
		}
		return ctx.Err()
	}
	for _, at := range lattice() {
		if err := weigh(at); err != nil {
			return nil, err
		}
	}
	for i := 0; i < len(out); i++ {
		if out[i].bound < top-aside {
			continue
		}
		for _, at := range out[i].place.beside() {
			if err := weigh(at); err != nil {
				return nil, err
			}
		}
	}
	return out, nil
}

// weigh holds one kind of day, and the basis of all answers under it, against the readings. It
// leaves the factor of the day's covariance in its place.
func (p *posterior) weigh(g rough, all *mat.SymDense, tr tries) (weighed, error) {
	// Without the estimate of the condition that a mat.Cholesky makes each time: every
	// reading has noise of its own.
	factor, ok := lapack64.Potrf(all.RawSymmetric())
	if !ok {
		return weighed{}, fmt.Errorf("cooling: the covariance of %d readings cannot be factorized", len(p.y))
	}
	var logDet float64
	for i := range p.y {
		logDet += 2 * math.Log(factor.Data[i*factor.Stride+i])
	}
	// With K = U'U all products through K's inverse are those of the rows of (basis, readings)' U^-1.
	n, r := tr.basis.Dims()
	white := mat.NewDense(r+1, n, nil)
	white.Slice(0, r, 0, n).(*mat.Dense).Copy(tr.basis.T())
	white.SetRow(r, p.y)
	blas64.Trsm(blas.Right, blas.NoTrans, 1, factor, white.RawMatrix())
	gram := mat.NewSymDense(r+1, nil)
	gram.SymOuterK(1, white)
	w := weighed{rough: g, base: -0.5*gram.At(r, r) - 0.5*logDet, by: make([]float64, r), square: mat.NewSymDense(r, nil)}
	for i := range r {
		w.by[i] = gram.At(i, r)
	}
	w.square.CopySym(gram.SliceSym(0, r))
	w.bound = math.Inf(1)
	var c mat.Cholesky
	var most mat.VecDense
	if by := mat.NewVecDense(r, w.by); c.Factorize(w.square) && c.SolveVecTo(&most, by) == nil {
		w.bound = w.base + 0.5*mat.Dot(by, &most)
	}
	return w, nil
}

// try weighs the answers of the nodes.
func (w *weighed) try(tr tries) {
	var xy mat.VecDense
	xy.MulVec(tr.coords.T(), mat.NewVecDense(len(w.by), w.by))
	w.xy = xy.RawVector().Data
	var half mat.Dense
	half.Mul(w.square, tr.coords)
	w.xx = make([]float64, len(w.xy))
	for r := range w.by {
		floats.Add(w.xx, floats.MulTo(half.RawRowView(r), half.RawRowView(r), tr.coords.RawRowView(r)))
	}
	w.best = w.base
	for c, a := range w.xy {
		b := w.xx[c] + 1/(dropPrior*dropPrior)
		w.best = math.Max(w.best, w.base+0.5*a*a/b-0.5*math.Log(b*dropPrior*dropPrior))
	}
}
