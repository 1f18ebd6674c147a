package cooling

import (
	"context"
	"fmt"
	"math"
	"time"

	"gonum.org/v1/gonum/stat"

	"example.org/noonfall/sensor/air"
)

// Options tunes a measurement. The zero value is the recommended setting where
// nothing is known of the thermometer.
type Options struct {
	// Thermometer is the thermometer's own lag, which is taken out. Its zero value is one
	// of which nothing is known: a minute within a factor of two. One that follows at
	// once has a Tau of a second or so.
	Thermometer air.Thermometer
	// Clock is how far the stamps of readings and control are ahead of UTC, and ClockU its
	// standard uncertainty, which is part of the lag's. Zero is a clock that is right.
	Clock, ClockU time.Duration
	// Cloudy says that clouds passed: how much light there was to lose is then not known
	// from hour to hour, and the lag the less. Thin even haze and an even deck are no such
	// clouds.
	Cloudy bool
	// Control are readings of a day without eclipse at the same place and hours, whole
	// days away. Without any the day's course is that of clear-sky insolation.
	Control []Reading
}

// A Result is the air's answer. Instants are UTC, temperatures degrees Celsius.
type Result struct {
	// Drop is the greatest departure of the air from a day without eclipse, positive
	// where it cooled, degrees Celsius.
	Drop Value
	// Lag is of that departure's greatest, after maximum eclipse, seconds.
	Lag Value
	// Tau is the time constant of the air, seconds, as of a first-order response.
	Tau Value
	// Min is when the air itself was coldest within the eclipse and the hour after, and
	// MinC how cold, by the likeliest answer. Where the day warms or cools by itself that
	// is another instant than the departure's.
	Min  time.Time
	MinC float64
	// Evidence is the natural logarithm of how much better an eclipse explains the
	// readings than a day without one.
	Evidence float64
	// Control says that the trend rests on a control day.
	Control bool
	// Used counts the readings, Failed those of a failed sensor (-127, 85, none), Spikes
	// those far from their neighbours.
	Used, Failed, Spikes int
	// NoiseC is the scatter of a reading, StepC the step between values; 0 if none is seen.
	NoiseC, StepC float64
	// Points is the picture: means over a minute or two.
	Points   []Point
	Warnings []string // for a person to read
}

// A Point is one instant of the picture, degrees Celsius.
type Point struct {
	UTC   time.Time // middle of the readings
	Read  float64   // the mean of the readings
	Trend float64   // the day without eclipse, its smooth part
	Air   float64   // the trend less the air's answer, the thermometer's lag removed
}

// least is how many means a log must have; fewer than the day's course has freedoms
// cannot tell (common practice, no source).
const least = 12

// Measure finds the air's answer. The error is a *[Refusal] where the readings
// cannot tell, an *[air.RangeError] for a thermometer that cannot be, or the
// context's.
func Measure(ctx context.Context, readings []Reading, l Light, opt Options) (*Result, error) {
	if _, err := opt.Thermometer.Read(nil); err != nil {
		return nil, err
	}
	if !(opt.ClockU >= 0) {
		return nil, fmt.Errorf("cooling: ClockU is %v, want none or more", opt.ClockU)
	}
	d, err := newDay(l)
	if err != nil {
		return nil, err
	}
	d.kinds = kinds(opt.Cloudy)
	s, err := d.series(readings, opt.Clock)
	if err != nil {
		return nil, err
	}
	control := d.control(opt.Control, opt.Clock)
	tau, weight := thermometers(opt.Thermometer)
	p, err := s.infer(ctx, d, control, tau, weight)
	if err != nil {
		return nil, err
	}
	return d.result(s, p, control, opt)
}

// series is the log in bins, or why it cannot be used.
func (d *day) series(readings []Reading, ahead time.Duration) (*series, error) {
	if len(readings) == 0 {
		return nil, refuse(NoReadings, "the log holds no temperature")
	}
	from, to := d.c1-window, d.c4+window
	readings = between(readings, d.utc(from).Add(ahead-time.Minute), d.utc(to).Add(ahead+time.Minute))
	s := newSeries(readings, func(t time.Time) float64 { return d.since(t.Add(-ahead)) }, from, to)
	switch {
	case s.failed > 0 && s.failed >= s.n:
		return nil, refuse(Failed, "%d of %d values near the eclipse are no air's (-127, 85 or none): look at the wiring", s.failed, s.failed+s.n)
	case s.n < 2:
		return nil, refuse(NoOverlap, "no reading within two hours of the eclipse")
	case len(s.t) < least:
		return nil, refuse(TooFew, "%d readings near the eclipse, at least %d are wanted", len(s.t), least)
	case s.t[0] > -900 || s.t[len(s.t)-1] < 900:
		return nil, refuse(NoOverlap, "readings from %s to %s; they must reach at least from a quarter of an hour before maximum to a quarter after",
			d.utc(s.t[0]).Format("15:04"), d.utc(s.t[len(s.t)-1]).Format("15:04"))
	}
	if deep := s.within(-1200, 2400); deep < 4 {
		return nil, refuse(TooFew, "%d means from 20 min before maximum to 40 after, at least 4 are wanted", deep)
	}
	if sd := stat.StdDev(s.c, nil); sd == 0 {
		return nil, refuse(Stuck, "every reading is %g degrees", s.c[0])
	}
	return &s, nil
}

// between leaves out what is before and after: most of a log of days is seen to be far away before
// its stamps are turned into seconds.
func between(readings []Reading, from, to time.Time) []Reading {
	for len(readings) > 0 && readings[0].UTC.Before(from) {
		readings = readings[1:]
	}
	for len(readings) > 0 && readings[len(readings)-1].UTC.After(to) {
		readings = readings[:len(readings)-1]
	}
	return readings
}

