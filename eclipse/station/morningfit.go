package station

import (
	"errors"
	"math"
	"slices"
	"time"

	"example.org/noonfall/sensor"
)

// firstLine is the power law in the light of the usual sky. It only starts the fit,
// and refuses what follows no light.
func (m *morning) firstLine() (state, error) {
	start := usualAir()
	var pairs []sensor.KnownLight
	var lns []float64
	for _, q := range m.used() {
		pairs = append(pairs, sensor.KnownLight{Lux: q.light(start).lux, Value: math.Exp(q.ln)})
		lns = append(lns, q.ln)
	}
	c, err := sensor.Calibrate(pairs, sensor.CalibrateOptions{MinSpan: 1.3})
	switch {
	case errors.Is(err, sensor.ErrSmallSpan):
		return start, refuse(ShortClimb, "%v", err)
	case errors.Is(err, sensor.ErrNoSlope) && slices.Max(lns)-slices.Min(lns) > cloudLnU:
		return start, refuse(CloudyMorning, "the reading wanders by a factor of %.2g and does not follow the Sun", math.Exp(slices.Max(lns)-slices.Min(lns)))
	case errors.Is(err, sensor.ErrNoSlope):
		return start, refuse(FlatSensor, "the reading changes by %.2g %% while the Sun climbs, and not with it", 100*(slices.Max(lns)-slices.Min(lns)))
	case err != nil:
		return start, err
	}
	start[atSlope] = c.Slope
	if m.opt.Exponent != 0 {
		start[atSlope] = m.opt.Exponent
	}
	return start, nil
}

// climbOf lays readings out for the fit, about a first state.
func (m *morning) climbOf(blocks []block, start state) *climb {
	c := &climb{blocks: blocks}
	for i := range blocks {
		c.middle += math.Log(blocks[i].light(usualAir()).lux) / float64(len(blocks))
		c.prior.mean[atLevel] += blocks[i].ln / float64(len(blocks))
	}
	c.prior.mean[atSlope], c.prior.mean[atAir] = start[atSlope], usualAir()[atAir]
	u := priorU
	if m.opt.Exponent != 0 {
		u[atSlope], c.prior.mean[atSlope] = 0, m.opt.Exponent
	}
	if !m.opt.FacesSun {
		u[atEast], u[atNorth] = m.opt.LeanU, m.opt.LeanU
	}
	for i := range u {
		c.prior.cov[i][i] = u[i] * u[i]
	}
	both := hazeSky * u[atAir] * u[atSky]
	c.prior.cov[atAir][atSky], c.prior.cov[atSky][atAir] = both, both
	return c
}

// single makes each minute a block of its own.
func (m *morning) single() []block {
	var out []block
	for _, q := range m.used() {
		out = append(out, block{sight: q.sight, ln: q.ln, variance: 1})
	}
	return out
}

// fives are the means of the used minutes of each five, at the mean of their times:
// the light's bend within five minutes is below a thousandth of it.
func (m *morning) fives() []block {
	var out []block
	used := m.used()
	for len(used) > 0 {
		var b block
		n := 0
		for ; n < len(used) && used[n].at.Unix()/300 == used[0].at.Unix()/300; n++ {
			b.ln += used[n].ln
			b.variance += math.Max(m.white*m.white, used[n].lnU*used[n].lnU)
			b.hours += used[n].hours
		}
		k := float64(n)
		hours := b.hours / k
		b.sight = m.sightAt(m.middle.Add(time.Duration(hours * float64(time.Hour))))
		b.hours = hours
		b.ln, b.variance = b.ln/k, b.variance/(k*k)
		out, used = append(out, b), used[n:]
	}
	return out
}

// used are the minutes in use, to be read or marked.
func (m *morning) used() []*minute {
	var out []*minute
	for i := range m.minutes {
		if m.minutes[i].fate == UsedMinute {
			out = append(out, &m.minutes[i])
		}
	}
	return out
}
