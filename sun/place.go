package sun

import (
	"math"

	"example.org/noonfall/sun/timescale"
)

//go:generate go run ./internal/genterms -in ../testdata/references -out terms_table.go

// A term is A cos(B + C t), t in Julian millennia of TT from J2000.0.
type term struct{ a, b, c float64 }

// A nutationTerm multiplies the five arguments and gives the coefficients of
// longitude (a + b t) and obliquity (c + d t), t in Julian centuries.
type nutationTerm struct {
	args       [5]float64
	a, b, c, d float64
}

// A Place is the Sun as seen from the Earth's centre, referred to the true
// equator and equinox of date, with light time and aberration applied.
type Place struct {
	Lon, Lat float64 // apparent ecliptic longitude [0, 360) and latitude, degrees
	RA, Dec  float64 // apparent right ascension [0, 360) and declination, degrees
	Distance float64 // astronomical units

	// equinox is the equation of the equinoxes, degrees: apparent sidereal time
	// less mean.
	equinox float64
}

// Apparent returns the Sun's apparent place at an instant, by the shortened
// VSOP87 series of Reda & Andreas 2008: within one second of arc from 1901 to
// 2100 (see the package comment for what was measured).
func Apparent(t timescale.TT) Place {
	millennia := t.Centuries() / 10
	l, b, r := series(earthL, millennia), series(earthB, millennia), series(earthR, millennia)
	Δψ, Δε := nutation(t.Centuries())
	ε := (meanObliquity(millennia/10) + Δε) * deg
	sinε, cosε := math.Sincos(ε)
	λ := l/deg + 180 + Δψ - aberration/r/3600
	β := -b
	sinλ, cosλ := math.Sincos(λ * deg)
	sinβ, cosβ := math.Sincos(β)
	// Directions as vectors: no quadrant to lose, no tangent to overflow.
	x, y, z := cosβ*cosλ, cosβ*sinλ*cosε-sinβ*sinε, sinβ*cosε+cosβ*sinλ*sinε
	return Place{
		Lon: wrap(λ), Lat: β / deg,
		RA: wrap(math.Atan2(y, x) / deg), Dec: math.Atan2(z, math.Hypot(x, y)) / deg,
		Distance: r,
		equinox:  Δψ * cosε,
	}
}

// aberration of the Sun at one astronomical unit, arcsec (report cited, eq. 26).
const aberration = 20.4898

// series sums the powers of t (report cited, eqs. 9 to 12): radians or au.
func series(powers [][]term, t float64) float64 {
	var sum float64
	for i := len(powers) - 1; i >= 0; i-- {
		var s float64
		for _, k := range powers[i] {
			s += k.a * math.Cos(k.b+k.c*t)
		}
		sum = sum*t + s
	}
	return sum / 1e8
}

// nutation in longitude and obliquity, degrees, at t Julian centuries of TT
// (report cited, eqs. 15 to 23).
func nutation(t float64) (Δψ, Δε float64) {
	x := [5]float64{
		297.85036 + t*(445267.111480+t*(-0.0019142+t/189474)), // mean elongation of the Moon
		357.52772 + t*(35999.050340+t*(-0.0001603-t/300000)),  // mean anomaly of the Sun
		134.96298 + t*(477198.867398+t*(0.0086972+t/56250)),   // mean anomaly of the Moon
		93.27191 + t*(483202.017538+t*(-0.0036825+t/327270)),  // Moon's argument of latitude
		125.04452 + t*(-1934.136261+t*(0.0020708+t/450000)),   // Moon's ascending node
	}
	for i := range x {
		x[i] = math.Mod(x[i], 360) * deg
	}
	for i := range nutationTerms {
		n := &nutationTerms[i]
		arg := n.args[0]*x[0] + n.args[1]*x[1] + n.args[2]*x[2] + n.args[3]*x[3] + n.args[4]*x[4]
		sin, cos := math.Sincos(arg)
		Δψ += (n.a + n.b*t) * sin
		Δε += (n.c + n.d*t) * cos
	}
	return Δψ / 36000000, Δε / 36000000
}

// meanObliquity in degrees, u in units of ten thousand Julian years (J. Laskar,
// A&A 157 (1986) 59, as in the report cited, eq. 24).
func meanObliquity(u float64) float64 {
	arcsec := 84381.448 + u*(-4680.93+u*(-1.55+u*(1999.25+u*(-51.38+u*(-249.67+u*(-39.05+u*(7.12+u*(27.87+u*(5.79+u*2.45)))))))))
	return arcsec / 3600
}

// wrap brings degrees into [0, 360).
func wrap(d float64) float64 {
	d = math.Mod(d, 360)
	if d < 0 {
		d += 360
	}
	return d
}
