package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"strconv"
	"strings"

	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/sensor"
)

// settings are the flags.
type settings struct {
	cli.Common
	sensor, cell           string
	supply, dead           float64
	bits                   int
	r10, gamma, dark, amps float64
	series                 sensor.Series
	low, high, fine        float64
	load                   float64
	given                  map[string]bool // the flags that stand on the command line
	day                    string          // of the eclipse at the site that was asked for, YYYY-MM-DD
	sky                    sky             // its light
}

// The invented cell lies between those of a catalogue that has 13 to 160 kohm at
// 1 lx and 0.9 to 9 kohm at 100 lx (testdata/references/cds_catalogue_points.csv): it
// has 117 and 7.5.
var invented = settings{
	Common: cli.Scenario(),
	sensor: "photoresistor", cell: "top", supply: 3.3, bits: 12, dead: 0.02,
	r10: 30e3, gamma: 0.6, dark: 5e6,
	amps: 0.5e-6, series: sensor.E12, low: 1, high: 133.3e3, fine: 20,
}

// kinds are the flags that only one kind of sensor has.
var kinds = map[string]string{
	"r10": "photoresistor", "gamma": "photoresistor", "dark": "photoresistor", "cell": "photoresistor",
	"amps": "phototransistor",
}

func parse(args []string, help io.Writer) (settings, error) {
	fs, o := cli.NewFlagSet("divider", "which load resistor reads both full Sun and totality?"), invented
	o.Register(fs)
	fs.StringVar(&o.sensor, "sensor", o.sensor, "`photoresistor|phototransistor`")
	fs.StringVar(&o.cell, "cell", o.cell, "where the photoresistor is, `top|bottom`: counts rise or fall with light")
	fs.Float64Var(&o.supply, "supply", o.supply, "`volts` across the circuit, and the converter's reference")
	fs.IntVar(&o.bits, "bits", o.bits, "the converter's resolution, `8 to 24`")
	fs.Float64Var(&o.dead, "dead", o.dead, "`part` of the converter's scale at either end that is not to be believed")
	fs.Float64Var(&o.r10, "r10", o.r10, "the photoresistor's `ohms` at 10 lx")
	fs.Float64Var(&o.gamma, "gamma", o.gamma, "the photoresistor's `exponent`")
	fs.Float64Var(&o.dark, "dark", o.dark, "the photoresistor's `ohms` without light; 0 for endless")
	fs.Float64Var(&o.amps, "amps", o.amps, "the phototransistor's `amperes per lux`")
	fs.Var((*seriesFlag)(&o.series), "series", "preferred numbers that loads are bought in, `E3|E6|E12|E24|E48|E96|E192`")
	fs.Float64Var(&o.low, "low", o.low, "the darkest light that matters, `lux`; with -site or -date what that eclipse has there")
	fs.Float64Var(&o.high, "high", o.high, "the brightest light that matters, `lux`; likewise")
	fs.Float64Var(&o.fine, "fine", o.fine, "`counts` that a doubling of the light must be worth everywhere")
	fs.Float64Var(&o.load, "load", o.load, "a load of your own to try, `ohms`")
	if err := cli.Parse(fs, args, help); err != nil {
		return o, err
	}
	var stray error
	o.given = map[string]bool{}
	fs.Visit(func(f *flag.Flag) {
		o.given[f.Name] = true
		if kind := kinds[f.Name]; kind != "" && kind != o.sensor {
			stray = cli.Usagef("-%s is a %s's: leave it out, or use -sensor %s", f.Name, kind, kind)
		}
	})
	switch {
	case fs.NArg() > 0:
		return o, cli.Usagef("unexpected argument %q, divider takes flags only (-h lists them)", fs.Arg(0))
	case o.sensor != "photoresistor" && o.sensor != "phototransistor":
		return o, cli.Usagef("-sensor is %q, want photoresistor or phototransistor", o.sensor)
	case wirings[o.cell] == "":
		return o, cli.Usagef("-cell is %q, want top or bottom", o.cell)
	case o.fine == 0: // which to the library means the usual
		return o, cli.Usagef("-fine is 0, want 1 to 1e6 counts per octave: 20 is usual")
	}
	return o, stray
}

