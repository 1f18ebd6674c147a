// Calibrate finds out what a count of one's own light sensor means, without a lux
// meter: by a lamp at measured distances, and by the Sun's climb on a clear morning.
//
//	go run ./examples/calibrate
//	go run ./examples/calibrate -station station.json -lamp lamp.csv -candela 64
//	go run ./examples/calibrate -station station.json -morning 20270720.csv
//	go run ./examples/calibrate -site 36.0,-5.6,10 -date 2027-07-20 -morning log.csv
//	go run ./examples/calibrate -json -out /tmp/calibrate
//
// Without flags it calibrates the cell of an invented school-yard logger by an
// invented evening and an invented morning, says how far off it is, and prints the
// chain to paste into the station's file, from where "reduce -station" takes it.
//
// # What you will learn
//
// How ratios of light are had from a tape, why a measurement needs a long lever, what two
// independent ways to one number are good for, and how to say how sure the result is.
//
// Why calibrate? Cells of one type differ by a factor of two, and their exponents by
// a fifth (from memory). The clock's error needs no lux, since an eclipse falls and rises in
// any unit. But whoever wants to say how dark totality was, or to lay two loggers' curves
// over each other, needs the law of the cell.
//
// # The physics
//
// The law is two numbers, a straight line on paper with two logarithmic scales: r10 says
// how high it lies, gamma how steep it is. Two lights of known ratio give the slope, one
// light of known lux the height.
//
//	ohms = r10 (lux / 10 lx)^-gamma
//
// The lamp. Take a small lamp into a dark room, a tape, and read the logger at
// distances from ten times the lamp's own width to across the room.
//
//	lux = candela / (distance + zero)^2 + room
//
// The ratios are known to a per cent or so and gamma with them. Two things bend the line:
// the tape never begins where the light does (zero), and no room is quite dark. Both are
// fitted, and for that the distances must be far apart. The height needs the lamp's candela.
// A packet has lumens; over 4 pi they are candela for a lamp that shines alike all round,
// give or take 15 % (common practice, no source).
//
// The morning. The Sun is a lamp that is never moved, but the air before it is: at ten
// degrees its light comes through five and a half times as much air as from the
// zenith. The logarithm of the light that faces the Sun against that air mass is a
// straight line, Langley's, and its slope is the day's extinction:
//
//	ln(light) = ln(light above the air) - extinction x air mass
//
// A flat sensor sees the Sun's slant besides. Package eclipse/station fits gain, exponent
// and extinction together and says what it cannot tell: how bright the clear sky was.
//
// The two are independent, since no lamp knows the sky. So they are compared, and if
// they agree each is weighted by what it knows. The lamp knows the dim lights of
// totality, the morning those of the partial phases. A law that holds from one to the
// other over five decades is more than any catalogue promises: cells' exponents change by a
// few hundredths on the way, so that the lamp's counts for less up there.
//
// Sources: the inverse square and Langley's line are commonly taught, no source; air mass
// after Kasten & Young, Applied Optics 28 (1989) 4735; errors in both variables after
// D. York et al., Am. J. Phys. 72 (2004) 367, from memory.
//
// # A run
//
//	go run ./examples/calibrate
//
// The lamp's exponent and the morning's, whether they agree, and what the joint law is
// good for:
//
//	...
//	BY A LAMP (lamp.csv)
//	  11 readings from 0.25 to 5 m, 3.99 to 841 lx.
//	  exponent            0.6912 +- 0.0032
//	...
//	BY THE SUN'S CLIMB (20270720.csv)
//	  350 minutes of 20 July 2027, 06:18 to 12:19 UTC: from 5.6 air masses to 1.04,
//	...
//	  exponent            0.663 +- 0.049
//	...
//	BOTH TOGETHER
//	  A cell's law bends a little: outside its own lights the lamp's exponent counts with 0.02 more.
//	  The exponents differ by -0.029 +- 0.053, the light at 3,450 lx by 18 +- 38 %:
//	  chi-square 1.1 with 2 degrees of freedom. They agree, and each counts by what it knows:
//	  exponent            0.676 +- 0.014
//	  value at 10 lx      12000 +- 1300 ohm, correlated with the exponent by 0.64
//	...
//	WHAT IT IS GOOD FOR
//	  light, lx     known to
//	          1     19 %   extrapolated: nothing was read there
//	         10     16 %
//	        100     13 %
//	      1,000     12 %
//	     10,000     13 %
//	    100,000     15 %
//	...
//
// # How the library is asked
//
//	m, err := station.CalibrateMorning(ctx, s, files, station.MorningOptions{})
//	part, err := station.NewPart(*s.Chain)
//	l, err := sensor.CalibrateLamp(lamp, points, sensor.LampOptions{FitZero: true, FitBackground: true})
//	both, err := sensor.Combine(l.Loosened(0.02, 100), m.Fit.Calibration)
//	chain, err := part.Calibrated(both)
//
// # What is read and written
//
// A lamp's sheet is a CSV file with the columns distance_m and reading, and if you
// know them distance_u_m and reading_u; lines with # are remarks. Readings are the
// logger's counts where -station has a chain, else what follows a power of light. With
// -out everything goes into a folder: calibrate.txt, calibrate.json, and as SVG and
// PNG law (readings over lux) and langley (the morning's beam over air mass).
// -deltat and -limb, which all examples share, move nothing here.
//
// # An exercise
//
// The demo's sheet, examples/calibrate/demo/lamp.csv, has eleven distances from 0.25 to 5 m. Make
// a sheet of six readings between 0.85 and 1.1 m (take them from its neighbours by eye) and one of
// its five readings from 0.55 to 1.9 m; calibrate with each, with -candela 64 and the demo's
// station.json. What becomes of the exponent's uncertainty, and why? Then measure what was
// fitted: with a ruler the lamp's middle is found 0.022 m behind the tape's beginning. Give -zero 0.022
// with the second sheet.
package main

import (
	"context"
	"errors"
	"io"

	"example.org/noonfall/examples/internal/cli"
)

func main() { cli.Main("calibrate", run) }

// run reads the flags, calibrates and answers.
func run(ctx context.Context, out io.Writer, args []string) error {
	opt, err := parse(args, out)
	if err != nil {
		return err
	}
	s, err := tell(ctx, opt)
	if err != nil {
		return err
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
	type file struct {
		name  string
		write func(io.Writer) error
	}
	list := []file{{"calibrate.txt", s.writeText}, {"calibrate.json", s.writeJSON}}
	if s.lamp != nil || s.fit() != nil {
		list = append(list, file{"law.svg", s.law().WriteSVG}, file{"law.png", s.law().WritePNG})
	}
	if s.fit() != nil {
		list = append(list, file{"langley.svg", s.langley().WriteSVG}, file{"langley.png", s.langley().WritePNG})
	}
	var faults []error
	for _, f := range list {
		faults = append(faults, cli.WriteFile(folder, f.name, f.write))
	}
	return errors.Join(faults...)
}
