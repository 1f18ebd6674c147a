package cooling

import "math"

// A chain is the factor L D L' of the covariance of what is random in a log: the slow bend, the
// gusts, rounding and noise. From one reading to the next all that came before is a few numbers,
// each of which fades by itself:
//
//	K(i,j) = sum over parts of sees(i) fade(j+1) ... fade(i) leaves(j)      i > j
//
// The factor has that form too, with leaves of its own, and takes n steps instead of n^3
// (D. Foreman-Mackey et al., Astronomical Journal 154 (2017) 220, section 5, from memory).
type chain []link

// parts are two of the bend, whose covariance is linear in the later time, the gusts' two, and
// the rounding's.
const parts = 5

// A link is what the factor has of one reading.
type link struct {
	fade   [parts]float64 // since the reading before
	sees   [parts]float64
	leaves [parts]float64
	near   float64 // element of the reading before, beside the parts
	rest   float64 // variance that those before leave
}

// factor writes the factor for one kind of day. It is false where the covariance is none.
func (c chain) factor(s *series, g rough) bool {
	gusts := g.seen(s.lag, s.box)
	round, hold := s.rounding()
	bend := g.bend * g.bend
	var past [parts][parts]float64 // sum over the readings before of leaves rest leaves', faded
	for i := range c {
		hours := (s.t[i] - s.t[0]) / 3600
		l := link{
			sees:   [parts]float64{hours, 1, 1, 1, 1},
			leaves: [parts]float64{bend * 1.5 * hours * hours, -bend * 0.5 * hours * hours * hours, gusts.far(0), gusts.far(1), round},
			rest:   bend*walk(hours, hours) + gusts.at(0) + round + s.v[i],
		}
		if i > 0 {
			dt := s.t[i] - s.t[i-1]
			l.fade = [parts]float64{1, 1, math.Exp(-dt / gusts.memo[0]), math.Exp(-dt / gusts.memo[1]), math.Exp(-dt / hold)}
			beside := 0.0 // covariance of neighbours closer than a box, which the parts have too great
			if dt < s.box {
				beside = gusts.at(dt) - gusts.far(0)*l.fade[2] - gusts.far(1)*l.fade[3]
			}
			l.after(&c[i-1], &past, beside)
		}
		if !(l.rest > 0) {
			return false
		}
		for a := range l.leaves {
			l.leaves[a] /= l.rest
		}
		c[i] = l
	}
	return true
}

// after takes from a link what is known from those before.
func (l *link) after(last *link, past *[parts][parts]float64, beside float64) {
	var faded [parts]float64
	for a, w := range last.leaves {
		faded[a] = l.fade[a] * w
	}
	for a := range past {
		for b := range a + 1 {
			past[a][b] = l.fade[a]*l.fade[b]*past[a][b] + last.rest*faded[a]*faded[b]
			past[b][a] = past[a][b]
		}
	}
	l.near = beside / last.rest
	l.rest -= beside * l.near
	for a := range past {
		known := beside * faded[a]
		l.rest -= l.sees[a] * known
		for b, see := range l.sees {
			known += past[a][b] * see
		}
		l.rest -= l.sees[a] * known
		l.leaves[a] -= known
	}
}

// logDet is the logarithm of the determinant.
func (c chain) logDet() (sum float64) {
	for i := range c {
		sum += math.Log(c[i].rest)
	}
	return sum
}

// whiten takes from each reading what those before tell of it, and writes it by the deviation that
// they leave: products of what it writes are products through the inverse. The readings of one
// series are a column in from and a row in to.
func (c chain) whiten(to [][]float64, from [][]float64) {
	memory := make([][parts]float64, len(to))
	last := make([]float64, len(to))
	for i := range c {
		l := &c[i]
		var faded [parts]float64
		if i > 0 {
			for a, w := range c[i-1].leaves {
				faded[a] = l.fade[a] * w
			}
		}
		size := 1 / math.Sqrt(l.rest)
		for k, x := range from[i] {
			m, z := &memory[k], last[k]
			x -= l.near * z
			for a := range m {
				m[a] = l.fade[a]*m[a] + faded[a]*z
				x -= l.sees[a] * m[a]
			}
			last[k], to[k][i] = x, size*x
		}
	}
}

// through is the product of the covariance's inverse with a series.
func (c chain) through(x []float64) []float64 {
	out := make([]float64, len(c))
	from := make([][]float64, len(c))
	for i := range from {
		from[i] = x[i : i+1]
	}
	c.whiten([][]float64{out}, from)
	var memory [parts]float64 // of the readings after
	for i := len(c) - 1; i >= 0; i-- {
		y := out[i] / math.Sqrt(c[i].rest)
		if i+1 < len(c) {
			l, after := &c[i+1], out[i+1]
			y -= l.near * after
			for a := range memory {
				memory[a] = l.fade[a] * (memory[a] + l.sees[a]*after)
				y -= c[i].leaves[a] * memory[a]
			}
		}
		out[i] = y
	}
	return out
}
