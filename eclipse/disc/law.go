package disc

import (
	"fmt"
	"math"
)

// A Law is the brightness of the Sun's disc from its centre to its limb, as a
// function of mu = sqrt(1 - r^2), r the distance from the centre in solar radii.
// The zero value is the uniform disc. Laws hold no pointers: they are compared
// with ==, copied and shared freely. String and JSON write them beside a result.
type Law struct {
	kind  kind
	a     [6]float64 // coefficients of mu^0..mu^5; the exponent alone in a[0] for a power law
	scale float64    // light of the whole disc over 2 pi, in units of the centre; unset when uniform
}

// Uniform is the disc without limb darkening, the zero Law.
func Uniform() Law { return Law{} }

// Linear is I = 1 - u (1 - mu). The limb's brightness is 1 - u, so that u is at
// most 1; a negative u brightens the limb. Otherwise the error is a *LawError.
func Linear(u float64) (Law, error) {
	return checked("linear", []float64{u}, [6]float64{1 - u, u})
}

// Quadratic is I = 1 - u1 (1 - mu) - u2 (1 - mu)^2, which must not fall below
// zero on the disc. Otherwise the error is a *LawError.
func Quadratic(u1, u2 float64) (Law, error) {
	return checked("quadratic", []float64{u1, u2}, [6]float64{1 - u1 - u2, u1 + 2*u2, -u2})
}

// Polynomial is I = a[0] + a[1] mu + ... + a[5] mu^5, divided by its value at the
// centre, the sum of all. The coefficients must be finite, the centre brighter
// than zero, and no part of the disc darker than zero. Otherwise the error is a
// *LawError.
func Polynomial(a [6]float64) (Law, error) { return checked("polynomial", a[:], a) }

// Power is I = mu^alpha, with alpha in [0, 5] (D. Hestroffer & C. Magnan, A&A
// 333 (1998) 338, with their u = 1, as for the Sun). Otherwise the error is a
// *LawError.
func Power(alpha float64) (Law, error) {
	if !(alpha >= 0 && alpha <= 5) {
		return Law{}, &LawError{"power", []float64{alpha}, "the exponent must lie in [0, 5]"}
	}
	return Law{kind: power, a: [6]float64{alpha}, scale: 1 / (alpha + 2)}, nil
}

// A LawError says why coefficients describe no disc.
type LawError struct {
	Law          string    // as MarshalJSON names it, or linear or quadratic
	Coefficients []float64 // as they were given
	Reason       string    // what is wrong with them, in words
}

// Error names the law, its coefficients and what is wrong with them.
func (e *LawError) Error() string {
	return fmt.Sprintf("disc: %s law with coefficients %v: %s", e.Law, e.Coefficients, e.Reason)
}

// checked makes the polynomial law a, given to the caller's constructor as coefficients.
func checked(name string, coefficients []float64, a [6]float64) (Law, error) {
	refuse := func(reason string) (Law, error) {
		return Law{}, &LawError{name, append([]float64(nil), coefficients...), reason}
	}
	var centre float64
	for _, c := range a {
		if !(math.Abs(c) <= largest) {
			return refuse(fmt.Sprintf("they must be finite and at most %g", largest))
		}
		centre += c
	}
	if !(centre > 0) {
		return refuse(fmt.Sprintf("the brightness of the centre is %.3g, it must be above zero", centre))
	}
	l := normalised(a)
	if mu, dark := darkest(l.a); dark < 0 {
		return refuse(fmt.Sprintf("the brightness is %.3g of the centre's at mu = %.3f, it must not be below zero", dark, mu))
	}
	return l, nil
}

// largest bounds the coefficients so that no sum of them overflows.
const largest = 1e100

// normalised divides by the centre's brightness, unless that is 1 but for
// rounding: a law read back from JSON is then the same bit for bit.
func normalised(a [6]float64) Law {
	l := Law{kind: polynomial, a: a}
	var centre float64
	for _, c := range a {
		centre += c
	}
	for i := range l.a {
		if !(math.Abs(centre-1) <= 1e-14) {
			l.a[i] /= centre
		}
		l.scale += l.a[i] / float64(i+2)
	}
	return l
}

// darkest returns a point where the polynomial is below zero on [0, 1], or its
// value at the limb. A polynomial lies between the least and the greatest of its
// Bernstein coefficients, so halving the interval settles the sign everywhere; a
// dip of less than 1e-12 counts as zero.
func darkest(a [6]float64) (mu, brightness float64) {
	const n = 5
	var b [n + 1]float64 // b[j] = sum over i <= j of a[i] C(j,i)/C(n,i)
	for j := range b {
		ratio := 1.0
		for i := 0; i <= j; i++ {
			b[j] += a[i] * ratio
			ratio *= float64(j-i) / float64(n-i)
		}
	}
	return below(b, 0, 1, 0)
}

// below searches [lo, hi], on which b are the Bernstein coefficients.
func below(b [6]float64, lo, hi float64, depth int) (mu, brightness float64) {
	const dip = -1e-12
	least := b[0]
	for _, c := range b {
		least = math.Min(least, c)
	}
	switch {
	case b[0] < dip:
		return lo, b[0]
	case least >= dip || depth == 40:
		return lo, math.Max(0, b[0])
	}
	var left [6]float64 // de Casteljau at the middle; b becomes the right half
	for i := range left {
		left[i] = b[0]
		for j := 0; j+i+1 < len(b); j++ {
			b[j] = (b[j] + b[j+1]) / 2
		}
	}
	mid := (lo + hi) / 2
	if m, dark := below(left, lo, mid, depth+1); dark < 0 {
		return m, dark
	}
	return below(b, mid, hi, depth+1)
}

// Intensity is the brightness at mu relative to the disc's centre. Outside
// [0, 1] it is NaN.
func (l Law) Intensity(mu float64) float64 {
	switch {
	case !(mu >= 0 && mu <= 1):
		return math.NaN()
	case l.kind == polynomial:
		a := &l.a
		return a[0] + mu*(a[1]+mu*(a[2]+mu*(a[3]+mu*(a[4]+mu*a[5]))))
	case l.kind == power:
		return math.Pow(mu, l.a[0])
	}
	return 1
}

// Mean is the mean brightness of the disc relative to its centre.
func (l Law) Mean() float64 { return 2 * l.whole() }