// within counts the bins between two instants.
func (s *series) within(from, to float64) (n int) {
	for _, t := range s.t {
		if t >= from && t <= to {
			n++
		}
	}
	return n
}

// control is the course of the control day at the same hours, moved by whole days;
// nil if there is none, or too little of it.
func (d *day) control(readings []Reading, ahead time.Duration) *course {
	since := func(t time.Time) float64 {
		x := d.since(t.Add(-ahead))
		days := math.Round(x / 86400)
		if days == 0 {
			return math.NaN() // the eclipse's own day
		}
		return x - 86400*days
	}
	c := newSeries(readings, since, d.c1-window, d.c4+window)
	if len(c.t) < least || c.t[0] > -900 || c.t[len(c.t)-1] < 900 {
		return nil
	}
	out := newCourse(d.sunny.from, d.sunny.ticks(), 1)
	mean := stat.Mean(c.c, nil)
	k := 0
	for i := range out.v {
		x := out.from + tick*float64(i)
		for k < len(c.t)-2 && c.t[k+1] < x {
			k++
		}
		f := math.Max(0, math.Min(1, (x-c.t[k])/(c.t[k+1]-c.t[k])))
		out.v[i] = c.c[k] + f*(c.c[k+1]-c.c[k]) - mean
	}
	return &out
}

// cloudyU is what passing clouds leave open of the lag, s: they let the light through now
// and not then, and the middle of what there was to lose shifts by minutes. Twenty-five minutes of
// eclipse either way, four tenths of the light there or not for a quarter of an hour, and half of it
// followed by the air, make some two minutes. Common practice, no source.
const cloudyU = 120.0

// Bars for an eclipse to be found: the odds are exp(4), and the drop is three times
// its uncertainty. Common practice, no source; the share of days without eclipse that
// pass is measured by TestDaysWithoutEclipse.
const (
	leastEvidence = 4.0
	leastRatio    = 3.0
)

// result gathers the answer or says that there is none.
func (d *day) result(s *series, p *posterior, control *course, opt Options) (*Result, error) {
	shared := opt.ClockU.Seconds() * opt.ClockU.Seconds() // what all guesses have in common
	if opt.Cloudy {
		shared += cloudyU * cloudyU
	}
	r := &Result{
		Drop: p.drop(), Lag: p.lag(shared), Tau: p.tau(),
		Evidence: p.evidence, Control: control != nil,
		Used: s.n, Failed: s.failed, Spikes: s.spikes, NoiseC: s.noise, StepC: s.quantum,
	}
	if !(r.Evidence >= leastEvidence && r.Drop.Value >= leastRatio*r.Drop.U) {
		if s.quantum > 0.3 && r.Drop.CI95[1] < 3*s.quantum {
			return nil, refuse(TooCoarse, "the readings go by steps of %.2g degrees, and a drop of %.1f +- %.1f degrees is not told from the trend", s.quantum, r.Drop.Value, r.Drop.U)
		}
		return nil, refuse(NoDrop, "the drop is %.1f +- %.1f degrees; a longer log, a shaded thermometer or a control day would help", r.Drop.Value, r.Drop.U)
	}
	if err := d.picture(r, s, p); err != nil {
		return nil, err
	}
	r.warn(s, len(opt.Control) > 0)
	return r, nil
}

// warn says what looks odd.
func (r *Result) warn(s *series, control bool) {
	if control && !r.Control {
		r.Warnings = append(r.Warnings, "the control day has too few temperatures at the eclipse's hours; the trend is had without it")
	}
	if r.Drop.CI95[0] > 8 {
		r.Warnings = append(r.Warnings, fmt.Sprintf("a drop of %.1f degrees is more than any published (7): sunlight on the thermometer?", r.Drop.Value))
	}
	if r.Lag.CI95[1] < 240 {
		r.Warnings = append(r.Warnings, fmt.Sprintf("the air follows the light within %.0f s: sunlight on the thermometer?", r.Lag.CI95[1]))
	}
	if s.failed > 0 {
		r.Warnings = append(r.Warnings, fmt.Sprintf("%d temperatures of a failed sensor (-127, 85 or none) were left out", s.failed))
	}
	if s.t[0] > -3600 || s.t[len(s.t)-1] < 3600 {
		r.Warnings = append(r.Warnings, "the temperatures cover the eclipse in part only; before first and after last contact the trend is seen best")
	}
}

// picture fills the points and the minimum with the likeliest answer.
func (d *day) picture(r *Result, s *series, p *posterior) error {
	b := p.best()
	kind := p.tries.kinds[b.kind]
	var air course
	d.answers(&air, kind, taus().fine[b.fine])
	seen := air.lagged(p.tries.thermometers[b.th])
	rest := make([]float64, len(p.y))
	for i, t := range s.t {
		rest[i] = p.y[i] + b.drop*seen.at(t)
	}
	trend, err := s.trend(p.days[b.day].rough, p.columns, rest)
	if err != nil {
		return err
	}
	mean := stat.Mean(s.c, nil)
	r.MinC = math.Inf(1)
	for i, t := range s.t {
		q := Point{UTC: d.utc(t), Read: s.c[i], Trend: trend[i] + mean}
		q.Air = q.Trend - b.drop*air.at(t)
		r.Points = append(r.Points, q)
		if t > d.c1 && t < d.c4+3600 && q.Air < r.MinC {
			r.Min, r.MinC = q.UTC, q.Air
		}
	}
	return nil
}
