package sun

import "math"

// A term is A cos(B + C t), t in Julian millennia of TT from J2000.0.
type term struct{ a, b, c float64 }

// powers is how many powers of t a coordinate of the Earth may have.
const powers = 6

// The published tables have 195 terms but only 98 different C, each of them
// shared by up to nine terms of the three coordinates and their powers of time.
// As A cos(B + C t) = A cos B cos C t - A sin B sin C t, one Sincos serves all
// that share it: it saves a fifth of the time of a position, and the place is the
// same to 1e-12 (a test sums the tables as printed).

// A harmonic is one C and the run of shares that it has.
type harmonic struct {
	c        float64
	from, to int // into earthSeries.shares
}

// A share is what one harmonic gives to one sum: p cos - q sin.
type share struct {
	sum  int // coordinate times powers plus power of t
	p, q float64
}

type sums struct {
	harmonics []harmonic
	shares    []share
}

var earthSeries = group(earthL, earthB, earthR)

// group sorts the terms of the coordinates by their C, in order of appearance.
func group(coordinates ...[][]term) sums {
	var order []float64
	byC := map[float64][]share{}
	for i, coordinate := range coordinates {
		for power, terms := range coordinate {
			for _, k := range terms {
				if byC[k.c] == nil {
					order = append(order, k.c)
				}
				sin, cos := math.Sincos(k.b)
				byC[k.c] = append(byC[k.c], share{i*powers + power, k.a * cos, k.a * sin})
			}
		}
	}
	var s sums
	for _, c := range order {
		from := len(s.shares)
		s.shares = append(s.shares, byC[c]...)
		s.harmonics = append(s.harmonics, harmonic{c, from, len(s.shares)})
	}
	return s
}

// earth returns the Earth's heliocentric longitude and latitude, radians, and
// distance, au, referred to the mean equinox of date, at t Julian millennia
// (Reda & Andreas 2008, eqs. 9 to 12).
func earth(t float64) (l, b, r float64) {
	var s [3 * powers]float64
	for i := range earthSeries.harmonics {
		h := &earthSeries.harmonics[i]
		sin, cos := math.Sincos(h.c * t)
		for _, k := range earthSeries.shares[h.from:h.to] {
			s[k.sum] += k.p*cos - k.q*sin
		}
	}
	return horner(s[:powers], t) / 1e8, horner(s[powers:2*powers], t) / 1e8, horner(s[2*powers:], t) / 1e8
}

// horner evaluates c[0] + c[1] t + c[2] t^2 + ...
func horner(c []float64, t float64) float64 {
	v := 0.0
	for i := len(c) - 1; i >= 0; i-- {
		v = v*t + c[i]
	}
	return v
}