// told says that the sensor is somebody's and not the invented one.
func (o *settings) told() bool {
	return o.given["r10"] || o.given["gamma"] || o.given["dark"] || o.given["amps"]
}

var wirings = map[string]sensor.Wiring{"top": sensor.CellOnTop, "bottom": sensor.CellAtBottom}

// saturationV is left across a phototransistor that is fully on: common, from memory.
const saturationV = 0.4

// lawEnds is the light above which no photoresistor is believed, lx: more than the
// Sun gives (see package sensor).
const lawEnds = 200e3

// chain is the circuit without its load.
func (o *settings) chain() sensor.Chain {
	c := sensor.Chain{ADC: sensor.ADC{Bits: o.bits, Ratiometric: true, DeadLow: o.dead, DeadHigh: o.dead}}
	if o.dead == 0 { // which to the library means the usual
		c.ADC.DeadLow, c.ADC.DeadHigh = 1e-9, 1e-9
	}
	if o.sensor == "phototransistor" {
		c.Phototransistor = &sensor.Phototransistor{SupplyV: o.supply, AmperesPerLux: o.amps, SaturationV: saturationV}
		return c
	}
	c.Divider = &sensor.Divider{Wiring: wirings[o.cell], SupplyV: o.supply,
		Cell: sensor.Photoresistor{R10Ohm: o.r10, Gamma: o.gamma, DarkOhm: o.dark, MaxLux: lawEnds}}
	return c
}

// options are what the library is asked for. Full Sun is the brightest light.
func (o *settings) options() sensor.DesignOptions {
	return sensor.DesignOptions{Series: o.series, CountsPerOctave: o.fine, SunLux: o.high}
}

// causes are the flags that set the library's fields, with what to do.
var causes = map[string]struct{ flag, remedy string }{
	"divider.supply_v":                {"-supply", "volts: 3.3 is usual"},
	"phototransistor.supply_v":        {"-supply", "volts: 3.3 is usual"},
	"phototransistor.saturation_v":    {"-supply", "volts, enough for the 0.4 V that the transistor keeps"},
	"adc.bits":                        {"-bits", "bits, as the converter's data sheet says"},
	"adc.dead_low_fraction":           {"-dead", "of full scale: 0.02 is usual"},
	"adc.dead_high_fraction":          {"-dead", "of full scale: 0.02 is usual"},
	"divider.cell.r10_ohm":            {"-r10", "ohms at 10 lx"},
	"divider.cell.gamma":              {"-gamma", "as the catalogue says, or 0.6"},
	"divider.cell.dark_ohm":           {"-dark", "ohms, or 0 for endless"},
	"phototransistor.amperes_per_lux": {"-amps", "amperes per lux: 0.5e-6 is usual"},
	"divider.load_ohm":                {"-load", "ohms"},
	"phototransistor.load_ohm":        {"-load", "ohms"},
	"design.least_lux":                {"-low", "lx"},
	"design.greatest_lux":             {"-high", "lx, at least twice -low"},
	"design.sun_lux":                  {"-high", "lx, at least twice -low"},
	"design.counts_per_octave":        {"-fine", "counts per octave: 20 is usual"},
}

// explain names the flag where the library names a field.
func (o *settings) explain(err error) error {
	var part *sensor.PartError
	if !errors.As(err, &part) || causes[part.Field].flag == "" {
		return err
	}
	if part.Min > part.Max {
		return cli.Usagef("-low is %g, too near the most that -high can be, %g: make -low less", part.Min/2, part.Max)
	}
	c := causes[part.Field]
	return cli.Usagef("%s is %g, want %g to %g %s", c.flag, part.Value, part.Min, part.Max, c.remedy)
}

// seriesFlag reads E12, e12 or 12.
type seriesFlag sensor.Series

func (f *seriesFlag) String() string { return fmt.Sprintf("E%d", int(*f)) }

func (f *seriesFlag) Set(s string) error {
	n, err := strconv.Atoi(strings.TrimPrefix(strings.ToUpper(s), "E"))
	if err != nil || !sensor.Series(n).Valid() {
		return errors.New("want E3, E6, E12, E24, E48, E96 or E192")
	}
	*f = seriesFlag(n)
	return nil
}
