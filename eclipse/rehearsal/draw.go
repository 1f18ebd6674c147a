package rehearsal

import (
	"fmt"
	"math"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sensor"
	"example.org/noonfall/sun"
)

// A Class is a kind of log for a study: how deep the eclipse, under which sky, and how
// high the Sun. The zero value is a mixture of all depths under a clear sky, with the Sun
// ten degrees up or more at maximum.
type Class struct {
	Depth   Depth   // how much of the Sun is covered
	Weather Weather // the sky above
	// Horizon has the Sun rise or set eclipsed: it is up at maximum, and down at first
	// contact or at fourth.
	Horizon bool
}

// String names the depth and the sky: "total, haze" or "deep, clear, low Sun".
func (c Class) String() string {
	if c.Horizon {
		return fmt.Sprintf("%v, %v, low Sun", c.Depth, c.Weather)
	}
	return fmt.Sprintf("%v, %v", c.Depth, c.Weather)
}

// A Depth is how much of the Sun the Moon covers where the logger stands.
type Depth uint8

// The depths.
const (
	Mixed   Depth = iota // of a hundred plans 30 total, 20 annular, 30 deep and 20 shallow
	Total                // totality
	Annular              // a ring
	Deep                 // partial, of magnitude 0.6 or more; above 1 just outside the umbra
	Shallow              // partial, of magnitude 0.25 to 0.6
)

var depths = [...]struct {
	name     string
	share    float64 // of the mixture
	central  bool
	kind     eclipse.Kind
	from, to float64 // magnitude
}{
	Mixed:   {name: "mixed"},
	Total:   {"total", 0.30, true, eclipse.Total, 1, 2},
	Annular: {"annular", 0.20, true, eclipse.Annular, 0, 1},
	Deep:    {"deep", 0.30, false, eclipse.Partial, 0.6, 1.1},
	Shallow: {"shallow", 0.20, false, eclipse.Partial, 0.25, 0.6},
}

// String is one of "mixed", "total", "annular", "deep" and "shallow".
func (d Depth) String() string {
	if int(d) < len(depths) {
		return depths[d].name
	}
	return fmt.Sprintf("depth %d", uint8(d))
}

// drawn is the depth itself, or one of the mixture.
func (d Depth) drawn(dice dice) Depth {
	if d != Mixed {
		return d
	}
	part := dice.Float64()
	for d = Total; d < Shallow && part >= depths[d].share; d++ {
		part -= depths[d].share
	}
	return d
}

// Draw makes up a plan of the class: one of the eclipses given and a site at which it
// is of that kind. The cadence is 1, 5, 10 or 30 s, the clock up to two minutes off
// and gaining up to 20 millionths either way (a battery clock's crystal), the
// scatter 0.1 to 1 %, and the sensor one of six, two of which are plain counts.
// Zone, lag and damage stay zero; set them on the plan. The same arguments give
// the same plan. The error is ErrPlan, wrapped, where no eclipse of those given
// serves.
func (c Class) Draw(eclipses []*eclipse.Elements, seed uint64) (Plan, error) {
	if len(eclipses) == 0 {
		return Plan{}, fmt.Errorf("%w: no eclipses are given to draw from", ErrPlan)
	}
	if int(c.Depth) >= len(depths) {
		return Plan{}, fmt.Errorf("%w: there is no %v", ErrPlan, c.Depth)
	}
	d := newDice(seed, streamDraw)
	const tries, kept = 1000, 100 // one in twenty serves, with a low Sun one in some hundreds
	for range tries {
		want := c.Depth.drawn(d)
		for range kept { // keep to the kind, so that rare ones keep their share
			e := eclipses[d.IntN(len(eclipses))]
			site := place(d, e, depths[want].central, c.Horizon)
			o, err := eclipse.NewObserver(e, site, eclipse.Options{})
			if err != nil {
				return Plan{}, fmt.Errorf("%w: %w", ErrPlan, err)
			}
			if !c.has(want, o.Circumstances()) {
				continue
			}
			parts := parts()
			return Plan{
				Elements: e, Site: site, Weather: c.Weather, Seed: seed,
				Chain:    parts[d.IntN(len(parts))],
				Cadence:  []time.Duration{1, 5, 10, 30}[d.IntN(4)] * time.Second,
				Offset:   d.between(-120, 120),
				DriftPPM: d.between(-20, 20),
				Noise:    d.logBetween(0.001, 0.01),
			}, nil
		}
	}
	return Plan{}, fmt.Errorf("%w: none of %d eclipses is %v from any place tried", ErrPlan, len(eclipses), c)
}

