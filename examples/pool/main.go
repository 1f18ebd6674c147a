// Pool puts many stations' logs together: one sky, many loggers. It reduces each station, sets
// their light on one curve, says whose clock is off, and finds what no station can find alone: how
// fast the Moon's shadow ran over the ground, and how far away the Moon is.
//
//	go run ./examples/pool
//	go run ./examples/pool -out /tmp/pool a/station.json b/station.json c/station.json
//	go run ./examples/pool -json summaries/*.json
//
// Without arguments it pools a dozen invented schools along the path of 2 August 2027. One
// had a broken sky, one a clock on local time, one the longitude's sign wrong, one a sensor
// driven to its rail, one a torn card, and one had recorded the day before. What befell each
// is in examples/internal/demo/data/network-truth.json; look there last.
//
// # What you will learn
//
// Many small logs say more than one good one, if each says how sure it is. A median does not
// care for the one that is wrong; a mean with weights cares for how well each one knows; and an
// outlier is one that disagrees with the others and does not know it.
//
// # The physics
//
// The shadow's speed. Let T be the stamp of mid-eclipse at a station x km east and y km north of the
// middle of all. Over some hundred kilometres the shadow's front is straight,
//
//	T = T0 + gx x + gy y
//
// and least squares give the slowness g. The front lies square to the shadow's way in the plane
// that faces the Sun; laid down on the ground it is slanted as the Sun stands, and the
// Sun's height and azimuth turn g into the speed of the shadow's axis (package
// eclipse/campaign has the formula). Only clocks set by a network or a satellite
// serve, and only as they are: a stamp that the fit has put right would give back
// the prediction and nothing else. A delay that all loggers of one make share goes into
// T0 and does no harm.
//
// The Moon's distance, after Hipparchus. Once, he reasoned, the Sun was wholly covered at the
// Hellespont while at Alexandria a fifth of its diameter was left. The Moon is near and the Sun is
// far: so that fifth, a tenth of a degree, is the angle under which the Moon sees the distance of
// the two places. Of two stations d km apart across the shadow's way, from which the Moon's centre
// passes the Sun's by angles s1 and s2,
//
//	distance of the Moon = d / (s1 - s2)
//
// and a little less, since the Sun's own distance is not without end. A station in a partial
// eclipse tells s by how much light a calibrated sensor had left at maximum, one in totality by how
// long it lasted: a chord of a circle whose radius is that of Moon less Sun.
//
// Who is off? Whoever lies more than 3.5 deviations from the weighted median, a deviation
// being
//
//	sqrt(own uncertainty^2 + (1.4826 x median distance from that median)^2)
//
// Sources: B. Iglewicz & D. C. Hoaglin, How to Detect and Handle Outliers (1993), for the 3.5;
// Hipparchus' method as Pappus hands it down, from memory; the front is geometry.
//
// # A run
//
//	go run ./examples/pool
//
// Of the twelve stations one clock was off and, under broken cloud, one light; one carries no figure; the shadow and the Moon:
//
//	...
//	The shadow. By the stamps of 7 stations around 36.6, -4.9, as they are, it ran over the
//	ground at 1.373 +- 0.019 km/s towards 87 +- 1 degrees (from north through east). The
//	elements have 1.334 km/s towards 87 there.
//
//	The Moon. From how deep the eclipse was at 3 stations, up to 734 km apart across the
//	shadow's way: 353 +- 16 thousand km, or 55 radii of the Earth. The elements have 353
//	thousand km from there.
//
//	Off: SCHOOL-08's clock is -406.1 s, the others have -8.545 (-213.0 deviations).
//
//	Off: SCHOOL-03's light is 0.3003 logarithm, the others have 0.008168 (3.7 deviations).
//	...
//
// # What leaves the station
//
// A summary of some kB, and nothing personal: the site is rounded to a hundredth of a degree
// (-exact leaves it as it is), and there are no remarks and no file names in it. With -out
// the answer goes into a folder as pool.txt and pool.json, with two pictures, curve.svg and
// map.svg, and all of it on one page to read in a browser, print on A4 and hang on a board:
// report.html. There, too, every summary is kept in FOLDER/summaries; a run that was interrupted goes on where it stopped, and a
// station that is given twice counts once. Summaries are read as stations are, so that
// schools can send those and keep their logs.
//
// # An exercise
//
// The schools' folders are in examples/internal/demo/data/network. First leave SCHOOL-08 out, by naming
// all the others. Then copy them all, put the longitude in SCHOOL-08's station.json right, and pool
// again. Which figures move, and which do not? Why did its wrong place not spoil the shadow's speed?
package main

import (
	"context"
	"flag"
	"io"
	"time"
	_ "time/tzdata" // zones by name on machines that have none

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/campaign"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/examples/internal/pooled"
)

func main() { cli.Main("pool", run) }

// settings are the flags.
type settings struct {
	cli.Common
	exact   bool
	workers int
	names   []string
	day     bool // -date was given
}

// A pooling is all that the outputs are written from.
type pooling struct {
	*pooled.Pooling
	Invented bool // the demo's stations
	RealLimb bool
}

func run(ctx context.Context, out io.Writer, args []string) error {
	fs, opt := cli.NewFlagSet("pool", "what do many stations say together? STATION.json... are their descriptions (or the folders that hold one), or summaries"), settings{Common: cli.Scenario()}
	opt.Limb = cli.Real
	opt.Register(fs)
	fs.BoolVar(&opt.exact, "exact", false, "leave the sites in the summaries as they are, not rounded to 0.01 degrees")
	fs.IntVar(&opt.workers, "workers", 0, "`stations` reduced at a time; 0 for one each processor")
	if err := cli.Parse(fs, args, out); err != nil {
		return err
	}
	if opt.workers < 0 {
		return cli.Usagef("-workers is %d, want 0 or more", opt.workers)
	}
	opt.names = fs.Args()
	fs.Visit(func(f *flag.Flag) { opt.day = opt.day || f.Name == "date" })
	p, err := opt.pool(ctx)
	if err != nil {
		return err
	}
	if err := p.save(opt.Out); err != nil {
		return err
	}
	if opt.JSON {
		return p.WriteJSON(out)
	}
	return p.writeText(out)
}

// pool reduces the stations and puts those of one eclipse together.
func (o *settings) pool(ctx context.Context) (*pooling, error) {
	c, failed, err := o.collect(ctx)
	if err != nil {
		return nil, err
	}
	var day time.Time
	if o.day {
		day = o.Date
	}
	p, err := pooled.Pool(c, failed, day, eclipse.Options{Scale: o.Scale()})
	if err != nil {
		return nil, err
	}
	return &pooling{Pooling: p, Invented: len(o.names) == 0, RealLimb: o.Limb == cli.Real}, nil
}

// reduceOptions are the flags in the library's terms.
func (o *settings) reduceOptions() campaign.ReduceOptions {
	return campaign.ReduceOptions{
		Station: station.Options{SmoothMoon: o.Limb == cli.Mean},
		Summary: station.SummaryOptions{Exact: o.exact},
		Workers: o.workers,
	}
}
