package disc

import "math"

// sides returns three factors of Heron's formula for the triangle 1, p, z; the
// fourth is 1 + p + z. Each is zero at one tangency and keeps its digits there:
//
//	annular  = z + p - 1   inner contact of a small occulter; at or below 0 it lies inside
//	exterior = 1 + p - z   outer contact; at or below 0 the discs are apart
//	totality = 1 + z - p   inner contact of a large occulter; at or below 0 it covers all
//
// Differences are taken in the order that is exact near the contacts: taking 1
// from a number between 1/2 and 2^53 is (Sterbenz' lemma), adding it is not.
func sides(p, z float64) (annular, exterior, totality float64) {
	if p > hugeRadius {
		return p + z - 1, 1 + (p - z), 1 - (p - z)
	}
	return z + (p - 1), p - (z - 1), z - (p - 1)
}

// A state is how two discs lie.
type state uint8

const (
	crossing  state = iota // the edges cross
	inside                 // the occulter lies within the source
	covered                // all of it
	apart                  // nothing of it
	undefined              // NaN, negative, or both infinite
)

// lie tells how two discs lie, given their sides.
func lie(p, z, annular, exterior, totality float64) state {
	switch {
	case !(p >= 0 && z >= 0):
		return undefined
	case exterior <= 0 || p == 0:
		return apart
	case totality <= 0:
		return covered
	case annular <= 0:
		return inside
	case annular > 0 && exterior > 0 && totality > 0:
		return crossing
	}
	return undefined
}

// hugeRadius stands for any larger one: such an edge is straight to 1e-15 and
// nothing matters but how far from the centre it passes.
const hugeRadius = 1e15

// angles returns, for edges that cross, half the angle that the edge's arc on
// the source spans at the occulter's centre, half the angle that the covered
// limb spans at the source's, and twice the area of the kite of both centres
// and both crossings. Its arguments are products of sides: far*annular,
// exterior*totality, annular*exterior.
func angles(base, rise, third float64) (arc, limb, kite float64) {
	kite = math.Sqrt(base * rise)
	if kite < 1e-150 { // the product may have left the range of normal numbers
		kite = math.Sqrt(base) * math.Sqrt(rise)
	}
	arc, limb = twiceAtan(rise, third, kite)
	return arc, limb, kite
}

// twiceAtan returns 2 atan(a/x) and 2 atan(b/x) for arguments of at least 0.
// Half-angles lose nothing at any tangency, where acos would lose half the
// digits. Both go through one division and one rational approximation about
// 45 degrees (S. L. Moshier's, as in Go's math.Atan: within 2e-16 for arguments
// up to 0.66); whatever is outside its range takes the standard library's way.
func twiceAtan(a, b, x float64) (float64, float64) {
	const (
		p0 = -8.750608600031904122785e-01
		p1 = -1.615753718733365076637e+01
		p2 = -7.500855792314704667340e+01
		p3 = -1.228866684490136173410e+02
		p4 = -6.485021904942025371773e+01
		q0 = +2.485846490142306297962e+01
		q1 = +1.650270098316988542046e+02
		q2 = +4.328810604912902668951e+02
		q3 = +4.853903996359136964868e+02
		q4 = +1.945506571482613964425e+02
	)
	ax, bx := a+x, b+x
	over := 1 / (ax * bx)
	s, t := (a-x)*(bx*over), (b-x)*(ax*over)
	y, z := s*s, t*t
	if !(y <= 0.66*0.66 && z <= 0.66*0.66) {
		return 2 * math.Atan2(a, x), 2 * math.Atan2(b, x)
	}
	ny := y * ((((p0*y+p1)*y+p2)*y+p3)*y + p4)
	nz := z * ((((p0*z+p1)*z+p2)*z+p3)*z + p4)
	dy := ((((y+q0)*y+q1)*y+q2)*y+q3)*y + q4
	dz := ((((z+q0)*z+q1)*z+q2)*z+q3)*z + q4
	over = 1 / (dy * dz)
	return math.Pi/2 + 2*(s+s*(ny*dz*over)), math.Pi/2 + 2*(t+t*(nz*dy*over))
}
