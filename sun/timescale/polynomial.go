package timescale

import "math"

// A piece is one of the published polynomial expressions for Delta T.
type piece struct {
	to     float64   // holds for years below this and from the row before
	origin float64   // year of t = 0
	unit   float64   // years in one unit of t
	c      []float64 // s, by powers of t
	taper  float64   // s a year before 2150, added to the polynomial
}

// pieces are the "Polynomial expressions for Delta T" of F. Espenak & J. Meeus,
// Five Millennium Canon of Solar Eclipses, NASA/TP-2006-214141. Fractions are
// kept as printed. A test compares them with published values.
var pieces = [...]piece{
	{to: -500, origin: 1820, unit: 100, c: []float64{-20, 0, 32}},
	{to: 500, origin: 0, unit: 100, c: []float64{10583.6, -1014.41, 33.78311, -5.952053, -0.1798452, 0.022174192, 0.0090316521}},
	{to: 1600, origin: 1000, unit: 100, c: []float64{1574.2, -556.01, 71.23472, 0.319781, -0.8503463, -0.005050998, 0.0083572073}},
	{to: 1700, origin: 1600, unit: 1, c: []float64{120, -0.9808, -0.01532, 1. / 7129}},
	{to: 1800, origin: 1700, unit: 1, c: []float64{8.83, 0.1603, -0.0059285, 0.00013336, -1. / 1174000}},
	{to: 1860, origin: 1800, unit: 1, c: []float64{13.72, -0.332447, 0.0068612, 0.0041116, -0.00037436, 0.0000121272, -0.0000001699, 0.000000000875}},
	{to: 1900, origin: 1860, unit: 1, c: []float64{7.62, 0.5737, -0.251754, 0.01680668, -0.0004473624, 1. / 233174}},
	{to: 1920, origin: 1900, unit: 1, c: []float64{-2.79, 1.494119, -0.0598939, 0.0061966, -0.000197}},
	{to: 1941, origin: 1920, unit: 1, c: []float64{21.20, 0.84493, -0.076100, 0.0020936}},
	{to: 1961, origin: 1950, unit: 1, c: []float64{29.07, 0.407, -1. / 233, 1. / 2547}},
	{to: 1986, origin: 1975, unit: 1, c: []float64{45.45, 1.067, -1. / 260, -1. / 718}},
	{to: 2005, origin: 2000, unit: 1, c: []float64{63.86, 0.3345, -0.060374, 0.0017275, 0.000651814, 0.00002373599}},
	{to: 2050, origin: 2000, unit: 1, c: []float64{62.92, 0.32217, 0.005589}},
	{to: 2150, origin: 1820, unit: 100, c: []float64{-20, 0, 32}, taper: -0.5628},
	{to: 1e9, origin: 1820, unit: 100, c: []float64{-20, 0, 32}},
}

// polynomial is the published expression at a year, s. Its pieces meet with
// steps of up to 0.26 s, in 1600, and under 0.1 s since 1800 (a test measures them).
func polynomial(y float64) float64 {
	for _, p := range pieces {
		if y < p.to {
			return horner(p.c, (y-p.origin)/p.unit) + p.taper*(2150-y)
		}
	}
	p := pieces[len(pieces)-1]
	return horner(p.c, (y-p.origin)/p.unit)
}

// publishedDeltaT is the expression with what its authors knew then: observation to
// 2005, and from there the length of day's random walk.
func publishedDeltaT(t TT) DeltaT {
	// fitU is the rms distance of the expressions from the observed table, 1900 to
	// 2005, s, rounded up; the largest is 0.29 (a test measures both).
	const fitU, writtenIn = 0.1, 2005
	y := t.year()
	d := DeltaT{Seconds: polynomial(y), Source: "Espenak & Meeus 2006"}
	switch {
	case y < 1900:
		d.SecondsU = historicU(y)
	case y < writtenIn:
		d.SecondsU = fitU
	default:
		d.SecondsU = math.Hypot(fitU, huber(y-writtenIn))
	}
	return d
}

// horner evaluates c[0] + c[1] x + c[2] x^2 + ...
func horner(c []float64, x float64) float64 {
	v := 0.0
	for i := len(c) - 1; i >= 0; i-- {
		v = v*x + c[i]
	}
	return v
}
