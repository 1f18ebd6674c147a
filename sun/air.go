package sun

import "math"

// Air is what light is bent by on its way down. The zero value is no air.
type Air struct {
	Pressure    float64 // at the site, hPa, [0, 1200]
	Temperature float64 // at the site, degrees Celsius, [-90, 60]
}

// StandardAir is the air for which refraction formulas are stated: 1010 hPa and
// 10 degrees Celsius.
func StandardAir() Air { return Air{Pressure: 1010, Temperature: 10} }

// Validate returns a *RangeError for the first field that is out of range, NaN included.
func (a Air) Validate() error {
	if e := outside("Air.Pressure", a.Pressure, 0, 1200); e != nil {
		return e
	}
	if e := outside("Air.Temperature", a.Temperature, -90, 60); e != nil {
		return e
	}
	return nil
}

// lowest is the true altitude, degrees, down to which the formula is used; the
// Sun's upper limb is on the horizon at -0.83. Under -1.9 the formula turns back,
// and at -5.1 it is singular.
const lowest = -1.0

// Refraction returns by how many degrees the air lifts a body at a true
// altitude in degrees. The formula is G. G. Bennett's as turned by Th.
// Saemundsson, Sky and Telescope 72 (1986) 70, with the pressure and temperature
// factors of J. Meeus, Astronomical Algorithms, 2nd ed., chapter 16: good to
// 0.1 arcmin at any height above ten degrees, to about 2 arcmin on the horizon,
// where real air differs by more than that from day to day. Below -1 degree,
// where nothing is seen from the ground, it fades linearly to nothing at the
// nadir, which has no source but keeps all continuous.
//
// The domain is [-90, 90]. Refraction is continuous there, never negative, and
// the apparent altitude, trueAlt plus this, grows with the true one throughout,
// so that [Air.TrueAltitude] can undo it.
func (a Air) Refraction(trueAlt float64) float64 {
	if a.Pressure == 0 {
		return 0
	}
	h := math.Max(trueAlt, lowest)
	r := 1.02 / math.Tan((h+10.3/(h+5.11))*deg) / 60
	if h >= 89.89 {
		r = math.Max(r, 0) // the tangent's argument passes 90 degrees just short of the zenith
	}
	if trueAlt < lowest {
		r *= (90 + trueAlt) / (90 + lowest)
	}
	return r * a.Pressure / 1010 * 283 / (273 + a.Temperature)
}

// TrueAltitude takes the refraction out of an apparent altitude, degrees: it
// returns the h for which h + Refraction(h) is apparentAlt, to 1e-12 degrees. Of 0
// it returns -0.574 in the standard air, where the centre of a Sun must be that
// shows on the horizon.
func (a Air) TrueAltitude(apparentAlt float64) float64 {
	h := apparentAlt
	// A degree moves the refraction by 0.17 at most in the standard air and by 0.31
	// in the densest there is: each turn leaves a third of the error or less.
	for range 40 {
		h = apparentAlt - a.Refraction(h)
	}
	return h
}

// AirMass returns how much air the light of a body at an apparent altitude in
// degrees passes through, in units of the vertical path: F. Kasten & A. T.
// Young, Applied Optics 28 (1989) 4735, equation 3. Below the horizon it stays
// at the horizon's value, 37.92.
func AirMass(apparentAlt float64) float64 {
	h := math.Max(0, math.Min(90, apparentAlt))
	return 1 / (math.Sin(h*deg) + 0.50572*math.Pow(h+6.07995, -1.6364))
}
