package cooling

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"
)

// uneven is a log at one reading a second in which some are missing, so that bins differ in size
// and some lie closer to the one before than a box is long.
func uneven(rng *rand.Rand) *series {
	var t, c []float64
	for x := -8000.0; x <= 9000; x++ {
		if !(rng.Float64() < 0.02 || math.Mod(x, 1700) > 1550) {
			t, c = append(t, x), append(c, 20+0.25*math.Round(2*math.Sin(x/3000)+rng.Float64()))
		}
	}
	s := &series{noise: 0.05, quantum: 0.25, lag: 60, dwell: dwellOf(t, c)}
	s.bin(t, c)
	return s
}

// covariance is that of what is random in a log, element by element.
func (s *series) covariance(g rough) *mat.SymDense {
	gusts := g.seen(s.lag, s.box)
	round, hold := s.rounding()
	out := mat.NewSymDense(len(s.t), nil)
	for i, a := range s.t {
		for j, b := range s.t[:i+1] {
			out.SetSym(i, j, gusts.at(a-b)+round*math.Exp((b-a)/hold)+g.bend*g.bend*walk((a-s.t[0])/3600, (b-s.t[0])/3600))
		}
		out.SetSym(i, i, out.At(i, i)+s.v[i])
	}
	return out
}

// The second method: a dense matrix and its Cholesky factor, for all kinds of day. Both round where
// the least of the covariance's sizes is a millionth of the greatest; 1e-10 was seen to do.
func TestChainIsTheDenseFactor(t *testing.T) {
	const tol = 1e-9 // of each number
	rng := rand.New(rand.NewPCG(1, 2))
	s := uneven(rng)
	close := 0
	for i := 1; i < len(s.t); i++ {
		if s.t[i]-s.t[i-1] < s.box {
			close++
		}
	}
	require.NotZero(t, close, "no bins closer than a box")
	n := len(s.t)
	x := mat.NewDense(n, 2, nil)
	for i, c := range s.c {
		x.SetRow(i, []float64{c - 20, math.Exp(-s.t[i] * s.t[i] / 4e6)})
	}
	side := [][]float64{mat.Col(nil, 0, x), mat.Col(nil, 1, x)}
	b := newBalance(s, nil, side...)
	for k := range roughs {
		g := place{k / 28, k / 4 % 7, k % 4}.rough()
		var dense mat.Cholesky
		require.True(t, dense.Factorize(s.covariance(g)))
		var through, products mat.Dense
		require.NoError(t, dense.SolveTo(&through, x))
		products.Mul(x.T(), &through)
		r, logDet, err := b.weigh(g)
		require.NoError(t, err)
		if want := dense.LogDet(); !(math.Abs(logDet-want) <= tol*math.Abs(want)) {
			t.Errorf("%+v: logarithm of the determinant %.10g, want %.10g", g, logDet, want)
		}
		for i := range side {
			for j := range i + 1 {
				if got, want := squared(r, i, j), products.At(i, j); !(math.Abs(got-want) <= tol*math.Sqrt(products.At(i, i)*products.At(j, j))) {
					t.Errorf("%+v: product of %d and %d is %.10g, want %.10g", g, i, j, got, want)
				}
			}
			for j, got := range b.chain.through(side[i]) {
				if want := through.At(j, i); !(math.Abs(got-want) <= tol*mat.Norm(through.ColView(i), math.Inf(1))) {
					t.Fatalf("%+v: element %d of what the inverse makes of %d is %.10g, want %.10g", g, j, i, got, want)
				}
			}
		}
	}
}

// squared is an element of R'R.
func squared(r blas64.Symmetric, i, j int) (sum float64) {
	for k := range min(i, j) + 1 {
		sum += r.Data[k*r.Stride+i] * r.Data[k*r.Stride+j]
	}
	return sum
}

// Columns of known shape are as much of the day's covariance as what is random: the dense matrix
// with them in it has the same determinant and the same products of what is weighed.
func TestKnownColumnsAreInTheCovariance(t *testing.T) {
	s := uneven(rand.New(rand.NewPCG(3, 4)))
	n := len(s.t)
	level, tendency, dip := make([]float64, n), make([]float64, n), make([]float64, n)
	for i, x := range s.t {
		level[i], tendency[i], dip[i] = 30, x/3600, math.Exp(-x*x/4e6)
	}
	g := rough{0.05, 0.11, 400}
	all := s.covariance(g)
	for _, c := range [][]float64{level, tendency} {
		all.SymRankOne(all, 1, mat.NewVecDense(n, c))
	}
	var dense mat.Cholesky
	require.True(t, dense.Factorize(all))
	var through mat.VecDense
	require.NoError(t, dense.SolveVecTo(&through, mat.NewVecDense(n, dip)))
	r, logDet, err := newBalance(s, [][]float64{level, tendency}, dip).weigh(g)
	require.NoError(t, err)
	if want := dense.LogDet(); !(math.Abs(logDet-want) <= 1e-8*math.Abs(want)) {
		t.Errorf("logarithm of the determinant %.10g, want %.10g", logDet, want)
	}
	got, want := r.Data[2*r.Stride+2], math.Sqrt(mat.Dot(mat.NewVecDense(n, dip), &through))
	if !(math.Abs(got-want) <= 1e-8*want) {
		t.Errorf("size of the dip %.10g, want %.10g", got, want)
	}
}

// A series that another one is already has no row, and what is left of the next is not touched.
func TestRootLeavesOutWhatIsThere(t *testing.T) {
	x := mat.NewDense(3, 3, []float64{1, 2, 2, 2, 4, 4, -1, 0.5, 4}) // the second is twice the first
	g := mat.NewSymDense(3, nil)
	g.SymOuterK(1, x)
	want := mat.NewSymDense(3, nil)
	want.CopySym(g)
	r := g.RawSymmetric()
	root(r)
	if r.Data[1*3+1] != 0 || r.Data[1*3+2] != 0 {
		t.Errorf("the second row is %v", r.Data[3:6])
	}
	for i := range 3 {
		for j := range i + 1 {
			if got := squared(r, i, j); !(math.Abs(got-want.At(i, j)) <= 1e-12*want.At(2, 2)) {
				t.Errorf("product of %d and %d is %g, want %g", i, j, got, want.At(i, j))
			}
		}
	}
}

// Bins that are no neighbours lie a box apart, but for the grid that they are laid on: the chain
// knows of no others closer than that.
func TestBinsLieABoxApart(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		var at []float64
		for x := 0.0; x < 17000; x += math.Round(1 + math.Exp(6*rng.Float64())*rng.Float64()*rng.Float64()) {
			at = append(at, x)
		}
		s := &series{}
		s.bin(at, make([]float64, len(at)))
		for i := 2; i < len(s.t); i++ {
			if d := s.t[i] - s.t[i-2]; !(d >= s.box-s.grid()) {
				t.Fatalf("bins %g s apart, a box is %g s, the grid %g s", d, s.box, s.grid())
			}
		}
	}
}
