package timescale

import (
	"math"

	"github.com/soniakeys/meeus/v3/nutation"
)

// MeanSidereal returns Greenwich mean sidereal time, degrees in [0, 360): the
// Earth rotation angle of a UT1 reading plus the precession of the equinox by
// the TT instant (N. Capitaine, P. T. Wallace & J. Chapront, A&A 412 (2003) 567
// and 432 (2005) 355, adopted as IAU 2006).
func MeanSidereal(u UT1, t TT) float64 {
	days := float64(u) / secondsPerDay
	turn := math.Mod(days, 1) + 0.7790572732640 + 0.00273781191135448*days // IAU 2000 Resolution B1.8
	c := t.Centuries()
	precession := 0.014506 + c*(4612.156534+c*(1.3915817+c*(-0.00000044+c*(-0.000029956-c*0.0000000368)))) // arcsec
	return wrap(360*math.Mod(turn, 1) + precession/3600)
}

// ApparentSidereal returns Greenwich apparent sidereal time, degrees in [0,
// 360): the mean time plus the equation of the equinoxes, the nutation in
// longitude times the cosine of the obliquity (IAU 1980 nutation by J. Meeus,
// Astronomical Algorithms, 2nd ed., chapter 22; within 2e-5 degrees of IAU
// 2006/2000A from 1901 to 2100).
func ApparentSidereal(u UT1, t TT) float64 {
	jde := t.JulianDate()
	Δψ, Δε := nutation.Nutation(jde)
	ε := nutation.MeanObliquity(jde) + Δε
	return wrap(MeanSidereal(u, t) + Δψ.Deg()*ε.Cos())
}

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
