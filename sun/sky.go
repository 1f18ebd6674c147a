package sun

import "math"

// A Sky is a clear sky as a model: what falls on the ground when nothing but
// air is in the way. The zero value is the standard clear sky. Safe to copy and
// to share.
//
// It is a mean of many clear days. The recommended practice that it is taken
// from says of itself that an instant may differ by a factor of two; the Sun
// above ten degrees in a sky without cloud or haze usually stays within a third
// (common practice, no source). Twilight is good to a factor of two.
type Sky struct {
	// Extinction is the loss of the direct beam in one air mass, as a natural
	// logarithm, [0, 2]. Zero means 0.21, clear; 0.15 is mountain air, 0.3 to
	// 0.4 haze (common practice, no source).
	Extinction float64
	// Extraterrestrial is the Sun's illuminance above the air at one
	// astronomical unit, lx, [0, 200000]. Zero means 127500. Published values go
	// up to 133300, but the standard extinction was fitted with 127500.
	Extraterrestrial float64
}

// Validate returns a *RangeError for the first field that is out of range, NaN included.
func (s Sky) Validate() error {
	if e := outside("Sky.Extinction", s.Extinction, 0, 2); e != nil {
		return e
	}
	if e := outside("Sky.Extraterrestrial", s.Extraterrestrial, 0, 200000); e != nil {
		return e
	}
	return nil
}

// Light is what falls on a sensor, lx. Each part is continuous in the Sun's
// altitude; Sky and Global never fall as the Sun climbs.
type Light struct {
	Direct           float64 // from the disc, on a surface that faces the Sun
	DirectHorizontal float64 // the same on the horizontal
	Sky              float64 // from the sky, on the horizontal
	Global           float64 // DirectHorizontal + Sky
}

// The standard clear sky: IES, "Recommended practice for the calculation of
// daylight availability", J. Illum. Eng. Soc. 13 (1984) 381.
const (
	standardExtinction = 0.21
	standardSun        = 127500.0 // lx
	skyAtHorizon       = 800.0    // lx
	skyRise            = 15500.0  // lx, times the square root of sin h
)

// semidiameter of the Sun at one astronomical unit, degrees: 959.63 arcsec (A.
// Auwers 1891, the almanacs' value).
const semidiameter = 959.63 / 3600

// Illuminance returns the clear sky's light for the Sun's centre at a true
// altitude, degrees (of the geometric Sun: standard refraction is added here for
// the path through the air), and at a distance, astronomical units, above zero.
//
// With the centre apparently above the horizon the light is the recommended
// practice's with the air mass of [AirMass]; below, it is twilight, joined at the
// 800 lx that the practice gives for a sky whose Sun is on the horizon. While the
// horizon cuts the disc, Direct is the visible part of it. Under -18 degrees the
// light stays as it is.
func (s Sky) Illuminance(trueAlt, distance float64) Light {
	if s.Extinction == 0 {
		s.Extinction = standardExtinction
	}
	if s.Extraterrestrial == 0 {
		s.Extraterrestrial = standardSun
	}
	near := 1 / (distance * distance)
	h := trueAlt + StandardAir().Refraction(trueAlt)
	beam := s.Extraterrestrial * near * math.Exp(-s.Extinction*AirMass(h))
	l := Light{Direct: beam * risen(h/semidiameter*distance)}
	if h > 0 {
		sinh := math.Sin(h * deg)
		l.DirectHorizontal = l.Direct * sinh
		l.Sky = (skyAtHorizon + skyRise*math.Sqrt(sinh)) * near
	} else {
		l.Sky = dusk(trueAlt) * near
	}
	l.Global = l.DirectHorizontal + l.Sky
	return l
}

// risen is the part of the disc above a straight horizon, x the centre's height
// over it in radii of the disc.
func risen(x float64) float64 {
	x = math.Max(-1, math.Min(1, x))
	return 1 - (math.Acos(x)-x*math.Sqrt(1-x*x))/math.Pi
}
