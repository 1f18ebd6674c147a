package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"text/tabwriter"
	"time"

	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/sensor"
	"example.org/noonfall/sensor/crystal"
)

// row is a line such as loggers write: its length is what counts.
const row = "2027-08-02T07:10:00Z,12345,24.5,55.0,1013.2\r\n"

// usable is the part of a battery's printed capacity to count on, in the heat and at the end
// of its life: common practice, no source.
const usable = 0.8

// hoursWords says from when to when, how much that writes, and whether the battery lasts.
func (p *plan) hoursWords(w io.Writer) {
	from, until, ok := p.hours()
	if !ok {
		return
	}
	const layout = "2006-01-02 15:04"
	fmt.Fprintf(w, "Let the logger run from %s to %s UTC at least:\n", from.Format(layout), until.Format(layout))
	if p.logger.zone != "" {
		fmt.Fprintf(w, "%s to %s in %s.\n", from.In(p.logger.where).Format(layout), until.In(p.logger.where).Format(layout), p.logger.zone)
	}
	const kilo, giga = 1e3, 1e9
	n := lines(from, until)
	size := float64(n * len(row))
	says := fmt.Sprintf("%d lines at one a second, of %d bytes each as \"2027-08-02T07:10:00Z,12345,24.5,55.0,1013.2\" is, are %.0f kB: a card of 1 GB has room for %.0f such days. ",
		n, len(row), math.Ceil(size/kilo), math.Floor(giga/size))
	io.WriteString(w, cli.Wrap(says+p.batteryWords(until.Sub(from).Hours()), "", ""))
}

func lines(from, until time.Time) int { return int(until.Sub(from) / time.Second) }

func (p *plan) batteryWords(hours float64) string {
	l := &p.logger
	if !(l.current > 0) {
		return fmt.Sprintf("Measure the current that your logger draws in the mean, and -current says whether the battery lasts these %.1f hours.", hours)
	}
	lasts := l.lasts()
	says := fmt.Sprintf("At %g mA a battery of %g mAh, of which four fifths are to be counted on, lasts %.0f hours; %.1f are needed", l.current, l.battery, math.Floor(lasts), hours)
	if lasts < hours {
		return says + ": NOT ENOUGH."
	}
	return says + "."
}

// lasts is how long the battery does, hours.
func (l *logger) lasts() float64 { return usable * l.battery / l.current }

// A wander is how far a clock has gone by maximum that was set some time before.
type wander struct {
	before time.Duration
	crystal.Drift
}

// The clock's budget: right to a second at maximum, with 95 %; set by hand and eye, which
// is good to 0.3 s (common practice, no source; see crystal.Budget).
const (
	budget = 1.0
	setU   = 0.3
	// celsiusU is the standard uncertainty of the temperature given, kelvin.
	celsiusU = 5
)

// A clockwork is the cheap clock's answer.
type clockwork struct {
	wanders []wander
	setFrom crystal.Deadline
}

// clockwork asks the library how the usual clock will do.
func (p *plan) clockwork() (c clockwork, err error) {
	if !p.local.MaxSeen.Exists {
		return c, nil
	}
	history := crystal.Constant(p.logger.celsius)
	history.U = celsiusU
	clock, err := crystal.New(crystal.TuningFork(), history)
	if err != nil {
		return c, err
	}
	const day = 24 * time.Hour
	at := p.local.MaxSeen.UTC
	for _, before := range []time.Duration{time.Hour, day, 7 * day, 30 * day} {
		drift, err := clock.Drift(at.Add(-before), at)
		if err != nil {
			return c, err
		}
		c.wanders = append(c.wanders, wander{before, drift})
	}
	if c.setFrom, err = clock.SetFrom(at, crystal.Budget{Seconds: budget, SetU: setU}); c.setFrom.Verdict == crystal.By {
		c.setFrom.At = c.setFrom.At.Truncate(time.Minute).Add(time.Minute) // later is better
	}
	return c, err
}

