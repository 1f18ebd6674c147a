package sun

import "math"

// A level is the light of a clear sky, on the horizontal, with the Sun's centre
// at a true altitude.
type level struct {
	alt    float64 // degrees
	lux    float64
	source string
}

// twilight continues the sky's light below the horizon, lowest Sun first.
var twilight = []level{
	{-18, 0.002, "moonless clear night with airglow, testdata/references/natural_illuminance.csv"},
	{-12, 0.008, "end of nautical twilight, from memory"},
	{-6, 3.4, "end of civil twilight under a clear sky, testdata/references/natural_illuminance.csv"},
	{-0.8333, 400, "sunrise or sunset on a clear day, testdata/references/natural_illuminance.csv"},
	{altOnHorizon, skyAtHorizon, "IES 1984, sky with the Sun's centre apparently on the horizon"},
}

// altOnHorizon is the true altitude, degrees, that standard refraction lifts to
// zero: the root of h + 1.02 cot(h + 10.3/(h + 5.11))/60. A test checks it.
const altOnHorizon = -0.5738754906

// dusk is the twilight's light at a true altitude, lx: the logarithm runs through
// the levels in cubics that never turn (F. N. Fritsch & J. Butland, SIAM J. Sci.
// Stat. Comput. 5 (1984) 300: harmonic means for slopes), level with the night
// at the lower end. That join is ours; between the levels it is good to a factor
// of two (common practice, no source).
func dusk(alt float64) float64 {
	if !(alt > twilight[0].alt) {
		return twilight[0].lux
	}
	i := 0
	for i < len(twilight)-2 && alt > twilight[i+1].alt {
		i++
	}
	a, b := twilight[i], twilight[i+1]
	h := b.alt - a.alt
	s := math.Min(1, (alt-a.alt)/h)
	r := 1 - s
	logLux := r*r*(1+2*s)*math.Log(a.lux) + s*s*(1+2*r)*math.Log(b.lux) + s*r*h*(r*slopeAt(i)-s*slopeAt(i+1))
	return math.Exp(logLux)
}

// slopeAt is the slope of ln lx at a level, a degree.
func slopeAt(i int) float64 {
	switch i {
	case 0:
		return 0
	case len(twilight) - 1:
		return steepness(i - 1)
	}
	before, after := steepness(i-1), steepness(i)
	return 2 * before * after / (before + after)
}

// steepness is the mean slope of ln lx from one level to the next, a degree.
func steepness(i int) float64 {
	a, b := twilight[i], twilight[i+1]
	return math.Log(b.lux/a.lux) / (b.alt - a.alt)
}
