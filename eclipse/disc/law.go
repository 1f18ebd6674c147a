package disc

import (
	"encoding/json"
	"fmt"
	"math"
)

// A Law is the brightness of the Sun's disc from its centre to its limb. The
// zero value is the uniform disc. Laws are small, comparable with ==, and safe
// to copy and to share.
type Law struct {
	kind  kind
	a     [6]float64 // coefficients of mu^0..mu^5; the exponent alone in a[0] for a power law
	scale float64    // light of the whole disc over 2 pi, in units of the centre; 0 stands for 1/2
}

type kind uint8

const (
	uniform kind = iota
	polynomial
	power
)

// kinds is the one table of what kinds there are.
var kinds = [...]struct {
	name   string
	params int
}{
	uniform:    {"uniform", 0},
	polynomial: {"polynomial", 6},
	power:      {"power", 1},
}

// A LawError says why coefficients describe no disc.
type LawError struct {
	Law          string
	Coefficients []float64
	Reason       string
}

func (e *LawError) Error() string {
	return fmt.Sprintf("disc: %s law %v: %s", e.Law, e.Coefficients, e.Reason)
}

// Uniform is the disc without limb darkening.
func Uniform() Law { return Law{} }

// Linear is I = 1 - u (1 - mu), with u in [0, 1].
func Linear(u float64) (Law, error) { return Polynomial([6]float64{1 - u, u}) }

// Quadratic is I = 1 - u1 (1 - mu) - u2 (1 - mu)^2.
func Quadratic(u1, u2 float64) (Law, error) {
	return Polynomial([6]float64{1 - u1 - u2, u1 + 2*u2, -u2})
}

// Power is I = mu^alpha, with alpha in [0, 5] (Hestroffer & Magnan, A&A 333
// (1998) 338, with u = 1 as for the Sun).
func Power(alpha float64) (Law, error) {
	if !(alpha >= 0 && alpha <= 5) {
		return Law{}, &LawError{"power", []float64{alpha}, "the exponent must lie in [0, 5]"}
	}
	return Law{kind: power, a: [6]float64{alpha}, scale: 1 / (alpha + 2)}, nil
}

// Polynomial is I = a0 + a1 mu + ... + a5 mu^5, normalised to 1 at the centre.
// The coefficients must be finite, add up to something above zero, and leave no
// part of the disc dark below zero by more than a hundredth: the published fits
// may dip there at the extreme limb.
func Polynomial(a [6]float64) (Law, error) {
	l := Law{kind: polynomial, a: a}
	var sum float64
	for _, c := range a {
		sum += c
	}
	if !(sum > 0) || math.IsInf(sum, 0) {
		return Law{}, &LawError{"polynomial", a[:], "the coefficients must be finite and add up to the centre's brightness, above zero"}
	}
	for i := range l.a {
		l.a[i] /= sum
		l.scale += l.a[i] / float64(i+2)
	}
	for mu := 0.0; mu <= 1; mu += 1.0 / 64 {
		if !(l.Intensity(mu) >= -0.01) {
			return Law{}, &LawError{"polynomial", a[:], fmt.Sprintf("the brightness is %.3g at mu = %.2f", l.Intensity(mu), mu)}
		}
	}
	return l, nil
}

// Intensity is the brightness at mu, in [0, 1], relative to the disc's centre.
func (l Law) Intensity(mu float64) float64 {
	switch l.kind {
	case polynomial:
		a := &l.a
		return a[0] + mu*(a[1]+mu*(a[2]+mu*(a[3]+mu*(a[4]+mu*a[5]))))
	case power:
		return math.Pow(mu, l.a[0])
	}
	return 1
}

// Mean is the mean brightness of the disc relative to its centre.
func (l Law) Mean() float64 {
	if l.kind == uniform {
		return 1
	}
	return 2 * l.scale
}

// whole is the light of the whole disc over 2 pi, in units of the centre.
func (l *Law) whole() float64 {
	if l.kind == uniform {
		return 0.5
	}
	return l.scale
}

// ring is H(mu), the integral of I(m) m dm from 0 to mu.
func (l *Law) ring(mu float64) float64 {
	switch l.kind {
	case polynomial:
		a := &l.a
		return mu * mu * (a[0]/2 + mu*(a[1]/3+mu*(a[2]/4+mu*(a[3]/5+mu*(a[4]/6+mu*(a[5]/7))))))
	case power:
		return math.Pow(mu, l.a[0]+2) / (l.a[0] + 2)
	}
	return mu * mu / 2
}

// drop is K(mu) = (H(1) - H(mu))/(1 - mu^2), free of the cancellation at mu = 1.
func (l *Law) drop(mu float64) float64 {
	m2 := mu * mu
	switch l.kind {
	case polynomial:
		a := &l.a
		odd := a[1]/3 + a[3]/5*(1+mu+m2) + a[5]/7*(1+mu+m2*(1+mu+m2))
		return l.scale + m2*(a[2]/4+a[4]/6*(1+m2)+odd/(1+mu))
	case power:
		r2 := (1 - mu) * (1 + mu)
		if r2 < 1e-12 {
			return 0.5 // the limit, wrong by less than r2
		}
		return -math.Expm1((l.a[0]/2+1)*math.Log1p(-r2)) / (r2 * (l.a[0] + 2))
	}
	return 0.5
}

// String names the law and its coefficients.
func (l Law) String() string {
	n := kinds[l.kind].params
	if n == 0 {
		return kinds[l.kind].name
	}
	return fmt.Sprintf("%s%v", kinds[l.kind].name, l.a[:n])
}

// lawJSON is how a law is written beside a result.
type lawJSON struct {
	Law          string    `json:"law"`
	Coefficients []float64 `json:"coefficients,omitempty"`
}

// MarshalJSON writes the law's name and coefficients.
func (l Law) MarshalJSON() ([]byte, error) {
	return json.Marshal(lawJSON{kinds[l.kind].name, l.a[:kinds[l.kind].params]})
}

// UnmarshalJSON reads what MarshalJSON wrote, and validates it.
func (l *Law) UnmarshalJSON(data []byte) error {
	var in lawJSON
	if err := json.Unmarshal(data, &in); err != nil {
		return err
	}
	for k, row := range kinds {
		if row.name != in.Law {
			continue
		}
		if len(in.Coefficients) != row.params {
			return &LawError{in.Law, in.Coefficients, fmt.Sprintf("%d coefficients are wanted", row.params)}
		}
		var err error
		switch kind(k) {
		case polynomial:
			*l, err = Polynomial([6]float64(in.Coefficients))
		case power:
			*l, err = Power(in.Coefficients[0])
		default:
			*l = Law{}
		}
		return err
	}
	return &LawError{in.Law, in.Coefficients, "no such law: uniform, polynomial and power are"}
}