// clockWords says how far the clock will have wandered, and by when to set it.
func (p *plan) clockWords(w io.Writer) {
	c := &p.clocks
	if len(c.wanders) == 0 {
		return
	}
	fmt.Fprintf(w, "\nThe logger's clock, a battery clock's crystal as catalogues describe it, at %g degrees\n(give or take %d), by the deepest instant:\n\n", p.logger.celsius, celsiusU)
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "set before\tgained\tgive or take\t")
	for _, g := range c.wanders {
		fmt.Fprintf(t, "%s\t%+.1f s\t%.1f s\t\n", span(g.before), g.Seconds, g.SecondsU)
	}
	t.Flush()
	says := "Such a clock cannot be set well enough by hand to be right to a second."
	switch c.setFrom.Verdict {
	case crystal.By:
		says = fmt.Sprintf("To be right to a second (19 times in 20), set it by hand not before %s UTC.", c.setFrom.At.Format("2006-01-02 15:04"))
	case crystal.Always:
		says = "It stays right to a second for as long as anybody looked."
	}
	fmt.Fprint(w, "\n"+cli.Wrap(says+" Note its error against a good clock on the day, before and after: that is worth more than any table.", "", ""))
}

func span(d time.Duration) string {
	switch hours := whole(d.Hours()); {
	case hours == 1:
		return "an hour"
	case hours < 48:
		return fmt.Sprintf("%d hours", hours)
	default:
		return fmt.Sprintf("%d days", hours/24)
	}
}

// What the model of the light leaves open: totality is 1 to 10 lx where it has 4, and a
// clear sky differs by a third (see packages eclipse and sun).
const (
	darker   = 4
	brighter = 4.0 / 3
)

// invented is the circuit that the advice is for: a made-up cell on top of a supply of
// 3.3 V, and 12 bits. Cells of one type differ by a factor of two (from memory).
func invented() sensor.Chain {
	return sensor.Chain{
		ADC: sensor.ADC{Bits: 12, Ratiometric: true},
		Divider: &sensor.Divider{Wiring: sensor.CellOnTop, SupplyV: 3.3,
			Cell: sensor.Photoresistor{R10Ohm: 30e3, Gamma: 0.6, DarkOhm: 5e6}},
	}
}

// design chooses the load for the light of the plan.
func (p *plan) design() (*sensor.Design, error) {
	low, high, ok := p.span()
	if !ok {
		return nil, nil
	}
	d, err := invented().Design(low, high, sensor.DesignOptions{Series: sensor.E12, SunLux: high})
	if errors.Is(err, sensor.ErrBlind) {
		return nil, nil
	}
	return &d, err
}

// span is the light that a sensor must serve, lx, with what the model leaves open.
func (p *plan) span() (low, high float64, ok bool) {
	if len(p.light) == 0 {
		return 0, 0, false
	}
	low, high = math.Inf(1), 0.0
	for _, pt := range p.light {
		low, high = math.Min(low, pt.Lux), math.Max(high, pt.Lux)
	}
	return math.Max(low/darker, 1e-6), math.Min(high*brighter, 1e6), true
}

// loadWords says which load and filter suit.
func (p *plan) loadWords(w io.Writer) {
	d := p.load
	if d == nil {
		return
	}
	low, high, _ := p.span()
	says := fmt.Sprintf("With a quarter of the least and 4/3 of the greatest, which the model leaves open, it must read from %s to %s lx. An invented photoresistor of 30 kohm at 10 lx, exponent 0.6, on top of 3.3 V with 12 bits: ",
		twoDigits(low), twoDigits(high))
	switch {
	case d.Enough:
		says += fmt.Sprintf("a load of %g ohm reads all of it, %s.", d.One.Ohms, filterWords(d.One))
	case d.Two == nil || !d.Two.Enough:
		says += fmt.Sprintf("no load nor pair of loads reads all of it finely; the best one is %g ohm.", d.One.Ohms)
	default:
		says += fmt.Sprintf("one load (the best is %g ohm) is too coarse at the ends, and two such sensors do: %g ohm for the dim part and %g ohm for the bright one, %s, with a handover at %s lx.",
			d.One.Ohms, d.Two.Dim.Ohms, d.Two.Bright.Ohms, filterWords(d.Two.Bright), twoDigits(d.Two.HandoverLux))
	}
	fmt.Fprint(w, "\n"+cli.Wrap(says+fmt.Sprintf(" For your own: go run ./examples/divider -low %s -high %s.", twoDigits(low), twoDigits(high)), "", ""))
}

func filterWords(l sensor.Load) string {
	if l.SunDensity > 0 {
		return fmt.Sprintf("behind a filter of density %.1f (for the sensor, none for eyes)", l.SunDensity)
	}
	return "without a filter"
}

// whole is a number without its fraction, and without a minus before 0.
func whole(v float64) int { return int(math.Round(v)) }
