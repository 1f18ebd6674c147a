package sun

import "math"

// A nutationTerm multiplies the five arguments and gives the coefficients of
// longitude (a + b t) and obliquity (c + d t), 0.0001 arcsec, t in Julian
// centuries.
type nutationTerm struct {
	args       [5]int8
	a, b, c, d float64
}

// most is the largest multiple of an argument in the table, either sign.
const most = 3

// multiples holds sine and cosine of k times an angle at index k + most. All 63
// terms are made of few multiples of five angles, so their sines come by the
// addition theorem from five Sincos instead of 63: 1.5 us saved of 1.8, with
// rounding of 1e-15.
type multiples [2*most + 1]struct{ sin, cos float64 }

func multiplesOf(x float64) (m multiples) {
	sin, cos := math.Sincos(x)
	m[most].cos = 1
	for k := 1; k <= most; k++ {
		p := m[most+k-1]
		up := &m[most+k]
		up.sin, up.cos = p.sin*cos+p.cos*sin, p.cos*cos-p.sin*sin
		m[most-k].sin, m[most-k].cos = -up.sin, up.cos
	}
	return m
}

// nutation in longitude and obliquity, degrees, at t Julian centuries of TT: the
// IAU 1980 series as in Reda & Andreas 2008, eqs. 15 to 23.
func nutation(t float64) (Δψ, Δε float64) {
	x := [5]multiples{
		multiplesOf(deg * (297.85036 + t*(445267.111480+t*(-0.0019142+t/189474)))), // mean elongation of the Moon
		multiplesOf(deg * (357.52772 + t*(35999.050340+t*(-0.0001603-t/300000)))),  // mean anomaly of the Sun
		multiplesOf(deg * (134.96298 + t*(477198.867398+t*(0.0086972+t/56250)))),   // mean anomaly of the Moon
		multiplesOf(deg * (93.27191 + t*(483202.017538+t*(-0.0036825+t/327270)))),  // Moon's argument of latitude
		multiplesOf(deg * (125.04452 + t*(-1934.136261+t*(0.0020708+t/450000)))),   // Moon's ascending node
	}
	for i := range nutationTerms {
		n := &nutationTerms[i]
		sin, cos := 0.0, 1.0
		for j, k := range n.args {
			if k != 0 {
				m := &x[j][most+int(k)]
				sin, cos = sin*m.cos+cos*m.sin, cos*m.cos-sin*m.sin
			}
		}
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
