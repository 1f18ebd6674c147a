package disc

import "math"

// The midpoint rule in t on [0, pi/2], given by sin^2 t, is Gauss-Chebyshev in
// sin^2 t: geometric convergence where sin t occurs in even powers only. Of the
// short ones the first half serves, since the other is 1 - sin^2 t.
var (
	midpoints6   = midpoints(6)[:3]
	midpoints10  = midpoints(10)[:5]
	midpoints16  = midpoints(16)[:8]
	midpoints18  = midpoints(18)
	midpoints32  = midpoints(32)
	midpoints112 = midpoints(112)
)

func midpoints(n int) []float64 {
	sin2 := make([]float64, n)
	for i := range sin2 {
		s := math.Sin((float64(i) + 0.5) * math.Pi / float64(2*n))
		sin2[i] = s * s
	}
	return sin2
}

// Gauss-Legendre in t serves integrands with both parities, and in tau with
// t = pi/2 tau^2 those that start like a broken power of t.
var (
	legendre   = gauss(16, 1)
	graded     = gauss(32, 2)
	gradedLong = gauss(128, 2)
)

type node struct{ sin, sin2, weight float64 }

// gauss finds the roots of the Legendre polynomial by Newton's method from
// Chebyshev's guess (W. H. Press et al., Numerical Recipes, section 4.5) and
// lays them on t = pi/2 tau^grade, tau in [0, 1].
func gauss(n, grade int) []node {
	rule := make([]node, n)
	for i := range rule {
		x := math.Cos(math.Pi * (float64(i) + 0.75) / (float64(n) + 0.5))
		var slope float64
		for range 8 {
			below, at := 1.0, x
			for k := 2; k <= n; k++ {
				below, at = at, (float64(2*k-1)*x*at-float64(k-1)*below)/float64(k)
			}
			slope = float64(n) * (x*at - below) / (x*x - 1)
			x -= at / slope
		}
		tau, g := (1+x)/2, float64(grade)
		sin := math.Sin(math.Pi / 2 * math.Pow(tau, g))
		w := 1 / ((1 - x*x) * slope * slope) // of tau, whose interval has length 1
		rule[i] = node{sin, sin * sin, math.Pi / 2 * g * math.Pow(tau, g-1) * w}
	}
	return rule
}
