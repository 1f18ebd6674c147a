package rehearsal

import (
	"math"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
)

const deg = math.Pi / 180 // radians in a degree

// An air is one day's clear sky on one sensor: other formulas than package sun's.
type air struct {
	sunlight     float64 // above the air, lx
	extinction   float64
	skyPart      float64 // of the light that the air takes out, what comes down as sky light
	tilt, facing float64 // of the sensor, degrees
	normal       direction
	cosine       float64 // exponent of its response to slanting light
	rim          float64 // how far it sees round its edge, sine of the angle or so
	path         []direction
	from         float64 // instant of path[0], s from maximum
}

// A direction is a unit vector towards east, north and up.
type direction [3]float64

func towards(alt, az float64) direction {
	sinh, cosh := math.Sincos(alt * deg)
	sinA, cosA := math.Sincos(az * deg)
	return direction{cosh * sinA, cosh * cosA, sinh}
}

// pathStep is between instants of the Sun's path, s; straight lines between them
// are 2e-6 inside the circle.
const pathStep = 60.0

func newAir(d dice, o *eclipse.Observer, c eclipse.Circumstances, from, to float64) (air, error) {
	a := air{
		sunlight: 133334, // S. Darula, R. Kittler & C. Gueymard, Solar Energy 79 (2005) 559
		// Clear to hazy, and the usual run of mounts and lenses: common practice, no source.
		extinction: d.between(0.12, 0.45), skyPart: d.between(0.35, 0.65),
		tilt: d.between(0, 20), facing: d.between(0, 360), cosine: d.between(1, 1.3),
		rim: d.between(0.03, 0.15), from: from,
	}
	a.normal = towards(90-a.tilt, a.facing)
	s, err := sun.NewObserver(o.Site(), o.Scale())
	if err != nil {
		return a, err
	}
	for x := from; x <= to+pathStep; x += pathStep {
		p := s.Position(after(c.Max.TT, x))
		a.path = append(a.path, towards(p.Alt, p.Az))
	}
	return a, nil
}

// toSun is where the Sun stands.
func (a *air) toSun(x float64) direction {
	u := math.Max(0, math.Min(float64(len(a.path))-1.001, (x-a.from)/pathStep))
	i := int(u)
	f := u - float64(i)
	p, q := &a.path[i], &a.path[i+1]
	return direction{p[0] + f*(q[0]-p[0]), p[1] + f*(q[1]-p[1]), p[2] + f*(q[2]-p[2])}
}

// duskLux is the light with the Sun on the horizon, lx: twilight tables have 300
// to 800; common practice, no source. It falls to a tenth in three degrees, and
// what is left of it in a high Sun does not matter.
const (
	duskLux  = 500.0
	duskFall = 0.8 // natural logarithm a degree
)

// light on the sensor without eclipse, lx, x seconds from maximum.
func (a *air) light(x float64) float64 {
	s := a.toSun(x)
	h := math.Asin(math.Max(-1, math.Min(1, s[2]))) / deg
	h += 0.29 / (0.6 + math.Max(h, -0.1)) // rough refraction: half a degree on the horizon
	if h <= 0 {
		return duskLux * math.Exp(duskFall*h)
	}
	sin := math.Sin(h * deg)
	mass := 1 / (sin + 0.15*math.Pow(h+3.885, -1.253)) // F. Kasten, Arch. Met. Geoph. Biokl. B 14 (1965) 206
	through := math.Exp(-a.extinction * mass)
	incidence := s[0]*a.normal[0] + s[1]*a.normal[1] + s[2]*a.normal[2]
	incidence = (incidence + math.Hypot(incidence, a.rim)) / 2 // fades out behind the sensor's plane, without a step
	const clears = 0.53                                        // degrees: until then the disc is rising
	direct := a.sunlight * through * math.Pow(incidence, a.cosine) * math.Min(1, h/clears)
	sky := a.skyPart * a.sunlight * sin * (1 - through) * (1 + a.normal[2]) / 2
	return direct + sky + duskLux
}
