package disc

import "math"

// ladder integrates f(M, V) dt/V along a track whose V comes near zero, as it
// does on either side of the inner contact of an annular eclipse, where a fixed
// rule in t stalls. Gauss' transformation
//
//	cos t = (1 + k1) cos t1 / (1 + k1 cos^2 t1),  k1 = (1 - k')/(1 + k')
//
// turns dt/V into the same form with k' = 2 sqrt(k')/(1 + k') in place of
// k' = V(0)/V(pi/2), so that every rung doubles the digits of the small number
// and two to five make the integrand smooth (NIST Handbook of Mathematical
// Functions, 2010, section 19.8(ii)).
type ladder struct {
	start  float64 // k' at the foot
	rungs  int
	k      [maxRungs]float64 // k1 of each rung, first the one next to t
	k2, c2 [maxRungs]float64 // k1^2 and its complement 1 - k1^2
	last2  float64           // complement of k^2 on the top rung
	factor float64           // of dt/V, all rungs together
}

const (
	maxRungs = 7
	smooth   = 0.9  // no more rungs are needed from this k' on
	tangent  = 1e-8 // nearer than this nothing moves in the sixteenth digit
)

func climb(tr *track) ladder {
	end := math.Sqrt(tr.base + tr.rise)
	q := math.Max(math.Sqrt(math.Max(tr.base, 0))/end, tangent)
	l := ladder{start: q, factor: 1 / end}
	for q < smooth && l.rungs < maxRungs {
		k := (1 - q) / (1 + q)
		q = 2 * math.Sqrt(q) / (1 + q)
		l.k[l.rungs], l.k2[l.rungs], l.c2[l.rungs] = k, k*k, q*q
		l.factor *= 1 + k
		l.rungs++
	}
	l.last2 = q * q
	return l
}

// at takes sin^2 of a node on the top rung to sin^2 t, and gives what dt/V
// amounts to there beside the rule's own weight.
func (l *ladder) at(sin2 float64) (sin2t, weight float64) {
	weight = l.factor / math.Sqrt(l.last2+(1-l.last2)*sin2)
	for i := l.rungs - 1; i >= 0; i-- {
		den := 1 + l.k[i]*(1-sin2)
		sin2 *= (l.c2[i] + l.k2[i]*sin2) / (den * den)
	}
	return sin2, weight
}

// rule is how many nodes it takes: a spacing of a third of the elliptic
// integral's argument, of which there is log(4/k') to cover.
func (l *ladder) rule() []float64 {
	switch {
	case l.start >= 0.3:
		return longer[0]
	case l.start >= 0.02:
		return longer[1]
	case l.start >= 1e-4:
		return longer[2]
	}
	return longer[3]
}
