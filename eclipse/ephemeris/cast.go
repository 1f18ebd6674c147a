package ephemeris

import (
	"errors"
	"math"
)

// A Shadow is the Moon's shadow at one instant, in the frame of the fundamental
// plane: the plane through the Earth's centre square to the shadow's axis, x to
// the east, y to the north. These are the Besselian elements before any
// polynomial is drawn through them.
type Shadow struct {
	X, Y         float64 // where the axis meets the plane, Earth radii
	D            float64 // declination of the axis' direction, degrees
	Mu           float64 // hour angle of the same at Greenwich if UT1 were TT, degrees, [0, 360)
	L1, L2       float64 // radii of penumbra and umbra on the plane, Earth radii; L2 < 0 where the umbra reaches the plane
	TanF1, TanF2 float64 // tangents of the half-angles of the cones
}

// Bodies at these distances, km, can cast a shadow that means something: the
// Moon comes no nearer than 356 000 km and the Sun no farther than 152.2 million,
// and a source in the wrong unit is thrown out.
const (
	moonNear, moonFar = 3.0e5, 4.5e5
	sunNear, sunFar   = 1.4e8, 1.6e8
)

// Cast returns the shadow of the Moon under a sky, for lunar radii k1 (used for
// L1) and k2 (used for L2) in Earth radii.
//
// The geometry is that of the Explanatory Supplement to the Astronomical Almanac
// (1992), sections 8.321 to 8.323. It is exact: an observer stands on one of the cones
// if and only if the discs touch as seen from there.
//
// Places that are not finite or belong to no Sun or Moon give a [*RangeError]
// for each, joined.
func Cast(s Sky, k1, k2 float64) (Shadow, error) {
	if err := errors.Join(s.validate(), validRadius("k1", k1), validRadius("k2", k2)); err != nil {
		return Shadow{}, err
	}
	moon := s.Moon.vector()
	axis := s.Sun.vector().minus(moon) // from the Moon to the Sun
	gap := axis.length()
	α := math.Atan2(axis.y, axis.x)
	δ := math.Atan2(axis.z, math.Hypot(axis.x, axis.y))
	x, y, z := moon.turned(α, δ)

	sinf1 := (sunRadius + k1) / gap
	sinf2 := (sunRadius - k2) / gap
	cosf1 := math.Sqrt(1 - sinf1*sinf1)
	cosf2 := math.Sqrt(1 - sinf2*sinf2)
	return Shadow{
		X: x, Y: y,
		D:     δ / deg,
		Mu:    circle(s.Sidereal - α/deg),
		L1:    z*sinf1/cosf1 + k1/cosf1,
		L2:    z*sinf2/cosf2 - k2/cosf2,
		TanF1: sinf1 / cosf1,
		TanF2: sinf2 / cosf2,
	}, nil
}

func (s Sky) validate() error {
	return errors.Join(
		within("Sky.Sun.RA, degrees", s.Sun.RA, -360, 720),
		within("Sky.Sun.Dec, degrees", s.Sun.Dec, -90, 90),
		within("Sky.Sun.Distance, km", s.Sun.Distance, sunNear, sunFar),
		within("Sky.Moon.RA, degrees", s.Moon.RA, -360, 720),
		within("Sky.Moon.Dec, degrees", s.Moon.Dec, -90, 90),
		within("Sky.Moon.Distance, km", s.Moon.Distance, moonNear, moonFar),
		within("Sky.Sidereal, degrees", s.Sidereal, -360, 720),
	)
}

// validRadius keeps a lunar radius between what no published figure has ever
// left: 0.2725 give or take one part in thirty.
func validRadius(name string, k float64) error { return within(name+", Earth radii", k, 0.265, 0.28) }

// circle brings an angle in degrees to [0, 360).
func circle(degrees float64) float64 {
	a := math.Mod(degrees, 360)
	if a < 0 {
		a += 360
	}
	if a >= 360 { // a tiny negative angle rounds up to the full circle
		a = 0
	}
	return a
}

// A vector is in Earth radii: x to the equinox, z to the pole.
type vector struct{ x, y, z float64 }

func (v vector) minus(w vector) vector { return vector{v.x - w.x, v.y - w.y, v.z - w.z} }

func (v vector) length() float64 { return math.Hypot(math.Hypot(v.x, v.y), v.z) }

// turned returns the vector in the frame whose third axis points to right
// ascension α and declination δ, radians, and whose first lies in the equator.
func (v vector) turned(α, δ float64) (x, y, z float64) {
	sinα, cosα := math.Sincos(α)
	sinδ, cosδ := math.Sincos(δ)
	along := v.x*cosα + v.y*sinα
	return v.y*cosα - v.x*sinα, v.z*cosδ - along*sinδ, v.z*sinδ + along*cosδ
}
