package cooling

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/mat"
)

// bells are columns that are much alike, as answers are.
func bells(n, columns int) *mat.Dense {
	out := mat.NewDense(n, columns, nil)
	out.Apply(func(i, k int, _ float64) float64 {
		x, width := float64(i)/float64(n)-0.5, 0.1+0.1*float64(k%7)/7
		x -= 0.2 * float64(k) / float64(columns)
		return math.Exp(-x * x / (2 * width * width))
	}, out)
	return out
}

// The second method is a singular value decomposition: the axes are as many as it has singular
// values above a hundred-thousandth of the greatest, and what they leave out is no greater.
func TestBasisHasAllAnswersInIt(t *testing.T) {
	for _, tt := range []struct{ n, columns int }{{96, 500}, {12, 500}, {40, 3}} {
		all := bells(tt.n, tt.columns)
		var svd mat.SVD
		require.True(t, svd.Factorize(all, mat.SVDNone))
		want := 0
		sizes := svd.Values(nil)
		for _, size := range sizes {
			if size >= 1e-5*sizes[0] {
				want++
			}
		}
		basis, coords, err := spanned(all)
		require.NoError(t, err)
		_, got := basis.Dims()
		if got != want {
			t.Errorf("%+v: %d axes, want %d", tt, got, want)
		}
		var left, square mat.Dense
		left.Mul(basis, coords)
		left.Sub(all, &left)
		if norm := mat.Norm(&left, 2); !(norm <= 1e-5*sizes[0]*math.Sqrt(float64(len(sizes)))) {
			t.Errorf("%+v: %g of %g is left out", tt, norm, sizes[0])
		}
		square.Mul(basis.T(), basis)
		for i := range got {
			for j := range i + 1 {
				want := 0.0
				if i == j {
					want = 1
				}
				// Rounding is 1e-16 of the greatest square, and the least axis has 1e-10 of it.
				if off := square.At(i, j) - want; !(math.Abs(off) <= 1e-5) {
					t.Errorf("%+v: product of axes %d and %d is %g off", tt, i, j, off)
				}
			}
		}
	}
}

func TestAnswersThatAreNoneHaveNoBasis(t *testing.T) {
	all := bells(20, 50)
	all.Set(3, 4, math.NaN())
	if _, _, err := spanned(all); err == nil {
		t.Error("not a number, and no error")
	}
}

// The matrices of the time constants draw the same curves as the cubics themselves.
func TestCubicsThroughTheNodes(t *testing.T) {
	s := taus()
	rng := rand.New(rand.NewPCG(1, 2))
	log, nodal := make([]float64, tauNodes), make([]float64, tauNodes)
	for i, tau := range s.nodes {
		log[i], nodal[i] = math.Log(tau), rng.NormFloat64()
	}
	for _, tt := range []struct {
		name   string
		curve  interp.FittablePredictor
		matrix *mat.Dense
	}{{"natural", new(interp.NaturalCubic), s.natural}, {"without knots beside the ends", new(interp.NotAKnotCubic), s.knotless}} {
		require.NoError(t, tt.curve.Fit(log, nodal))
		var got mat.Dense
		got.Mul(mat.NewDense(1, tauNodes, nodal), tt.matrix)
		for i, tau := range s.fine {
			if want := tt.curve.Predict(math.Log(tau)); !(math.Abs(got.At(0, i)-want) <= 1e-12) {
				t.Errorf("%s at %.0f s: %g, want %g", tt.name, tau, got.At(0, i), want)
			}
		}
	}
}
