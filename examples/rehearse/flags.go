package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"time"

	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/examples/internal/demo"
	"example.org/noonfall/sensor/dips"
)

// settings are the flags.
type settings struct {
	cli.Common
	station            string
	clock, drift       float64
	zone               int
	skies              []rehearsal.Weather
	cuts               int
	outage             time.Duration
	torn, zeros        int
	lag, cadence       time.Duration
	days               int
	within             float64
	seed               uint64
	bench, light, tick string
	dark, leastDip     float64
	sense              dips.Sense

	given map[string]bool
	desc  *station.Station
}

// What is feared without flags: the clock of a week before, set by hand; summer time in the school's
// country; two failures of a minute; a card that loses a line in some hundreds. All invented.
var invented = settings{
	Common: cli.Scenario(),
	clock:  41.7, drift: 11, zone: 2,
	skies: []rehearsal.Weather{rehearsal.Haze, rehearsal.Cumulus, rehearsal.Broken, rehearsal.Deck, rehearsal.Shade, rehearsal.Veiled, rehearsal.Cirrus},
	cuts:  2, outage: time.Minute, torn: 20, zeros: 5, cadence: 2 * time.Second, days: 3, within: 5, seed: 1,
}

func parse(args []string, help io.Writer) (*settings, error) {
	fs, o := cli.NewFlagSet("rehearse", "would the plan survive the day? And with -bench: when did the ball pass before the lamp?"), invented
	o.Limb = cli.Real
	o.Register(fs)
	fs.StringVar(&o.station, "station", "", "the station's description, a JSON `file`: its site, eclipse and sensor are rehearsed")
	fs.Float64Var(&o.clock, "clock", o.clock, "fear: by how many `seconds` the clock is fast")
	fs.Float64Var(&o.drift, "drift", o.drift, "fear: by how many `millionths` it gains")
	fs.IntVar(&o.zone, "zone", o.zone, "fear: `hours` of a local time that was set for UTC")
	fs.Var((*skyFlag)(&o.skies), "sky", "fear: `list` of clear haze cumulus broken deck shade veiled cirrus; none for none")
	fs.IntVar(&o.cuts, "cuts", o.cuts, "fear: `times` that the power fails")
	fs.DurationVar(&o.outage, "outage", o.outage, "for `how long` each time")
	fs.IntVar(&o.torn, "torn", o.torn, "fear: `lines` that the card tears")
	fs.IntVar(&o.zeros, "zeros", o.zeros, "fear: `lines` that end in zero bytes")
	fs.DurationVar(&o.lag, "lag", o.lag, "by `how much` the recorded light is older than its stamp")
	fs.DurationVar(&o.cadence, "cadence", o.cadence, "`time` from one record to the next, whole seconds")
	fs.IntVar(&o.days, "days", o.days, "made-up `days` for each fear, 1 to 100")
	fs.Float64Var(&o.within, "within", o.within, "`seconds` either way within which the clock is to be found")
	fs.Uint64Var(&o.seed, "seed", o.seed, "`number` that chooses the made-up days")
	fs.StringVar(&o.bench, "bench", "", "a log of the bench, a `file`, to find a ball's passages in; demo for an invented one")
	fs.StringVar(&o.light, "light", "", "with -bench: the light `column`, by name or number from 1")
	fs.StringVar(&o.tick, "tick", "", "with -bench: what a count since the logger's start counts, `s|ms|us`")
	fs.Float64Var(&o.dark, "dark", 0, "with -bench: the `reading` in darkness, from which depths are counted")
	fs.Float64Var(&o.leastDip, "least", 0, "with -bench: the least `depth` of a passage, a part of the light; 0 for 0.02")
	fs.Var((*senseFlag)(&o.sense), "sense", "with -bench: `auto|falling|rising`, how readings go as the light falls")
	if err := cli.Parse(fs, args, help); err != nil {
		return nil, err
	}
	if fs.NArg() > 0 {
		return nil, cli.Usagef("unexpected argument %q, rehearse takes flags only (-h lists them)", fs.Arg(0))
	}
	o.given = given(fs)
	if err := o.check(); err != nil {
		return nil, err
	}
	if o.bench != "" {
		return &o, nil
	}
	return &o, o.describe()
}

