package cooling

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/mat"
)

// Time constants of the air that are tried, s. Published minima come 10 to 15 min
// after maximum, which is a time constant of about as much; the prior is broad: a
// factor of 2.5 is one standard deviation.
const (
	tauLeast, tauMost = 60.0, 7200.0
	tauNodes          = 12
	tauFine           = 120
	tauUsual          = 900.0
)

var tauSpread = math.Log(2.5)

// A tauScale is time constants in equal ratios: nodes, at which the air's answers are computed, and
// fine ones, for which they are read between the nodes.
type tauScale struct {
	nodes, fine []float64  // s
	prior       []float64  // of the fine ones, natural logarithm; they sum to one
	natural     *mat.Dense // what each node gives to each fine one, by a natural cubic in the logarithm
	knotless    *mat.Dense // likewise, by one without a knot beside the ends
}

// taus is the scale, which is always the same.
var taus = sync.OnceValue(func() (s tauScale) {
	s.nodes, s.fine = ratios(tauNodes), ratios(tauFine)
	sum := 0.0
	for _, tau := range s.fine {
		z := math.Log(tau/tauUsual) / tauSpread
		s.prior = append(s.prior, -0.5*z*z)
		sum += math.Exp(-0.5 * z * z)
	}
	for i := range s.prior {
		s.prior[i] -= math.Log(sum)
	}
	s.natural, s.knotless = s.cubic(new(interp.NaturalCubic)), s.cubic(new(interp.NotAKnotCubic))
	return s
})

// ratios are time constants in equal ratios.
func ratios(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = tauLeast * math.Pow(tauMost/tauLeast, float64(i)/float64(n-1))
	}
	return out
}

// cubic is a curve through the nodes as a matrix: a row for each node, a column for each fine one.
func (s *tauScale) cubic(curve interp.FittablePredictor) *mat.Dense {
	log := make([]float64, len(s.nodes))
	for i, tau := range s.nodes {
		log[i] = math.Log(tau)
	}
	out := mat.NewDense(len(s.nodes), len(s.fine), nil)
	for k := range s.nodes {
		unit := make([]float64, len(s.nodes))
		unit[k] = 1
		if curve.Fit(log, unit) != nil {
			return out // a dozen ascending nodes always fit
		}
		for i, tau := range s.fine {
			out.Set(k, i, curve.Predict(math.Log(tau)))
		}
	}
	return out
}
