// Divider chooses the load: the one ordinary resistor that decides whether a
// photoresistor can read both full Sun and totality.
//
//	go run ./examples/divider
//	go run ./examples/divider -r10 10000 -gamma 0.7 -load 1000
//	go run ./examples/divider -site 40.4,-3.7 -date 2027-08-02
//	go run ./examples/divider -sensor phototransistor -amps 0.5e-6
//	go run ./examples/divider -json -out /tmp/divider
//
// Without flags it chooses for an invented cell, a supply of 3.3 V and a converter
// of 12 bits, and tells the whole story.
//
// # What you will learn
//
// How a resistance becomes counts, why one load reads well at one light only, how
// to choose the one that is fair to both ends of five decades, and when no load is.
//
// # The physics
//
// A converter measures volts, a photoresistor has ohms. In series with a load
// across the supply it makes a divider, and the converter looks at the tap between
// the two. With the cell on top, towards the supply, counts rise with light:
//
//	counts = 2^bits load/(load + cell)       cell = load (2^bits/counts - 1)
//
// The cell's ohms fall as a power of the light, so that a doubling of the light,
// an octave, always divides them by the same factor, 2^gamma:
//
//	1/cell = 1/dark + (light / 10 lx)^gamma / r10
//
// On the counts an octave is worth most where cell and load are equal, and less
// and less on both sides: in bright light the load already has nearly the whole supply,
// in dim light nearly none. From totality to full Sun are five decades of light,
// and three of ohms. A load that equals the cell's ohms in the Sun is blind in totality,
// and the other way round. The fair one lies between them on a scale of ratios:
//
//	load = sqrt(cell in full Sun x cell in totality), the geometric mean
//
// Then both ends are equally bad. Whether they are good enough is for the counts per
// octave to say: at 20 one count is 3.5 % of the light. Beyond that no load helps.
// A filter does not either, since it takes the same share of all light: it moves the
// range as a smaller load does. What helps is a second sensor with another load, or
// a cell with a smaller gamma.
//
// Source: Ohm's law, and differentiating it; the power law is what catalogues of
// cells print, from memory. Package sensor has both, with their uncertainties.
//
// # A run
//
//	go run ./examples/divider -load 10000
//
// Loads in a row, with what they make of the light that there is, and the choice:
//
//	...
//	THE LOADS
//	          counts at                                per octave   at lx       reads      lx   filter
//	    load   twilight  totality  overcast  full Sun
//	     ohm        3.4       4.1      1000    113000           1  133300        from      to  density
//	...
//	    1000        71d       79d     1416      3687            -     141        4.34  200000        -  common
//	...
//	    3300       225       250      2603      3963           45      49       0.571  200000        -  best
//	...
//	   10000       614       675      3444      4051s         121       -      0.0801   40900     0.51  common, yours
//	...
//	THE ANSWER
//	  The cell has 117 kohm at 1 lx and 101 ohm at 133300 lx. Their geometric mean, 3.42
//	  kohm, is the load with which the tap moves most: by 94 % of the supply with 3.3 kohm.
//	  Of E12 the best is 3.3 kohm: at the worse end a doubling of the light is worth 45
//	  counts, 37 counts with 2.7 kohm, 42 counts with 3.9 kohm. One count is 1.6 % of the
//	...
//
// The d stands for too dark to tell, the s for saturated: not numbers but bounds.
//
// # How the library is asked
//
// Design tries every resistor that is sold; Try says the same of one that you have.
//
//	chain := sensor.Chain{
//		ADC: sensor.ADC{Bits: 12, Ratiometric: true},
//		Divider: &sensor.Divider{Wiring: sensor.CellOnTop, SupplyV: 3.3,
//			Cell: sensor.Photoresistor{R10Ohm: 30e3, Gamma: 0.6}},
//	}
//	d, err := chain.Design(1, 133.3e3, sensor.DesignOptions{Series: sensor.E12})
//	fmt.Println(d.One.Ohms, d.Enough)
//	one, err := chain.Try(1000, 1, 133.3e3, sensor.DesignOptions{})
//	fmt.Println(one.DarkLux, one.SaturatesLux)
//
// A phototransistor has no such power: its volts are in proportion to the light, and
// a converter's counts are gone after less than two decades. For it the load is
// the one with which the brightest light just does not end the straight line.
//
// The converter is taken to measure against the supply of the divider, so that a
// tired battery does no harm. With -site or -date the light to be read is that of one
// eclipse at one site: outside the path it never gets as dark, and nearly any load does.
//
// # What is written
//
// With -out everything goes into a folder: divider.txt, divider.json, and two
// pictures as SVG and PNG: counts over light, and octaves, which is how fine the
// scale is.
//
// # An exercise
//
// Circuits that are passed on have 1 kohm or 10 kohm. Which of the two saves totality, what does
// it cost, and which load from the drawer of E12 saves both? Then take a steeper cell, -gamma 0.8,
// and say before you look what becomes of the best load, and why a filter is no way out.
package main

import (
	"context"
	"errors"
	"io"

	"example.org/noonfall/examples/internal/cli"
)

func main() { cli.Main("divider", run) }

// run reads the flags, asks the library and writes the answer.
func run(_ context.Context, out io.Writer, args []string) error {
	opt, err := parse(args, out)
	if err != nil {
		return err
	}
	if err := opt.askSky(); err != nil {
		return err
	}
	s, err := ask(opt)
	if err != nil {
		return opt.explain(err)
	}
	if err := s.save(opt.Out); err != nil {
		return err
	}
	if opt.JSON {
		return s.writeJSON(out)
	}
	return s.writeText(out)
}

// save writes everything into the folder; none is asked for with an empty name.
func (s *story) save(folder string) error {
	if folder == "" {
		return nil
	}
	var faults []error
	for _, f := range []struct {
		name  string
		write func(io.Writer) error
	}{
		{"divider.txt", s.writeText}, {"divider.json", s.writeJSON},
		{"counts.svg", drawing(s.counts).writeSVG}, {"counts.png", drawing(s.counts).writePNG},
		{"octaves.svg", drawing(s.octaves).writeSVG}, {"octaves.png", drawing(s.octaves).writePNG},
	} {
		faults = append(faults, cli.WriteFile(folder, f.name, f.write))
	}
	return errors.Join(faults...)
}
