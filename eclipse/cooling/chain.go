package cooling

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

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
	bend, gust, lagging := g.bend*g.bend, gusts.far(0), gusts.far(1)
	alone := gusts.at(0) + round
	var past [parts][parts]float64 // sum over the readings before of leaves rest leaves', faded
	for i := range c {
		hours := (s.t[i] - s.t[0]) / 3600
		l := link{
			sees:   [parts]float64{hours, 1, 1, 1, 1},
			leaves: [parts]float64{bend * 1.5 * hours * hours, -bend * 0.5 * hours * hours * hours, gust, lagging, round},
			rest:   bend*walk(hours, hours) + alone + s.v[i],
		}
		if i > 0 {
			dt := s.t[i] - s.t[i-1]
			l.fade = [parts]float64{1, 1, math.Exp(-dt / gusts.memo[0]), math.Exp(-dt / gusts.memo[1]), math.Exp(-dt / hold)}
			beside := 0.0 // covariance of neighbours closer than a box, which the parts have too great
			if dt < s.box {
				beside = gusts.at(dt) - gust*l.fade[2] - lagging*l.fade[3]
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

// after takes from a link what those before tell. past is what they have of each two parts, and
// beside the covariance with the last one, beside the parts.
func (l *link) after(last *link, past *[parts][parts]float64, beside float64) {
	var faded [parts]float64
	for a, w := range last.leaves {
		faded[a] = l.fade[a] * w
	}
	l.near = beside / last.rest
	l.rest -= beside * l.near
	for a := range past {
		row, fade, leaf := &past[a], l.fade[a], last.rest*faded[a]
		known := 0.0
		for b, see := range l.sees {
			row[b] = fade*l.fade[b]*row[b] + leaf*faded[b]
			known += row[b] * see
		}
		near := beside * faded[a]
		l.rest -= l.sees[a] * (known + 2*near)
		l.leaves[a] -= known + near
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
	n := len(to)
	var memory [parts][]float64
	for a := range memory {
		memory[a] = make([]float64, n)
	}
	z, last := make([]float64, n), make([]float64, n)
	for i := range c {
		l := &c[i]
		copy(z, from[i])
		floats.AddScaled(z, -l.near, last)
		for a, m := range memory {
			if i > 0 {
				floats.Scale(l.fade[a], m)
				floats.AddScaled(m, l.fade[a]*c[i-1].leaves[a], last)
			}
			floats.AddScaled(z, -l.sees[a], m)
		}
		size := 1 / math.Sqrt(l.rest)
		for k, v := range z {
			to[k][i] = size * v
		}
		z, last = last, z
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
