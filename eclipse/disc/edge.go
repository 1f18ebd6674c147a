package disc

import "math"

// A pair is two discs in place, with the factors of Heron's formula for the
// triangle 1, p, z. Each factor is zero at one tangency and keeps its digits
// there:
//
//	far       = 1 + p + z
//	annular   = z + p - 1   inner contact of a small occulter; at or below 0 it lies inside
//	exterior  = 1 + p - z   outer contact; at or below 0 the discs are apart
//	totality  = 1 + z - p   inner contact of a large occulter; at or below 0 it covers all
type pair struct {
	p, z                             float64
	far, annular, exterior, totality float64
	reach                            float64 // p - z, how far the edge lies beyond the source's centre
	power                            float64 // p^2 - z^2, of the source's centre in the occulter's circle
}

// hugeRadius stands for any larger one: such an edge is straight to 1e-15 and
// nothing matters but how far from the centre it passes.
const hugeRadius = 1e15

// place takes each difference in the order that is exact near the contacts:
// p-1 while p is within a factor 2 of 1, p-z above (Sterbenz' lemma).
func place(p, z float64) pair {
	h := p - z
	if p > 2 {
		if p > hugeRadius {
			p = hugeRadius
			z = p - h
		}
		return pair{p, z, 1 + p + z, p + z - 1, 1 + h, 1 - h, h, h * (p + z)}
	}
	return pair{p, z, 1 + p + z, z + (p - 1), p - (z - 1), z - (p - 1), h, h * (p + z)}
}

// angles returns half the angle that the crossing edge's arc on the source
// spans at the occulter's centre, half the angle that the covered limb spans at
// the source's, and four times the area of the triangle 1, p, z. Half-angle
// formulas with atan2 lose nothing at any tangency; acos would lose half the
// digits.
func (e *pair) angles() (atOcculter, atSource, kite float64) {
	kite = math.Sqrt(e.far * e.annular * e.exterior * e.totality)
	return 2 * math.Atan2(e.exterior*e.totality, kite), 2 * math.Atan2(e.annular*e.exterior, kite), kite
}

// Along the edge M = mu^2 and V^2 are linear in sin^2 t, t from 0 to pi/2:
//
//	crossing  M = T sin^2 t, T = 1 - (p-z)^2      V^2 = M + (z+p)^2 - 1
//	inside    M = 1 - (z+p)^2 + 4 p z sin^2 t     V^2 = M
//
// A track holds them: V^2 = base + rise sin^2 t and M = V^2 - shift. V = pole
// where the edge would pass through the source's centre, M = 1.
type track struct{ base, rise, shift, pole float64 }

func (e *pair) track() track {
	if e.annular <= 0 {
		return track{base: -e.far * e.annular, rise: 4 * e.p * e.z, pole: 1}
	}
	b := e.far * e.annular
	return track{base: b, rise: e.exterior * e.totality, shift: b, pole: e.z + e.p}
}
