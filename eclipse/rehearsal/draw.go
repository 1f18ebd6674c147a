package rehearsal

import (
	"fmt"
	"math"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sensor"
	"example.org/noonfall/sun"
)

// depths is the nominal mixture of what a drawn site sees.
var depths = [...]struct {
	share   float64
	central bool
	kind    eclipse.Kind
	from    float64 // magnitude
	to      float64
}{
	{0.30, true, eclipse.Total, 1, 2},
	{0.20, true, eclipse.Annular, 0, 1},
	{0.30, false, eclipse.Partial, 0.6, 1.1}, // deep; above 1 just outside the umbra
	{0.20, false, eclipse.Partial, 0.25, 0.6},
}

// Draw makes up a plan under a kind of weather: one of the eclipses given and a
// site where the Sun is ten degrees up or more at maximum. Of a hundred plans 30
// are total there, 20 annular, 30 partial of magnitude 0.6 or more and 20 partial
// of 0.25 to 0.6. The cadence is 1, 5, 10 or 30 s, the clock up to two minutes off
// and gaining up to 20 millionths either way (a battery clock's crystal), the
// scatter 0.1 to 1 %, and the sensor one of six, two of which are plain counts.
// Zone, lag and damage stay zero; set them on the plan. The same arguments give
// the same plan. The error is ErrPlan, wrapped, where no eclipse of those given
// serves.
func Draw(eclipses []*eclipse.Elements, w Weather, seed uint64) (Plan, error) {
	if len(eclipses) == 0 {
		return Plan{}, fmt.Errorf("%w: no eclipses are given to draw from", ErrPlan)
	}
	d := newDice(seed, streamDraw)
	const tries = 10000 // one in twenty serves
	for range tries {
		want := depths[0]
		part := d.Float64()
		for _, row := range depths {
			if want = row; part < row.share {
				break
			}
			part -= row.share
		}
		for range tries / 100 { // keep to the kind, so that rare ones keep their share
			e := eclipses[d.IntN(len(eclipses))]
			site := place(d, e, want.central)
			o, err := eclipse.NewObserver(e, site, eclipse.Options{})
			if err != nil {
				return Plan{}, fmt.Errorf("%w: %w", ErrPlan, err)
			}
			c := o.Circumstances()
			if c.Geometry != want.kind || c.Max.Alt < 10 || c.Magnitude < want.from || c.Magnitude >= want.to {
				continue
			}
			parts := parts()
			return Plan{
				Elements: e, Site: site, Weather: w, Seed: seed,
				Chain:    parts[d.IntN(len(parts))],
				Cadence:  []time.Duration{1, 5, 10, 30}[d.IntN(4)] * time.Second,
				Offset:   d.between(-120, 120),
				DriftPPM: d.between(-20, 20),
				Noise:    d.logBetween(0.001, 0.01),
			}, nil
		}
	}
	return Plan{}, fmt.Errorf("%w: none of %d eclipses is seen with a high Sun from any place tried", ErrPlan, len(eclipses))
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

// place is a site near the axis at some instant, or anywhere.
func place(d dice, e *eclipse.Elements, central bool) sun.Site {
	anywhere := sun.Site{
		Lat: math.Asin(d.between(-0.95, 0.95)) / deg, Lon: d.between(-180, 180), Height: math.Round(d.between(0, 1500)),
	}
	t := d.between(-1.5, 1.5)
	x, y := e.X.At(t), e.Y.At(t)+d.between(-0.015, 0.015) // the umbra is that wide at most
	r2 := x*x + y*y
	if !central || r2 > 0.97 {
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
