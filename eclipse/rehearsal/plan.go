package rehearsal

import (
	"errors"
	"fmt"
	"math"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sensor"
	"example.org/noonfall/sun"
)

// A Plan says what the made-up logger is and what befalls it. Elements must be
// set; every other field's zero means the usual thing. A Plan is read-only to
// this package and may be copied.
type Plan struct {
	// Elements are those of the eclipse.
	Elements *eclipse.Elements
	// Site is where the logger stands.
	Site sun.Site
	// Observer tunes the observer: Delta T above all.
	Observer eclipse.Options
	// Chain is the sensor as its owner describes it; the real one differs from
	// that within the chain's own uncertainties, and bends a little in full light.
	// Nil gives plain counts of a 16-bit converter, nearly in proportion to light.
	Chain *sensor.Chain
	// Cadence of the records, whole seconds from 1 s to 10 min; zero means 1 s.
	Cadence time.Duration
	// Margin is logged before first and after last contact, up to 12 h; zero means an hour.
	Margin time.Duration
	// Day moves the log by whole days, -30 to 30, to one without eclipse: a control
	// of the same logger at the same hours under weather and noise of its own. Zero
	// is the eclipse's day.
	Day int
	// Offset is by how many seconds the clock is ahead of UTC at the predicted
	// maximum, less than 1e6 either way.
	Offset float64
	// DriftPPM is by how many millionths the clock gains, less than 1e4 either way.
	DriftPPM float64
	// ZoneHours is added to the clock without a word in the stamp: local time
	// passed off as UTC. -15 to 15.
	ZoneHours int
	// Lag is by how much the recorded light is older than its stamp, 0 to 10 min:
	// half the window over which counts are averaged, and what the sensor adds.
	Lag time.Duration
	// Weather is the kind of sky.
	Weather Weather
	// Noise is the relative scatter of one sample beyond counting, below 1; zero
	// means 0.002, and a negative one neither scatter nor spikes.
	Noise float64
	// Spikes is the chance of a record to be wild, below 1; zero means one in
	// 5,000, and a negative one none.
	Spikes float64
	// Damage is what the file suffers; zero means a clean one.
	Damage Damage
	// Plain leaves out everything but white noise: no haze, tilt, bend or spikes,
	// and the prediction's own limb law, sky and floor. It is the inverse crime, for
	// comparison with what theory allows in white noise.
	Plain bool
	// Seed chooses everything that is drawn.
	Seed uint64
}

// ErrPlan says that a plan cannot be carried out.
var ErrPlan = errors.New("rehearsal: the plan cannot be carried out")

// The usual settings.
const (
	usualCadence = time.Second
	usualMargin  = time.Hour
	usualNoise   = 0.002     // a still sensor, averaged: common practice, no source
	usualSpikes  = 1. / 5000 // an insect, a hand, a bad contact: common practice, no source
)

// filled returns the plan with its zeros replaced.
func (p Plan) filled() Plan {
	if p.Cadence == 0 {
		p.Cadence = usualCadence
	}
	if p.Margin == 0 {
		p.Margin = usualMargin
	}
	if p.Spikes == 0 {
		p.Spikes = usualSpikes
	}
	if p.Noise == 0 {
		p.Noise = usualNoise
	}
	if p.Noise < 0 || p.Plain {
		p.Spikes = -1
	}
	p.Damage = p.Damage.filled(p.Cadence)
	return p
}

// validate checks a filled plan; ranges are written so that NaN is out of them.
func (p Plan) validate() error {
	var faults []error
	for _, r := range []struct {
		field           string
		value, min, max float64
	}{
		{"Cadence, s,", p.Cadence.Seconds(), 1, 600},
		{"Margin, h,", p.Margin.Hours(), 0, 12},
		{"Day", float64(p.Day), -30, 30},
		{"Offset, s,", p.Offset, -1e6, 1e6},
		{"DriftPPM", p.DriftPPM, -1e4, 1e4},
		{"ZoneHours", float64(p.ZoneHours), -15, 15},
		{"Lag, s,", p.Lag.Seconds(), 0, 600},
		{"Weather", float64(p.Weather), 0, float64(weathers - 1)},
		{"Noise", p.Noise, math.Inf(-1), 1},
		{"Spikes", p.Spikes, math.Inf(-1), 1},
		{"Damage.PowerCycles", float64(p.Damage.PowerCycles), 0, 1000},
		{"Damage.Outage, s,", p.Damage.Outage.Seconds(), 1, 43200},
		{"Damage.TornLines", float64(p.Damage.TornLines), 0, 1000},
		{"Damage.NULRuns", float64(p.Damage.NULRuns), 0, 1000},
	} {
		if !(r.value >= r.min && r.value <= r.max) {
			faults = append(faults, fmt.Errorf("%w: %s is %g, want %g to %g", ErrPlan, r.field, r.value, r.min, r.max))
		}
	}
	if p.Cadence%time.Second != 0 {
		faults = append(faults, fmt.Errorf("%w: Cadence is %v, want whole seconds", ErrPlan, p.Cadence))
	}
	return errors.Join(faults...)
}
