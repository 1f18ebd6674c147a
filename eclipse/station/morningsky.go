package station

import (
	"math"
	"time"

	"example.org/noonfall/sun"
)

// A sight is where the Sun stands for a sensor at an instant.
type sight struct {
	at    time.Time
	hours float64 // from the morning's middle
	sun   sun.Horizontal
	alt   float64 // apparent, degrees
	mass  float64
	// lnHeight is the logarithm of the altitude's sine over that of 30 degrees.
	lnHeight float64
	face     sun.Surface
	// cosine of the incidence, and what a lean of one degree east or north adds to it.
	cosine, east, north float64
}

const deg = math.Pi / 180 // radians in a degree

func (o MorningOptions) see(h sun.Horizontal) sight {
	s := sight{sun: h, face: o.Surface, alt: h.Alt + sun.StandardAir().Refraction(h.Alt)}
	s.mass = sun.AirMass(s.alt)
	s.lnHeight = math.Log(math.Max(rim, 2*math.Sin(s.alt*deg)))
	seen := h
	seen.Alt = s.alt
	if o.FacesSun {
		s.face.Tilt, s.face.Azimuth = 90-s.alt, h.Az
		s.cosine = 1
		return s // a degree off is 0.02 % of the cosine
	}
	s.cosine = math.Cos(s.face.Incidence(seen) * deg)
	sin, cos := math.Sincos(h.Az * deg)
	flat := math.Cos(s.alt*deg) * deg
	s.east, s.north = flat*sin, flat*cos
	return s
}

// The places of the unknowns: the sensor's law, then the air's and the mount's, and
// at last the slow departure, which is another one at every instant.
const (
	atLevel = iota // ln Value in the light of the morning's middle
	atSlope
	atAir   // ln extinction
	atDrift // of the extinction, an hour
	atSky   // ln of the sky's light over the model's, at 30 degrees
	atShape // power of the Sun's sine by which the sky departs from the model's
	atEast  // lean, degrees
	atNorth
	atSlow
	unknowns
)

// priorU are the standard uncertainties of what is unknown before the log is seen.
// The extinction of clear air is 0.15 to 0.35 or so, it drifts by hundredths an hour,
// and the sky is darker or brighter than the mean of many by a half and does not grow
// quite as the model's with the Sun's height: all common practice, no source.
var priorU = [unknowns]float64{atLevel: 10, atSlope: 5, atAir: 0.5, atDrift: 0.01, atSky: 0.4, atShape: 0.3}

// hazeSky is the prior correlation of extinction and sky: the sky gets a part of what
// the beam loses. Common practice, no source.
const hazeSky = 0.7

// A state is a value of each unknown.
type state [unknowns]float64

// usualAir is package sun's standard clear sky.
func usualAir() state { return state{atAir: math.Log(0.21)} }

// A glow is the light on a sensor, lx.
type glow struct {
	lux    float64
	sky    float64 // the part that does not come from the disc
	direct float64 // the disc's on a surface that faces it
}

// rim keeps the beam on a leaning sensor above nothing; sine of half a degree.
const rim = 0.01

// light is the model's, for an air and a mount.
func (s *sight) light(p state) glow { return s.lightIn(p, s.extinction(p)) }

func (s *sight) extinction(p state) float64 {
	// Package sun takes an extinction of 0 for not set.
	return math.Max(1e-3, math.Min(2, math.Exp(p[atAir])+p[atDrift]*s.hours))
}

func (s *sight) lightIn(p state, extinction float64) glow {
	clear := sun.Sky{Extinction: extinction}
	g := glow{direct: clear.Illuminance(s.sun.Alt, s.sun.Distance).Direct}
	rest := clear.On(s.face, s.sun) - g.direct*math.Max(0, s.cosine)
	g.sky = math.Max(0, rest) * math.Exp(p[atSky]+p[atShape]*s.lnHeight)
	g.lux = g.sky + g.direct*s.incidence(p)
	return g
}

// incidence is the cosine of the beam's angle on a sensor that may lean.
func (s *sight) incidence(p state) float64 {
	return math.Max(rim, s.cosine+p[atEast]*s.east+p[atNorth]*s.north)
}

// change is the logarithm of the light, and what it does with each unknown of air and
// mount.
func (s *sight) change(p state) (ln float64, by state) {
	const step = 1e-4
	κ, g := s.extinction(p), s.light(p)
	up, down := s.lightIn(p, κ*(1+step)), s.lightIn(p, κ*(1-step))
	slope := math.Log(up.lux/down.lux) / (2 * step * κ) // by the extinction
	by[atAir], by[atDrift] = slope*math.Exp(p[atAir]), slope*s.hours
	by[atSky] = g.sky / g.lux
	by[atShape] = by[atSky] * s.lnHeight
	if s.incidence(p) > rim {
		by[atEast], by[atNorth] = g.direct/g.lux*s.east, g.direct/g.lux*s.north
	}
	return math.Log(g.lux), by
}
