package main

import (
	"flag"
	"io"
	"time"
	_ "time/tzdata" // zones by name on machines that have none

	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/cli"
)

// settings are the flags.
type settings struct {
	cli.Common
	firmware bool
	dated    bool      // -date was given
	now      time.Time // the clock's
	logger   logger
}

// A logger is what the user says of the logger, and of the clock on the wall.
type logger struct {
	zone             string         // empty for UTC alone
	where            *time.Location // of zone
	current, battery float64        // mA, 0 for unknown, and mAh
	celsius          float64        // of the clock's crystal
}

// parse reads the flags.
func parse(args []string, help io.Writer) (*settings, error) {
	fs := cli.NewFlagSet("plan", "what an eclipse does at a site, and when; by the Moon's real edge or by the smooth one, and by both in second and third contact")
	o := &settings{Common: cli.Scenario()}
	o.Limb = cli.Real
	o.Register(fs)
	fs.BoolVar(&o.firmware, "firmware", false, "with -out, the prediction as plan.h and plan.csv for the logger's own program")
	l := &o.logger
	fs.StringVar(&l.zone, "zone", "", "`zone` to tell times in beside UTC, +HH:MM or an IANA name")
	fs.Float64Var(&l.current, "current", 0, "`milliamperes` that the logger draws in the mean, as you measured them")
	fs.Float64Var(&l.battery, "battery", 2000, "`milliampere hours` of its battery")
	fs.Float64Var(&l.celsius, "celsius", 25, "`degrees` in which its clock will live, give or take 5")
	if err := cli.Parse(fs, args, help); err != nil {
		return nil, err
	}
	if fs.NArg() > 0 {
		return nil, cli.Usagef("unexpected argument %q, plan takes flags only (-h lists them)", fs.Arg(0))
	}
	fs.Visit(func(f *flag.Flag) { o.dated = o.dated || f.Name == "date" })
	return o, o.check()
}

func (o *settings) check() (err error) {
	l := &o.logger
	switch {
	case o.firmware && o.Out == "":
		return cli.Usagef("-firmware writes files: give it a folder with -out")
	case !(l.current >= 0 && l.current <= 1e5):
		return cli.Usagef("-current %g: want milliamperes from 0 (unknown) to 100000", l.current)
	case !(l.battery > 0 && l.battery <= 1e6):
		return cli.Usagef("-battery %g: want milliampere hours above 0, to 1000000", l.battery)
	case !(l.celsius >= -50 && l.celsius <= 100):
		return cli.Usagef("-celsius %g: want degrees from -50 to 100", l.celsius)
	}
	if l.where, err = station.ParseZone(l.zone); err != nil {
		return cli.Usagef("-zone: %v", err)
	}
	return nil
}
