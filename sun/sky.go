package sun

import "math"

// A Sky is a clear sky as a model: what falls on the ground when nothing but
// air is in the way. The zero value is the standard clear sky. It is a mean: a
// real clear sky at one instant may differ by a third either way, and by a
// factor of two at low Sun (the recommended practice that it is taken from says
// so of itself).
type Sky struct {
	// Extinction is the loss in one air mass, as a natural logarithm; zero
	// means 0.21, clear.
	Extinction float64
	// Extraterrestrial is the Sun's illuminance above the air at one
	// astronomical unit, lx; zero means 127500.
	Extraterrestrial float64
}

// Light is what falls on a sensor, lx.
type Light struct {
	Direct           float64 // on a surface that faces the Sun
	DirectHorizontal float64 // the same on the horizontal
	Sky              float64 // from the sky, on the horizontal
	Global           float64 // DirectHorizontal + Sky
}

// The standard clear sky: IES, "Recommended practice for the calculation of
// daylight availability", J. Illum. Eng. Soc. 13 (1984) 381. The two constants
// belong together.
const (
	standardExtinction = 0.21
	standardSun        = 127500.0 // lx
	skyAtHorizon       = 800.0    // lx
	skyRise            = 15500.0  // lx, times the square root of sin h
)

// twilight continues the sky's light below the horizon: true altitude of the
// Sun's centre in degrees, natural logarithm of lx on the horizontal. Between
// the rows it is straight, which is within a factor of two of measured twilights
// (common practice, no source for the interpolation).
var twilight = []struct {
	alt, lux float64
	source   string
}{
	{-18, 0.002, "moonless clear night, testdata/references/natural_illuminance.csv"},
	{-12, 0.008, "end of nautical twilight, from memory"},
	{-6, 3.4, "end of civil twilight, the same table"},
	{-0.8333, 400, "sunrise or sunset on a clear day, the same table"},
}

// Illuminance returns the clear sky's light for the Sun's centre at a true
// altitude in degrees and a distance in astronomical units. Standard refraction
// is applied for the path through the air. The light is continuous and rises
// with altitude from -18 degrees, below which it stays as it is.
func (s Sky) Illuminance(trueAlt, distance float64) Light {
	if s.Extinction == 0 {
		s.Extinction = standardExtinction
	}
	if s.Extraterrestrial == 0 {
		s.Extraterrestrial = standardSun
	}
	near := 1 / (distance * distance)
	h := trueAlt + StandardAir().Refraction(trueAlt)
	if h <= 0 {
		dim := s.dusk(trueAlt) * near
		return Light{Sky: dim, Global: dim}
	}
	sinh := math.Sin(h * deg)
	direct := s.Extraterrestrial * near * math.Exp(-s.Extinction*AirMass(h))
	l := Light{
		Direct:           direct,
		DirectHorizontal: direct * sinh,
		Sky:              (skyAtHorizon + skyRise*math.Sqrt(sinh)) * near,
	}
	l.Global = l.DirectHorizontal + l.Sky
	return l
}

// dusk reads the twilight table, joined to the sky's 800 lx where the centre
// appears on the horizon.
func (s Sky) dusk(alt float64) float64 {
	first := twilight[0]
	if !(alt > first.alt) {
		return first.lux
	}
	a := first
	for _, b := range twilight[1:] {
		if alt <= b.alt {
			return between(alt, a.alt, a.lux, b.alt, b.lux)
		}
		a = b
	}
	return between(alt, a.alt, a.lux, onHorizon, skyAtHorizon)
}

// onHorizon is the true altitude whose standard refraction lifts it to zero.
var onHorizon = func() float64 {
	lo, hi := -1.0, 0.0
	for range 60 {
		m := (lo + hi) / 2
		if m+StandardAir().Refraction(m) > 0 {
			hi = m
		} else {
			lo = m
		}
	}
	return lo
}()

// between interpolates the logarithm.
func between(x, x0, y0, x1, y1 float64) float64 {
	f := math.Max(0, math.Min(1, (x-x0)/(x1-x0)))
	return math.Exp(math.Log(y0) + f*(math.Log(y1)-math.Log(y0)))
}
