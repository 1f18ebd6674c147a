package limb

import (
	"math"
	"testing"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun/timescale"
)

// The libration by another theory: the Moon's pole and prime meridian in space (B. A.
// Archinal and others, Report of the IAU working group on cartographic coordinates and
// rotational elements 2009, table 2; from memory), carried to the equator of date (J.
// Meeus, Astronomical Algorithms, 2nd ed., chapter 21). Nutation is left out: 0.005 degrees.
func TestLibrationAgainstRotationElements(t *testing.T) {
	var worst Libration
	n := 0
	for _, kind := range kinds {
		for _, o := range centrals(t, kind, 60) {
			for _, hours := range []timescale.TT{-1.5, 0, 1.5} {
				at := o.Circumstances().Max.TT + hours*3600
				_, moon := o.Places(at)
				got, want := moonOf(t, o).Libration(at), byElements(at, moon)
				want.Lat += 78.6 / 3600 * math.Cos(want.Lon*deg)
				n++
				for _, v := range []struct {
					got, want float64
					worst     *float64
				}{{got.Lon, want.Lon, &worst.Lon}, {got.Lat, want.Lat, &worst.Lat}, {got.Axis, want.Axis, &worst.Axis}} {
					*v.worst = math.Max(*v.worst, math.Abs(v.got-v.want))
					if !(math.Abs(v.got-v.want) <= 0.015) {
						t.Errorf("%s %+v: %+v, by the rotation elements %+v", o.Elements().Date, o.Site(), got, want)
					}
				}
			}
		}
	}
	t.Logf("%d instants, worst %+v", n, worst)
}

type vector [3]float64

func (a vector) dot(b vector) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func (a vector) cross(b vector) vector {
	return vector{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// between is the vector turned from one towards another, at right angles to it.
func between(a, b vector, angle float64) (out vector) {
	sin, cos := math.Sincos(angle * deg)
	for i := range out {
		out[i] = cos*a[i] + sin*b[i]
	}
	return out
}

// towards is a direction of the sky; degrees.
func towards(ra, dec float64) vector {
	sinα, cosα := math.Sincos(ra * deg)
	sinδ, cosδ := math.Sincos(dec * deg)
	return vector{cosδ * cosα, cosδ * sinα, sinδ}
}

func byElements(at timescale.TT, moon eclipse.Place) Libration {
	d := float64(at) / 86400
	T := d / 36525
	E := func(c0, c1 float64) (sin, cos float64) { return math.Sincos((c0 + c1*d) * deg) }
	α, δ, W := 269.9949+0.0031*T, 66.5392+0.0130*T, 38.3213+13.17635815*d-1.4e-12*d*d
	for _, e := range [][5]float64{
		{125.045, -0.0529921, -3.8787, 1.5419, 3.5610}, {250.089, -0.1059842, -0.1204, 0.0239, 0.1208},
		{260.008, 13.0120009, 0.0700, -0.0278, -0.0642}, {176.625, 13.3407154, -0.0172, 0.0068, 0.0158},
		{357.529, 0.9856003, 0, 0, 0.0252}, {311.589, 26.4057084, 0.0072, -0.0029, -0.0066},
		{134.963, 13.0649930, 0, 0.0009, -0.0047}, {276.617, 0.3287146, 0, 0, -0.0046},
		{34.226, 1.7484877, 0, 0, 0.0028}, {15.134, -0.1589763, -0.0052, 0.0008, 0.0052},
		{119.743, 0.0036096, 0, 0, 0.0040}, {239.961, 0.1643573, 0, 0, 0.0019},
		{25.053, 12.9590088, 0.0043, -0.0009, -0.0044},
	} {
		sin, cos := E(e[0], e[1])
		α, δ, W = α+e[2]*sin, δ+e[3]*cos, W+e[4]*sin
	}
	pole, node := towards(α, δ), towards(α+90, 0)
	prime := between(node, pole.cross(node), W)
	pole, prime = ofDate(T, pole), ofDate(T, prime)

	sight := towards(moon.RA, moon.Dec)
	here := vector{-sight[0], -sight[1], -sight[2]}
	east, north := towards(moon.RA+90, 0), towards(moon.RA, moon.Dec+90)
	return Libration{
		Lon:  math.Atan2(here.dot(pole.cross(prime)), here.dot(prime)) / deg,
		Lat:  math.Asin(here.dot(pole)) / deg,
		Axis: math.Atan2(pole.dot(east), pole.dot(north)) / deg,
	}
}

// ofDate precesses from the equator of 2000.
func ofDate(T float64, v vector) vector {
	ζ := T * (2306.2181 + T*(0.30188+T*0.017998)) / 3600
	z := T * (2306.2181 + T*(1.09468+T*0.018203)) / 3600
	θ := T * (2004.3109 - T*(0.42665+T*0.041833)) / 3600
	turn := func(a, b *float64, by float64) {
		sin, cos := math.Sincos(by * deg)
		*a, *b = cos**a-sin**b, sin**a+cos**b
	}
	turn(&v[0], &v[1], ζ)
	turn(&v[0], &v[2], θ) // x to -z for the pole's way
	turn(&v[0], &v[1], z)
	return v
}
