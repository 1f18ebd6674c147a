package station

import (
	"math"
	"slices"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/logfile"
	"example.org/noonfall/sensor"
)

// A diagnosis is what the rules of advice look at: the log's health, and what the
// day will ask of the logger.
type diagnosis struct {
	h        *Health
	chain    *sensor.Chain
	lux      bool    // readings are lux, by the chain or by the column's unit
	fullSun  float64 // the clear sky's light at noon of the day, lx
	leastLux float64 // the darkest light that the chain can tell, lx; 0 without a chain
	mostLux  float64 // the brightest likewise
	totalS   float64 // the totality at the site, s; 0 where there is none
	darkens  bool    // the day will be as dark as totality, for all that is known
	// totalLux is the least reading of totality, lx where lux says so; NaN where it is
	// not in the log.
	totalLux float64
}

const (
	totalityLux = eclipse.DefaultFloor
	usualTotalS = 120.0   // a totality, where the site has none (common practice, no source)
	usualSunLux = 1e5     // full Sun, where the site is not known; upper end of natural_illuminance.csv
	skySpread   = 4.0 / 3 // of a clear day against the mean one, package sun
	leastFilter = 0.3     // optical density worth mounting: half the light (common practice, no source)
)

func (r *Report) diagnosis(a *almanac) *diagnosis {
	d := &diagnosis{h: &r.Health, chain: r.Station.Chain, fullSun: usualSunLux, lux: r.chain != nil}
	switch r.unit() {
	case "lx", "lux", "Lux", "LUX":
		d.lux = true
	}
	if a != nil {
		if day := a.day(r.day.Unix() / 86400); day != nil { // the solar day of that date
			d.fullSun = clearSky(day.top)
		}
	}
	if r.chain != nil {
		d.leastLux, d.mostLux = r.chain.Range()
	}
	c := &r.Circumstances
	d.darkens = c.Geometry == eclipse.None || c.Seen == eclipse.Total
	d.totalLux = math.NaN()
	if c.Seen == eclipse.Total {
		d.totalS = c.Duration
		d.totalLux = r.leastInTotality()
	}
	return d
}

// leastInTotality is the bottom of the light within an hour of maximum, which is
// totality's if the light stays there for half as long as totality lasts, whatever the
// clock's error; else NaN.
func (r *Report) leastInTotality() float64 {
	c, steps := &r.Circumstances, r.Health.Steps
	least := math.NaN()
	from, to := c.Max.UTC.Add(-time.Hour), c.Max.UTC.Add(time.Hour)
	first, _ := slices.BinarySearchFunc(r.Samples, from, func(s fit.Sample, t time.Time) int { return s.Time.Compare(t) })
	var near []float64
	for _, s := range r.Samples[first:] {
		if s.Time.After(to) {
			break
		}
		if !isNumber(s.Value) {
			continue
		}
		if near = append(near, s.Value); !(s.Value >= least) {
			least = s.Value
		}
	}
	n := 0
	for _, v := range near {
		if v <= 1.5*least {
			n++
		}
	}
	if steps == nil || !(float64(n)*steps.MedianS >= c.Duration/2) {
		return math.NaN()
	}
	return least
}

// bright is the scatter in the light of day, nil where the log has none.
func (d *diagnosis) bright() *Scatter {
	if s := d.h.Sky; s != nil && s.HighestSunDeg <= lowestSun {
		return nil
	}
	return d.h.Noise.Bright
}

func totalityLeft(d *diagnosis) (float64, bool) {
	bound := d.leastLux > totalityLux // the chain's own limit, said in its own row
	return d.totalLux, d.lux && !bound
}

func (d *diagnosis) totality() float64 {
	if d.totalS > 0 {
		return d.totalS
	}
	return usualTotalS
}

func swing(d *diagnosis) (float64, bool) {
	const leastH, leastSamples = 2, 100
	if d.h.Range == nil || !(d.h.SpanH >= leastH) || d.h.Samples < leastSamples {
		return 0, false
	}
	return d.h.Range.Swing, true
}

func saturation(d *diagnosis) (float64, bool) {
	c := d.h.Ceiling
	switch {
	case c == nil || d.inverted(): // then it is the dark that piles up at the top
		return 0, false
	case c.NoonShare != nil && !d.clockDoubted():
		return *c.NoonShare, true
	}
	return share(c.Samples, d.h.Samples), true
}

// twilight is asked where no chain tells the limit.
func twilight(d *diagnosis) (float64, bool) {
	if d.leastLux > 0 || !d.darkens || d.h.Floor == nil || d.h.Floor.TwilightSteps == nil || d.clockDoubted() {
		return 0, false
	}
	return *d.h.Floor.TwilightSteps, true
}

func nightOverDay(d *diagnosis) (float64, bool) {
	s := d.h.Sky
	if s == nil || s.NightToDay == nil {
		return 0, false
	}
	return *s.NightToDay, true
}

// nightLight leaves to the rule of inverted readings what is its own.
func nightLight(d *diagnosis) (float64, bool) {
	n, ok := nightOverDay(d)
	return n, ok && n <= invertedLimit
}

func (d *diagnosis) inverted() bool {
	n, ok := nightOverDay(d)
	return ok && n > invertedLimit
}

func noonOff(d *diagnosis) (float64, bool) {
	s := d.h.Sky
	if s == nil || s.NoonOffsetMin == nil {
		return 0, false
	}
	return math.Abs(*s.NoonOffsetMin), true
}

// clockDoubted says that the stamps may be hours off, so that where the Sun stood
// says nothing.
func (d *diagnosis) clockDoubted() bool {
	night, seen := nightOverDay(d)
	noon, paired := noonOff(d)
	return seen && night > nightLimit || paired && noon > noonLimitMin
}

func dayLux(d *diagnosis) (float64, bool) {
	if !d.lux || d.h.Sky == nil || d.h.Sky.DayReading == nil {
		return 0, false
	}
	return *d.h.Sky.DayReading, true
}

func stepsBack(d *diagnosis) (float64, bool) {
	return float64(d.h.Clock.Events[logfile.StepBack.String()]), true
}