// has says whether a site's eclipse is of the class at that depth.
func (c Class) has(want Depth, seen eclipse.Circumstances) bool {
	row := depths[want]
	if seen.Geometry != row.kind || seen.Magnitude < row.from || seen.Magnitude >= row.to {
		return false
	}
	const high, low = 10, 1 // degrees: below one the disc itself is still rising
	if c.Horizon {
		return seen.Max.Alt >= low && (seen.C1.Alt < 0) != (seen.C4.Alt < 0)
	}
	return seen.Max.Alt >= high
}

// parts are the sensors that are drawn, as their owners describe them. Values are
// common practice, no source.
func parts() []*sensor.Chain {
	cell := sensor.Photoresistor{R10Ohm: 12e3, Gamma: 0.65, R10LnU: 0.3, GammaU: 0.03}
	return []*sensor.Chain{
		nil, nil,
		{ // a photoresistor over a small load, which full Sun does not drive to the rail
			ADC: sensor.ADC{Bits: 12, ReferenceV: 3.3, Ratiometric: true, DeadLow: 0.005, DeadHigh: 0.005, NoiseCounts: 0.5, Averaged: 16},
			Divider: &sensor.Divider{SupplyV: 3.3, LoadOhm: 220, Wiring: sensor.CellOnTop, LoadTolerance: 0.05,
				Cell: cell},
		},
		{ // the other way round on a coarse converter, averages logged to a tenth
			ADC: sensor.ADC{Bits: 10, ReferenceV: 5, Ratiometric: true, DeadLow: 0.01, DeadHigh: 0.005, NoiseCounts: 0.7, Averaged: 50, LogStepCounts: 0.1},
			Divider: &sensor.Divider{SupplyV: 5, LoadOhm: 470, Wiring: sensor.CellAtBottom, LoadTolerance: 0.05,
				Cell: cell},
		},
		{
			ADC:             sensor.ADC{Bits: 16, ReferenceV: 3.3, Ratiometric: true, DeadLow: 0.00005, NoiseCounts: 1, Averaged: 16, LogStepCounts: 0.1},
			Phototransistor: &sensor.Phototransistor{SupplyV: 3.3, LoadOhm: 47, AmperesPerLux: 0.5e-6, SaturationV: 0.2, AmperesPerLuxLnU: 0.2},
		},
		{
			ADC:             sensor.ADC{Bits: 12, ReferenceV: 3.3, Ratiometric: true, DeadLow: 0.0005, NoiseCounts: 0.6, Averaged: 64, LogStepCounts: 0.01},
			Phototransistor: &sensor.Phototransistor{SupplyV: 3.3, LoadOhm: 47, AmperesPerLux: 0.5e-6, SaturationV: 0.2, AmperesPerLuxLnU: 0.2},
		},
	}
}

// place is a site near the axis at some instant, or anywhere; with the Sun low near the
// axis's ends.
func place(d dice, e *eclipse.Elements, central, low bool) sun.Site {
	anywhere := sun.Site{
		Lat: math.Asin(d.between(-0.95, 0.95)) / deg, Lon: d.between(-180, 180), Height: math.Round(d.between(0, 1500)),
	}
	t := d.between(-1.5, 1.5)
	x, y := e.X.At(t), e.Y.At(t)+d.between(-0.015, 0.015) // the umbra is that wide at most
	r2 := x*x + y*y
	most := 0.97 // one less the square of the sine of the Sun's altitude: ten degrees
	if low {
		most = 0.9997 // one degree
	}
	if !central || r2 > most {
		return anywhere
	}
	sin, cos := math.Sincos(e.D.At(t) * deg)
	z := math.Sqrt(1 - r2)
	hour := math.Atan2(x, z*cos-y*sin) / deg
	const lag = 0.29 // degrees that the Earth turns in Delta T
	return sun.Site{
		Lat: math.Asin(y*cos+z*sin) / deg, Lon: math.Remainder(hour-e.Mu.At(t)+lag, 360), Height: anywhere.Height,
	}
}
