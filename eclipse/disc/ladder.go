package disc

import "math"

// A ladder integrates f dt/V along a track whose V comes near zero, as it does
// on either side of the inner contact of an annular eclipse, where a fixed rule
// in t stalls. Gauss' transformation
//
//	cos t = (1 + k) cos t1 / (1 + k cos^2 t1),  k = (1 - k')/(1 + k')
//
// turns dt/V into the same form with 2 sqrt(k')/(1 + k') in place of
// k' = V(0)/V(pi/2), so that every rung halves the number of zeros behind the
// point (NIST Handbook of Mathematical Functions, 2010, section 19.8(ii)). On
// the top rung V is as good as constant: t is there the argument of the elliptic
// integral, in which f is smooth on a scale of order one.
type ladder struct {
	start  float64 // k' at the foot
	rungs  int
	k      [maxRungs]float64 // of each rung, first the one next to t
	k2, c2 [maxRungs]float64 // k^2 and 1 - k^2
	last   float64           // k'^2 on the top rung
	factor float64           // of dt/V, all rungs together
}

const (
	maxRungs = 6 // five serve from tangent to level
	// level is the k' from which no more rungs are needed.
	level = 0.9
	// tangent is the least base/rise that counts. Callers raise base to it, in V as
	// in the ladder: a mere 1e-16 of the light.
	tangent = 1e-16
)

// climb builds the ladder for V^2 = base + rise sin^2 t.
func climb(base, rise float64) ladder {
	end := math.Sqrt(base + rise)
	q := math.Sqrt(base) / end
	l := ladder{start: q, factor: 1 / end}
	for ; q < level && l.rungs < maxRungs; l.rungs++ {
		k := (1 - q) / (1 + q)
		q = 2 * math.Sqrt(q) / (1 + q)
		l.k[l.rungs], l.k2[l.rungs], l.c2[l.rungs] = k, k*k, q*q
		l.factor *= 1 + k
	}
	l.last = q * q
	return l
}

// at takes sin^2 of a node on the top rung down to sin^2 t, and gives what dt/V
// amounts to there beside the rule's own weight.
func (l *ladder) at(sin2 float64) (sin2t, weight float64) {
	weight = l.factor / math.Sqrt(l.last+(1-l.last)*sin2)
	for i := l.rungs - 1; i >= 0; i-- {
		over := 1 + l.k[i]*(1-sin2)
		sin2 *= (l.c2[i] + l.k2[i]*sin2) / (over * over)
	}
	return sin2, weight
}

// rule is the midpoint rule with nodes less than a quarter apart in the elliptic
// argument, of which there is log(4/k') to cover.
func (l *ladder) rule() []float64 {
	switch {
	case l.start >= 0.1:
		return midpoints18
	case l.start >= 3e-3:
		return midpoints32
	}
	return midpoints112
}
