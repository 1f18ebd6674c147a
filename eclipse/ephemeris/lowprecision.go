package ephemeris

import (
	"math"

	"github.com/soniakeys/meeus/v3/coord"
	"github.com/soniakeys/meeus/v3/moonposition"
	"github.com/soniakeys/meeus/v3/nutation"
	"github.com/soniakeys/meeus/v3/solar"
	"github.com/soniakeys/unit"

	"example.org/noonfall/sun/timescale"
)

// LowPrecision is a [Source] for any date from 1000 to 3000, out of formulae
// that fit on a page: the Sun of chapter 25 and the Moon of chapter 47 of J.
// Meeus, Astronomical Algorithms (2nd ed., 1998), with the nutation of chapter
// 22 and the planets' and the Moon's pull on the Earth added to the Sun. Use it
// where there is no catalogue. Against the 452 eclipses of 1901-2100 from JPL
// DE431 its instants scatter as Origin says: see the package comment for the figures. The zero
// value is ready; it is safe for concurrent use.
type LowPrecision struct{}

// centuriesCovered bounds LowPrecision. The Moon's mean longitude goes wrong by
// 1 arcsecond a century squared, a hundred at the ends.
const centuriesCovered = 10

// Sky returns the places at an instant within ten Julian centuries of 2000, and a
// [*RangeError] outside.
func (LowPrecision) Sky(t timescale.TT) (Sky, error) {
	T := t.Centuries()
	if err := within("instant, Julian centuries from J2000.0", T, -centuriesCovered, centuriesCovered); err != nil {
		return Sky{}, err
	}
	jde := t.JulianDate()
	Δψ, Δε := nutation.Nutation(jde)
	sε, cε := (nutation.MeanObliquity(jde) + Δε).Sincos()

	λ, β, km := moonposition.Position(jde)
	moonα, moonδ := coord.EclToEq(λ+Δψ, β, sε, cε)

	pull, pullRadius := pulled(jde)
	s, _ := solar.True(T)
	au := solar.Radius(T) + pullRadius
	aberration := unit.AngleFromSec(-20.4898 / au) // (25.10) p. 167
	sunα, sunδ := coord.EclToEq(s+unit.AngleFromDeg(pull)+aberration+Δψ, 0, sε, cε)

	return Sky{
		Sun:      Place{RA: circle(sunα.Deg()), Dec: sunδ.Deg(), Distance: au * AstronomicalUnit},
		Moon:     Place{RA: circle(moonα.Deg()), Dec: moonδ.Deg(), Distance: km},
		Sidereal: timescale.ApparentSidereal(timescale.UT1(t), t),
	}, nil
}

// pulls is how Venus, Jupiter and the Moon, and a term of long period, move the
// Sun as we see it. J. Meeus, Astronomical Formulae for Calculators (1979),
// chapter 18, from memory; the recollection is borne out by the Sun's right
// ascension at the 452 eclipses of 1901-2100, whose distance from DE431 falls
// from 10.8 to 4.6 arcseconds (rms) by these rows, and its distance from 5227
// to 873 km.
var pulls = []struct {
	phase, rate float64 // of the argument: degrees, degrees a century from 1900 January 0.5
	sin, cos    float64 // longitude, 1e-5 degrees
	auSin       float64 // distance, 1e-8 au
	auCos       float64
}{
	{phase: 153.23, rate: 22518.7541, cos: 134, auSin: 543},   // Venus
	{phase: 216.57, rate: 45037.5082, cos: 154, auSin: 1575},  // Venus
	{phase: 312.69, rate: 32964.3577, cos: 200, auSin: 1627},  // Jupiter
	{phase: 350.74, rate: 445267.1142, sin: 179, auCos: 3076}, // Moon
	{phase: 231.19, rate: 20.20, sin: 178},                    // long period
	{phase: 353.40, rate: 65928.7155, auSin: 927},             // Jupiter
}

// pulled returns the sum of pulls: longitude in degrees, distance in au.
func pulled(jde float64) (lon, au float64) {
	const j1900, century = 2415020, 36525
	for _, p := range pulls {
		sin, cos := math.Sincos((p.phase + p.rate*(jde-j1900)/century) * deg)
		lon += (p.sin*sin + p.cos*cos) * 1e-5
		au += (p.auSin*sin + p.auCos*cos) * 1e-8
	}
	return lon, au
}

// Origin gives the standard uncertainty of instants: measuredU in 1901-2100,
// growing with the square of time as the Moon of ELP 2000-82 falls behind.
func (LowPrecision) Origin(t timescale.TT) Origin {
	T := t.Centuries()
	return Origin{
		Name:  "Meeus 1998, chapters 22, 25 and 47: low precision",
		TimeU: math.Hypot(measuredU, tidalU*T*T),
	}
}

const (
	// measuredU is the rms difference of contacts and maxima from those of DE431 at
	// sites all over the Earth that see a magnitude of 0.1 at least, over the 452
	// eclipses of 1901-2100, seconds, rounded up (TestLowPrecisionStudy).
	measuredU = 13.5
	// tidalU is in seconds a century squared: half the difference between the
	// Moon's tidal acceleration in ELP 2000-82, -23.8946, and in DE431, -25.82
	// arcseconds a century squared (NASA/TP-2006-214141, section 2.2, and
	// Folkner et al., IPN Progress Report 42-196, 2014; both from memory), at
	// the 0.508 arcseconds a second by which the Moon gains on the Sun.
	tidalU = 0.5 * 1.93 / 0.508
)
