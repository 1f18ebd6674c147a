package sun

import (
	"math"

	"example.org/noonfall/sun/timescale"
)

//go:generate go run ./internal/genterms -in ../testdata/references -out terms_table.go

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
	l, b, r := earth(millennia)
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

// wrap brings degrees into [0, 360). A negative remainder too small to show
// beside 360 counts as none.
func wrap(d float64) float64 {
	d = math.Mod(d, 360)
	if d < 0 {
		d += 360
	}
	if d >= 360 {
		return 0
	}
	return d
}