// check says which flag cannot be.
func (o *settings) check() error {
	whole := func(d time.Duration) bool { return d > 0 && d%time.Second == 0 && d <= 10*time.Minute }
	for _, f := range []struct {
		ok         bool
		name, want string
	}{
		{math.Abs(o.clock) < 1e5, "clock", "less than 100000 s either way"},
		{math.Abs(o.drift) < 1e3, "drift", "less than 1000 millionths either way"},
		{o.zone >= -15 && o.zone <= 15, "zone", "-15 to 15 h"},
		{o.cuts >= 0 && o.cuts <= 1000, "cuts", "0 to 1000"},
		{o.outage >= 0 && o.outage <= 12*time.Hour, "outage", "0 to 12h"},
		{o.torn >= 0 && o.torn <= 100000, "torn", "0 to 100000"},
		{o.zeros >= 0 && o.zeros <= 100000, "zeros", "0 to 100000"},
		{o.lag >= 0 && o.lag <= 10*time.Minute, "lag", "0 to 10m"},
		{whole(o.cadence), "cadence", "whole seconds, at most 10m"},
		{o.days >= 1 && o.days <= 100, "days", "1 to 100"},
		{o.within > 0 && o.within < 1e6, "within", "more than 0 s"},
		{math.Abs(o.dark) < 1e12, "dark", "a reading"},
		{o.leastDip >= 0 && o.leastDip < 1, "least", "at least 0 and below 1"},
	} {
		if !f.ok {
			return cli.Usagef("-%s: want %s", f.name, f.want)
		}
	}
	if _, ok := ticks[o.tick]; !ok {
		return cli.Usagef("-tick: want s, ms or us")
	}
	for name := range o.given {
		if bench := benchFlags[name]; bench && o.bench == "" {
			return cli.Usagef("-%s belongs to -bench", name)
		}
	}
	return nil
}

var benchFlags = map[string]bool{"light": true, "tick": true, "dark": true, "least": true, "sense": true}

// describe finds the station that is rehearsed: that of -station, or the demo's sensor at the site.
func (o *settings) describe() error {
	var text []byte
	var err error
	name := o.station
	if name == "" {
		name = demo.StationFile
		text, err = demoFile(name)
	} else {
		text, err = os.ReadFile(name)
	}
	if err != nil {
		return err
	}
	if o.desc, err = station.Parse(text); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	s := o.desc
	if o.given["site"] || o.station == "" {
		s.Site = station.Site{Lat: o.Site.Lat, Lon: o.Site.Lon, Height: o.Site.Height}
	}
	if o.given["date"] || o.station == "" {
		s.Eclipse = o.Date.Format(time.DateOnly)
	}
	if o.DeltaT == nil {
		o.DeltaT = s.DeltaT
	}
	s.DeltaT, s.Zone, s.Layout, s.Files = o.DeltaT, "", station.Layout{}, nil // the made-up logger writes UTC
	if o.station == "" {
		s.Code = "REHEARSAL"
	}
	s.Control, s.ClockSet, s.ClockNotes = nil, "", nil // those are of another clock and other days
	s.Remarks = "Invented data: a rehearsal; nothing was measured."
	return s.Validate()
}

type skyFlag []rehearsal.Weather

func (f *skyFlag) String() string {
	var names []string
	for _, w := range *f {
		names = append(names, w.String())
	}
	return strings.Join(names, ",")
}

// Set reads names between commas.
func (f *skyFlag) Set(s string) error {
	*f = nil
	if s == "none" {
		return nil
	}
	for _, name := range strings.Split(s, ",") {
		var w rehearsal.Weather
		if w.UnmarshalText([]byte(name)) != nil {
			return fmt.Errorf("%q is no sky, want a list of clear haze cumulus broken deck shade veiled, or none", name)
		}
		*f = append(*f, w)
	}
	return nil
}

type senseFlag dips.Sense

func (f *senseFlag) String() string { return dips.Sense(*f).String() }

// Set reads a name.
func (f *senseFlag) Set(s string) error {
	for _, v := range []dips.Sense{dips.Auto, dips.Falling, dips.Rising} {
		if s == v.String() {
			*f = senseFlag(v)
			return nil
		}
	}
	return errors.New("want auto, falling or rising")
}
