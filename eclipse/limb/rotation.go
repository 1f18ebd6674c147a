package limb

import (
	"math"

	"github.com/soniakeys/meeus/v3/nutation"

	"example.org/noonfall/sun/timescale"
)

// A rotation is how the Moon's globe stands in space at an instant, after J. Meeus,
// Astronomical Algorithms, 2nd ed. (1998), chapter 53, in the book's own letters;
// radians. The book's Moon, which it takes from its chapter 47, is left to the caller.
type rotation struct {
	t       timescale.TT
	Δψ      float64 // nutation in longitude
	F, Ω    float64 // the Moon's argument of latitude and mean node
	sε, cε  float64 // sine and cosine of the true obliquity of the ecliptic
	ρ, σ, τ float64 // physical libration (D. H. Eckhardt 1981)
}

// inclination of the Moon's mean equator to the ecliptic: the IAU's value, p. 372.
const inclination = 1.54242 * deg

var sI, cI = math.Sincos(inclination)

// newRotation evaluates the arguments at an instant.
func newRotation(t timescale.TT) rotation {
	T := t.Centuries()
	Δψ, Δε := nutation.Nutation(t.JulianDate())
	ε := (nutation.MeanObliquity(t.JulianDate()) + Δε).Rad()
	r := rotation{t: t, Δψ: Δψ.Rad()}
	r.sε, r.cε = math.Sincos(ε)
	// Arguments: pp. 338, 342 and 372.
	argument := func(c0, c1, c2, c3, c4 float64) float64 {
		return math.Mod(c0+T*(c1+T*(c2+T*(c3+T*c4))), 360) * deg
	}
	D := argument(297.8501921, 445267.1114034, -0.0018819, 1./545868, -1./113065000)
	M := argument(357.5291092, 35999.0502909, -0.0001535, 1./24490000, 0)
	Mʹ := argument(134.9633964, 477198.8675055, 0.0087414, 1./69699, -1./14712000)
	r.F = argument(93.2720950, 483202.0175233, -0.0036539, -1./3526000, 1./863310000)
	r.Ω = argument(125.0445479, -1934.1362891, 0.0020754, 1./467441, -1./60616000)
	r.librate(T, D, M, Mʹ)
	return r
}

// at moves the rotation by some minutes: the two angles that change much, the others
// do by less than 3e-5 degrees in ten.
func (r rotation) at(t timescale.TT) rotation {
	const century = 36525 * 86400 // s
	r.F += float64(t-r.t) / century * 483202.0175233 * deg
	r.Ω -= float64(t-r.t) / century * 1934.1362891 * deg
	r.t = t
	return r
}

// librate sums the physical libration, pp. 372 and 373.
func (r *rotation) librate(T, D, M, Mʹ float64) {
	sin, cos := math.Sin, math.Cos
	F, Ω := r.F, r.Ω
	E := 1 - T*(0.002516+T*0.0000074)
	K1, K2 := (119.75+131.849*T)*deg, (72.56+20.186*T)*deg
	r.ρ = deg * (-0.02752*cos(Mʹ) - 0.02245*sin(F) + 0.00684*cos(Mʹ-2*F) -
		0.00293*cos(2*F) - 0.00085*cos(2*F-2*D) - 0.00054*cos(Mʹ-2*D) -
		0.00020*sin(Mʹ+F) - 0.00020*cos(Mʹ+2*F) - 0.00020*cos(Mʹ-F) +
		0.00014*cos(Mʹ+2*F-2*D))
	r.σ = deg * (-0.02816*sin(Mʹ) + 0.02244*cos(F) - 0.00682*sin(Mʹ-2*F) -
		0.00279*sin(2*F) - 0.00083*sin(2*F-2*D) + 0.00069*sin(Mʹ-2*D) +
		0.00040*cos(Mʹ+F) - 0.00025*sin(2*Mʹ) - 0.00023*sin(Mʹ+2*F) +
		0.00020*cos(Mʹ-F) + 0.00019*sin(Mʹ-F) + 0.00013*sin(Mʹ+2*F-2*D) -
		0.00010*cos(Mʹ-3*F))
	r.τ = deg * (0.02520*E*sin(M) + 0.00473*sin(2*Mʹ-2*F) - 0.00467*sin(Mʹ) +
		0.00396*sin(K1) + 0.00276*sin(2*Mʹ-2*D) + 0.00196*sin(Ω) -
		0.00183*cos(Mʹ-F) + 0.00115*sin(Mʹ-2*D) - 0.00096*sin(Mʹ-D) +
		0.00046*sin(2*F-2*D) - 0.00039*sin(Mʹ-F) - 0.00032*sin(Mʹ-M-D) +
		0.00027*sin(2*Mʹ-M-2*D) + 0.00023*sin(K2) - 0.00014*sin(2*D) +
		0.00014*cos(2*Mʹ-2*F) - 0.00012*sin(Mʹ-2*F) - 0.00012*sin(2*Mʹ) +
		0.00011*sin(2*Mʹ-2*M-2*D))
}

// libration of a Moon seen at apparent longitude λ, less the nutation, and latitude β:
// (53.1) and (53.2). With the place as seen from a site it is the topocentric one.
func (r *rotation) libration(λ, β float64) (l, b float64) {
	W := λ - r.Ω
	sW, cW := math.Sincos(W)
	sβ, cβ := math.Sincos(β)
	A := math.Atan2(sW*cβ*cI-sβ*sI, cW*cβ)
	lʹ, bʹ := A-r.F, math.Asin(-sW*cβ*sI-sβ*cI)
	sA, cA := math.Sincos(A)
	lʺ := -r.τ + (r.ρ*cA+r.σ*sA)*math.Tan(bʹ)
	bʺ := r.σ*cA - r.ρ*sA
	return math.Remainder(lʹ+lʺ, 2*math.Pi), bʹ + bʺ
}

// axis is the position angle of the Moon's axis of rotation for a Moon at right
// ascension α, from north through east, p. 373.
func (r *rotation) axis(α, b float64) float64 {
	sV, cV := math.Sincos(r.Ω + r.Δψ + r.σ/sI)
	sIρ, cIρ := math.Sincos(inclination + r.ρ)
	X := sIρ * sV
	Y := sIρ*cV*r.cε - cIρ*r.sε
	ω := math.Atan2(X, Y)
	return math.Asin(math.Hypot(X, Y) * math.Cos(α-ω) / math.Cos(b))
}
