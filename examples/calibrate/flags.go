package main

import (
	"flag"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/logfile"
	"example.org/noonfall/sun"
)

// settings are the flags.
type settings struct {
	cli.Common
	station, lamp, morning string
	zone, order, light     string
	candela, candelaU      float64
	zero, room             float64
	exponent               float64
	surface                sun.Surface
	given                  map[string]bool // the flags that stand on the command line
}

// demo says that nothing of one's own was named.
func (o *settings) demo() bool { return o.lamp == "" && o.morning == "" }

func parse(args []string, help io.Writer) (settings, error) {
	fs := cli.NewFlagSet("calibrate", "what does a count of the light sensor mean? by a lamp at measured distances, and by the Sun's climb on a clear morning")
	o := settings{Common: cli.Scenario(), candelaU: demoCandelaU, given: map[string]bool{}}
	o.Register(fs)
	fs.Lookup("date").Usage = "`YYYY-MM-DD` of the morning; the day with most of the log where it is not given"
	fs.StringVar(&o.station, "station", "", "the station's description, a JSON `file`, with a chain whose cell may be a catalogue's")
	fs.StringVar(&o.lamp, "lamp", "", "readings under a lamp, a CSV `file` with columns distance_m, reading and, if known, distance_u_m, reading_u")
	fs.StringVar(&o.morning, "morning", "", "log of a clear morning, a `file`")
	fs.Float64Var(&o.candela, "candela", 0, "the lamp's luminous intensity towards the sensor, `cd`; lumens over 12.6 for a round one. Without it the lamp gives the exponent only")
	fs.Float64Var(&o.candelaU, "candela-u", o.candelaU, "its relative standard uncertainty, a `part`")
	fs.Float64Var(&o.zero, "zero", 0, "what to add to the distances, `metres`; fitted where it is not given")
	fs.Float64Var(&o.room, "room", 0, "the light with the lamp covered, `lux`; fitted where it is not given")
	fs.Float64Var(&o.exponent, "exponent", 0, "the `power` with which the morning's reading follows the light, where it is known; 1 for what is linear")
	fs.Var((*surfaceFlag)(&o.surface), "tilt", "how the sensor lay in the morning, `TILT,AZIMUTH` in degrees; flat where it is not given")
	fs.StringVar(&o.zone, "zone", "", "zone of the log's stamps that carry none, `+HH:MM` or an IANA name")
	fs.StringVar(&o.order, "order", "", "order of the log's dates, `ymd|dmy|mdy`")
	fs.StringVar(&o.light, "light", "", "the log's light `column`, by name or number from 1")
	if err := cli.Parse(fs, args, help); err != nil {
		return o, err
	}
	fs.Visit(func(f *flag.Flag) { o.given[f.Name] = true })
	return o, o.check(fs.Args())
}

// lampOnly and morningOnly are flags that say nothing without the file they are about.
var lampOnly, morningOnly = []string{"candela", "candela-u", "zero", "room"}, []string{"exponent", "tilt", "zone", "order", "light"}

func (o *settings) check(rest []string) error {
	if len(rest) > 0 {
		return cli.Usagef("unexpected argument %q: name the log with -morning and the lamp's sheet with -lamp", rest[0])
	}
	for _, r := range []struct {
		flags []string
		file  string
		name  string
	}{{lampOnly, o.lamp, "-lamp"}, {morningOnly, o.morning, "-morning"}} {
		for _, f := range r.flags {
			if o.given[f] && r.file == "" {
				return cli.Usagef("-%s says something about the file of %s: name it", f, r.name)
			}
		}
	}
	if o.demo() && (o.station != "" || o.given["site"] || o.given["date"]) {
		return cli.Usagef("name a lamp's sheet with -lamp or a log with -morning; without both the demo is calibrated, which has its own station")
	}
	for _, r := range []struct {
		flag            string
		value, min, max float64
	}{
		{"candela", o.candela, 1e-3, 1e6}, {"candela-u", o.candelaU, 0, 1}, {"zero", o.zero, -10, 10}, {"room", o.room, 0, 1e5}, {"exponent", o.exponent, -5, 5},
	} {
		if o.given[r.flag] && !(r.value >= r.min && r.value <= r.max) {
			return cli.Usagef("-%s is %g, want %g to %g", r.flag, r.value, r.min, r.max)
		}
	}
	if o.room > 0 && !o.given["candela"] {
		return cli.Usagef("-room is in lux, and without -candela the lamp's light has no scale: give -candela, or leave -room out to have it fitted")
	}
	if o.given["exponent"] && o.exponent == 0 {
		return cli.Usagef("-exponent is 0, and such a reading follows no light: leave it out to have it fitted")
	}
	if _, err := station.ParseZone(o.zone); err != nil {
		return cli.Usagef("-zone: %v", err)
	}
	if _, err := logfile.ParseOrder(o.order); err != nil {
		return cli.Usagef("-order: %v", err)
	}
	return nil
}

// surfaceFlag reads TILT,AZIMUTH.
type surfaceFlag sun.Surface

func (f *surfaceFlag) String() string { return fmt.Sprintf("%g,%g", f.Tilt, f.Azimuth) }

func (f *surfaceFlag) Set(s string) error {
	tilt, azimuth, ok := strings.Cut(s, ",")
	if !ok {
		return fmt.Errorf("want TILT,AZIMUTH with a point for the decimals")
	}
	var v [2]float64
	for i, text := range []string{tilt, azimuth} {
		var err error
		if v[i], err = strconv.ParseFloat(strings.TrimSpace(text), 64); err != nil || math.IsInf(v[i], 0) {
			return fmt.Errorf("%q is no number, want TILT,AZIMUTH", text)
		}
	}
	face := sun.Surface{Tilt: v[0], Azimuth: v[1]}
	if err := face.Validate(); err != nil {
		return err
	}
	*f = surfaceFlag(face)
	return nil
}
