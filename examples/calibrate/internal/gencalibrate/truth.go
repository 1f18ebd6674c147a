package main

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// What is true, and what the calibration is not told. Every number is invented.
const (
	gamma   = 0.682  // exponent at 1000 lx
	bend    = 0.0015 // by which the law is no power: its exponent falls by twice this for each ln lux
	ohms1k  = 530.0  // at 1000 lx
	darkOhm = 3e6
	loadOhm = 224.0 // printed as 220

	candela  = 71.0  // of the lamp towards the sensor; its packet says 64
	tape     = 0.022 // m from the lamp's middle to where the tape begins
	roomLux  = 1.6
	lampWide = 0.012 // m, radius of its globe
	colour   = 0.96  // what the cell makes of the lamp's light, against daylight
	tapeU    = 0.001

	level   = 0.93 // of the light of that morning, against the mean of clear days
	skyPart = 0.42 // of what the beam loses, what comes down from the sky
	leanE   = 0.7  // degrees
	leanN   = -0.9
	drift   = 0.006 // of the extinction, an hour
)

var (
	colours = [2]float64{0.17, 0.27} // extinction of the redder and the bluer half, an air mass
	parts   = [2]float64{0.6, 0.4}
	day     = time.Date(2027, time.July, 20, 0, 0, 0, 0, time.UTC)
	shade   = [2]time.Time{day.Add(8*time.Hour + 12*time.Minute), day.Add(8*time.Hour + 22*time.Minute)} // a palm's
)

const degree = math.Pi / 180

// ohms of the cell in a light.
func ohms(lux float64) float64 {
	x := math.Log(lux / 1000)
	return 1 / (1/(ohms1k*math.Exp(-gamma*x+bend*x*x)) + 1/darkOhm)
}

// exponent of the law at a light.
func exponent(lux float64) float64 { return gamma - 2*bend*math.Log(lux/1000) }

// counts that the logger takes down: Ohm's law, the mean of 32 conversions, a decimal.
func counts(lux float64, draw *rand.Rand) float64 {
	c := 4096 * loadOhm / (loadOhm + ohms(lux))
	return math.Round(10*(c+0.7/math.Sqrt(32)*draw.NormFloat64())) / 10
}

// A truth is written beside the data for tests and for the curious.
type truth struct {
	LampExponent    float64 `json:"lamp_exponent"`    // at 100 lx
	MorningExponent float64 `json:"morning_exponent"` // at 40,000 lx
	Ohms30k         float64 `json:"ohms_at_30000_lx"`
	Extinction      float64 `json:"extinction"` // of the whole beam, between air mass 1 and 5.6
	Candela         float64 `json:"candela"`
	TapeM           float64 `json:"tape_zero_m"`
	RoomLux         float64 `json:"room_lx"`
	ShadeMinutes    float64 `json:"shade_minutes"`
	Remarks         string  `json:"remarks"`
}

func truthOf() truth {
	through := func(mass float64) float64 {
		return parts[0]*math.Exp(-colours[0]*mass) + parts[1]*math.Exp(-colours[1]*mass)
	}
	return truth{
		LampExponent: math.Round(1e4*exponent(100)) / 1e4, MorningExponent: math.Round(1e4*exponent(40e3)) / 1e4,
		// In terms of the load as it is printed, which is what a reading is turned into.
		Ohms30k:    math.Round(1e3*ohms(30e3)*220/loadOhm) / 1e3,
		Extinction: math.Round(1e4*math.Log(through(1)/through(5.6))/4.6) / 1e4,
		Candela:    candela, TapeM: tape, RoomLux: roomLux, ShadeMinutes: shade[1].Sub(shade[0]).Minutes(),
		Remarks: "Invented: what lies behind lamp.csv and 20270720.csv.",
	}
}

// walk is the sheet of a lamp moved along a tape, from near to far.
func walk() []byte {
	draw := rand.New(rand.NewPCG(2027, 12))
	var b bytes.Buffer
	fmt.Fprint(&b, "# invented data: a made-up evening in a made-up classroom, nothing was measured\n")
	fmt.Fprint(&b, "distance_m,distance_u_m,reading\n")
	for _, d := range []float64{0.25, 0.32, 0.42, 0.55, 0.75, 1, 1.4, 1.9, 2.6, 3.6, 5} {
		away := d + tape + tapeU*draw.NormFloat64()
		lux := candela*colour/(away*away+lampWide*lampWide) + roomLux
		fmt.Fprintf(&b, "%.3f,%.3f,%.1f\n", d, tapeU, counts(lux, draw))
	}
	return b.Bytes()
}

// A sky is the morning's.
type sky struct {
	site sun.Site
	draw *rand.Rand
}

func newSky(site sun.Site) *sky { return &sky{site, rand.New(rand.NewPCG(2027, 720))} }

// light on the sensor, lx.
func (s *sky) light(h sun.Horizontal, hours float64) float64 {
	alt := h.Alt + 0.016/math.Tan((h.Alt+2)*degree)
	sin := math.Sin(alt * degree)
	mass := 1 / (sin + 0.15*math.Pow(alt+3.885, -1.253)) // F. Kasten 1965
	sinA, cosA := math.Sincos(h.Az * degree)
	incidence := math.Max(0.01, sin+math.Cos(alt*degree)*degree*(leanE*sinA+leanN*cosA))
	var beam, around float64
	for i, part := range parts {
		above := 131000 * part
		k := colours[i] + drift*hours + 0.004*math.Sin(4*hours)
		through := above * math.Exp(-k*mass)
		beam += through
		around += skyPart * (above - through) * sin
	}
	return level * (beam*math.Pow(incidence, 1.01) + around) / (h.Distance * h.Distance)
}

// log from before sunrise's ten degrees to noon, a line in twenty seconds.
func (s *sky) log() ([]byte, error) {
	o, err := sun.NewObserver(s.site, timescale.Scale{})
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	fmt.Fprint(&b, "# invented data: a made-up clear morning, nothing was measured\ntime,light\n")
	for at := day.Add(5*time.Hour + 30*time.Minute); at.Before(day.Add(12*time.Hour + 20*time.Minute)); at = at.Add(20 * time.Second) {
		h := o.Position(timescale.Scale{}.TT(at))
		lux := s.light(h, at.Sub(day.Add(9*time.Hour)).Hours())
		if at.After(shade[0]) && at.Before(shade[1]) {
			lux *= 0.45 + 0.1*s.draw.Float64()
		}
		fmt.Fprintf(&b, "%s,%.1f\n", at.Format(time.RFC3339), counts(lux, s.draw))
	}
	return b.Bytes(), nil
}
