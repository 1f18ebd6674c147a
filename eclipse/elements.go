package eclipse

import (
	"fmt"
	"math"
	"time"

	"example.org/noonfall/sun/timescale"
)

// A Poly is a polynomial, lowest power first, in hours from the elements' T0.
type Poly []float64

// At evaluates the polynomial; an empty one is zero.
func (p Poly) At(t float64) float64 {
	var v float64
	for i := len(p) - 1; i >= 0; i-- {
		v = v*t + p[i]
	}
	return v
}

// rate evaluates its derivative, per hour.
func (p Poly) rate(t float64) float64 {
	var v float64
	for i := len(p) - 1; i > 0; i-- {
		v = v*t + float64(i)*p[i]
	}
	return v
}

// Elements are the Besselian elements of one eclipse: polynomials in hours of TT
// from T0. The zero value is refused by Validate. They are read-only once an
// Observer has been made of them, and safe to share.
type Elements struct {
	Date string       // calendar day (TT) of greatest eclipse, YYYY-MM-DD
	T0   timescale.TT // origin of the polynomials
	Span float64      // hours either side of T0 for which they hold

	X, Y Poly // the axis in the fundamental plane, Earth equatorial radii
	D    Poly // declination of the axis, degrees
	// Mu is its Greenwich hour angle as if UT1 were TT, degrees: at a site the
	// hour angle is Mu + east longitude - 15.0410686 DeltaT/3600.
	Mu           Poly
	L1, L2       Poly // radii of penumbra and umbra in the plane, Earth equatorial radii
	TanF1, TanF2 Poly // tangents of the cones' half-angles

	K1, K2 float64 // the Moon's radius in L1 and in L2, Earth equatorial radii
	DeltaT float64 // the publisher's Delta T, s; for information, nothing computes with it
	Source string  // publication and ephemeris
	TimeU  float64 // standard uncertainty of instants owing to the positions, s
}

// An ElementsError names a field of Elements that cannot be used.
type ElementsError struct {
	Date   string // Elements.Date
	Field  string // as in "TanF1", or a key of the JSON
	Reason string // what was found and what is wanted
}

// Error names the eclipse, the field, what was found and what is wanted.
func (e *ElementsError) Error() string {
	return fmt.Sprintf("eclipse: elements of %s: %s %s", e.Date, e.Field, e.Reason)
}

// Validate returns an *ElementsError for the first field that no eclipse can have.
func (e *Elements) Validate() error {
	bad := func(field, format string, args ...any) error {
		return &ElementsError{e.Date, field, fmt.Sprintf(format, args...)}
	}
	if _, err := time.Parse(time.DateOnly, e.Date); err != nil {
		return bad("Date", "is %q, want YYYY-MM-DD", e.Date)
	}
	if t := float64(e.T0); !(math.Abs(t) < 3e11) {
		return bad("T0", "is %g s from J2000.0, want an instant within ten thousand years", t)
	}
	if !(e.Span > 0 && e.Span <= 24) {
		return bad("Span", "is %g h, want more than zero and a day at most", e.Span)
	}
	for _, p := range []struct {
		name     string
		poly     Poly
		min, max float64 // of the value at T0
	}{
		{"X", e.X, -3, 3}, {"Y", e.Y, -3, 3}, {"D", e.D, -30, 30}, {"Mu", e.Mu, -720, 720},
		{"L1", e.L1, 0.4, 0.7}, {"L2", e.L2, -0.1, 0.1},
		{"TanF1", e.TanF1, 0.003, 0.006}, {"TanF2", e.TanF2, 0.003, 0.006},
	} {
		if len(p.poly) == 0 {
			return bad(p.name, "is empty")
		}
		for _, c := range p.poly {
			if math.IsNaN(c) || math.IsInf(c, 0) {
				return bad(p.name, "holds %g", c)
			}
		}
		if v := p.poly[0]; !(v >= p.min && v <= p.max) {
			return bad(p.name, "starts with %g, want %g to %g", v, p.min, p.max)
		}
	}
	for _, k := range []struct {
		name  string
		value float64
	}{{"K1", e.K1}, {"K2", e.K2}} {
		if !(k.value > 0.26 && k.value < 0.28) {
			return bad(k.name, "is %g, want the Moon's radius in Earth radii, about 0.2725", k.value)
		}
	}
	if !(e.TimeU >= 0) || math.IsInf(e.TimeU, 1) {
		return bad("TimeU", "is %g s", e.TimeU)
	}
	return nil
}

// sunRadius is the Sun's in Earth equatorial radii: 959.63 arcsec at one
// astronomical unit (A. Auwers 1891, kept by the IAU 1976 constants) over
// 6378.137 km. The published elements of today's almanacs are made with it.
var sunRadius = math.Sin(959.63/3600*deg) * 149597870.7 / 6378.137

const deg = math.Pi / 180 // radians in a degree

// WithRadii returns elements of the same shadow for a Moon of other radii, Earth equatorial
// radii, as publications differ in them: some use one k for all contacts.
func (e *Elements) WithRadii(k1, k2 float64) *Elements {
	out := *e
	f1, f2 := e.TanF1.At(0), e.TanF2.At(0)
	sin1 := f1 / math.Hypot(1, f1)
	apart := (sunRadius + e.K1) / sin1                                // Sun from Moon
	moon := (e.L1.At(0) - e.K1*math.Hypot(1, f1)) / f1                // Moon above the plane
	grow := func(f float64) float64 { return 1 + f*f/2 + moon/apart } // d l/d k, to 1e-5 of itself
	out.L1 = e.L1.plus((k1 - e.K1) * grow(f1))
	out.L2 = e.L2.plus((e.K2 - k2) * grow(f2))
	out.TanF1 = e.TanF1.times((sunRadius + k1) / (sunRadius + e.K1))
	out.TanF2 = e.TanF2.times((sunRadius - k2) / (sunRadius - e.K2))
	out.K1, out.K2 = k1, k2
	return &out
}

func (p Poly) plus(c float64) Poly {
	out := append(Poly(nil), p...)
	out[0] += c
	return out
}

func (p Poly) times(c float64) Poly {
	out := append(Poly(nil), p...)
	for i := range out {
		out[i] *= c
	}
	return out
}
