package station

import (
	"math"
	"math/rand/v2"
	"time"

	"example.org/noonfall/sensor"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// A sham is a made-up morning whose light and sensor the method is not told of: two
// colours, each with an extinction of its own, so that the beam is no straight
// Langley line; another air mass; haze that comes, goes and ripples; a sky of what the
// air takes out of the beam, brighter about the Sun; a sensor that leans, has a cosine
// of its own and a law that bends; noise and rounded counts. All invented.
type sham struct {
	site              sun.Site
	day               time.Time
	level             float64 // of all light, ln
	air               [2]float64
	drift, wave       float64 // of the extinction: an hour, and amplitude
	period, phase     float64 // hours, radians
	skyPart, about    float64
	east, north       float64 // lean, degrees
	cosine            float64 // exponent of the response to slanting light, over 1
	gain, slope, bend float64 // ln reading = gain + slope x + bend x^2, x = ln(lux/30 klx)
	noise, step       float64 // of a reading, relative; of the counts
	shade             func(hours float64) float64
	draw              *rand.Rand
}

func newSham(seed uint64) *sham {
	draw := rand.New(rand.NewPCG(seed, 1905))
	uniform := func(a, b float64) float64 { return a + (b-a)*draw.Float64() }
	haze := uniform(0.02, 0.2)
	s := &sham{
		site:  sun.Site{Lat: uniform(28, 48), Lon: uniform(-10, 20)},
		day:   time.Date(2027, time.Month(4+draw.IntN(5)), 1+draw.IntN(28), 0, 0, 0, 0, time.UTC),
		level: 0.15 * draw.NormFloat64(), air: [2]float64{0.09 + 0.8*haze, 0.16 + 1.3*haze},
		drift: 0.008 * draw.NormFloat64(), wave: uniform(0, 0.01), period: uniform(0.5, 3), phase: uniform(0, 6),
		skyPart: uniform(0.3, 0.6), about: uniform(0, 0.25),
		east: 0.8 * draw.NormFloat64(), north: 0.8 * draw.NormFloat64(), cosine: uniform(-0.02, 0.04),
		gain: math.Log(60), slope: -uniform(0.55, 0.9), bend: 0.006 * draw.NormFloat64(), noise: 0.004, draw: draw,
	}
	if draw.IntN(2) == 0 { // a linear sensor whose counts rise
		s.gain, s.slope, s.step = math.Log(900), uniform(0.9, 1.05), 1
	}
	return s
}

// beamAt is the light of the disc on a surface that faces it, lx, and the sky's on the flat.
func (s *sham) beamAt(alt, hours float64) (beam, sky float64) {
	sin := math.Sin(alt * deg)
	mass := 1 / (sin + 0.15*math.Pow(alt+3.885, -1.253)) // F. Kasten 1965
	for i, part := range []float64{0.6, 0.4} {
		above := 131000 * part
		through := above * math.Exp(-s.extinction(i, hours)*mass)
		beam += through
		sky += s.skyPart * (above - through) * sin
	}
	return beam, sky
}

func (s *sham) extinction(colour int, hours float64) float64 {
	return s.air[colour] + s.drift*hours + s.wave*math.Sin(2*math.Pi*hours/s.period+s.phase)
}

// meanAir is what a Langley line through the whole beam would find over the minutes
// of a fit, haze and its changes included.
func (s *sham) meanAir(f *MorningFit) float64 {
	beam := func(mass float64) float64 {
		return 0.6*math.Exp(-s.air[0]*mass) + 0.4*math.Exp(-s.air[1]*mass)
	}
	extra := 0.0
	for _, q := range f.Minutes {
		if q.Fate == UsedMinute {
			extra += (s.extinction(0, s.hours(q.Time)) - s.air[0]) / float64(f.Used)
		}
	}
	return math.Log(beam(f.AirMass[0])/beam(f.AirMass[1]))/(f.AirMass[1]-f.AirMass[0]) + extra
}

// hours from three before noon.
func (s *sham) hours(at time.Time) float64 { return at.Sub(s.noon()).Hours() + 3 }

func (s *sham) noon() time.Time {
	return s.day.Add(time.Duration((12 - s.site.Lon/15) * float64(time.Hour)))
}

// lux on the sensor, with all that is the sensor's own but its law.
func (s *sham) lux(h sun.Horizontal, hours float64) float64 {
	alt := h.Alt + 0.016/math.Tan((h.Alt+2)*deg)
	beam, sky := s.beamAt(alt, hours)
	sinA, cosA := math.Sincos(h.Az * deg)
	incidence := math.Sin(alt*deg) + math.Cos(alt*deg)*deg*(s.east*sinA+s.north*cosA)
	light := beam*math.Pow(math.Max(0.01, incidence), 1+s.cosine) + sky*(1+s.about*math.Cos(2*alt*deg))
	return light * math.Exp(s.level) / (h.Distance * h.Distance)
}

// ln of the reading in a light.
func (s *sham) ln(lux float64) float64 {
	x := math.Log(lux / 30000)
	return s.gain + s.slope*x + s.bend*x*x
}

// samples of the morning, one in ten seconds from before dawn to after noon.
func (s *sham) samples() []MorningSample {
	o, err := sun.NewObserver(s.site, timescale.Scale{})
	if err != nil {
		return nil
	}
	var out []MorningSample
	for hours := -8.0; hours < 1; hours += 10.0 / 3600 {
		at := s.noon().Add(time.Duration(hours * float64(time.Hour)))
		h := o.Position(timescale.Scale{}.TT(at))
		if h.Alt < 2 {
			continue
		}
		lux := s.lux(h, s.hours(at))
		if s.shade != nil {
			lux *= s.shade(hours)
		}
		value := math.Exp(s.ln(lux) + s.noise*s.draw.NormFloat64())
		if s.step > 0 {
			value = s.step * math.Round(value/s.step)
		}
		out = append(out, MorningSample{Time: at, Value: value, Status: sensor.OK})
	}
	return out
}
