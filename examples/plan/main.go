// Plan answers the first question of anybody who wants to record an eclipse:
// what happens at my site, and when?
//
//	go run ./examples/plan
//	go run ./examples/plan -site 43.36,-8.41 -date 2026-08-12
//	go run ./examples/plan -zone Europe/Madrid -current 12 -battery 2500
//	go run ./examples/plan -json -out /tmp/plan -firmware
//
// Without flags it plans for a school yard near the Strait of Gibraltar on
// 2 August 2027. A site that sees nothing is told where the nearest view is. Without
// -date the site's next eclipses are listed too.
//
// # What you will learn
//
// What the words of an almanac mean, how long totality lasts and why a few
// kilometres change it, and how long a logger must run.
//
// # The physics
//
// Look at the Moon's shadow, and not at Sun and Moon. In a plane through the Earth's
// centre, square to the shadow's axis, the shadow is a circle that moves almost
// straight: a few polynomials in time, the Besselian elements, say where its centre
// (x, y) is and how large it is. A site is a point (xi, eta, zeta) that the Earth
// turns through that plane, zeta being its height over it. A contact is the
// instant at which the two are as far apart as the shadow's radius at that height:
//
//	hypot(x - xi, y - eta) = |l - zeta tan f|
//
// with l the radius and f the half-angle of the penumbra's cone for first and fourth
// contact, of the umbra's for second and third. So totality at a site is a chord of
// the umbra, and lasts as long as the umbra takes to run over it. The Moon's mountains
// move second and third contact by a second or two.
//
// Source: Explanatory Supplement to the Astronomical Almanac (1992), chapter 8, from
// memory; package eclipse has the whole of it, package eclipse/limb the mountains.
//
// # A run
//
//	go run ./examples/plan -date 2027-08-02
//
// What happens, and when; how long the logger must run, and for how much light; and
// where it would last longest:
//
//	...
//	The eclipse is total here for 4 min 40.1 s.
//
//	                                    UTC  height  azimuth    P    V
//	  first contact   2027-08-02 07:40:53.4    24.7     85.3  288  346
//	  second contact  2027-08-02 08:45:07.8    37.7     94.8   88  146
//	  maximum         2027-08-02 08:47:28.3    38.2     95.2  200  258
//	  third contact   2027-08-02 08:49:47.9    38.6     95.6  304    1
//	...
//	At maximum: magnitude 1.0720, 100.00 % of the Sun's area covered.
//	Let the logger run from 2027-08-02 07:10 to 2027-08-02 10:31 UTC at least:
//	12060 lines at one a second, of 45 bytes each as
//	...
//	The sensor must serve from 4.0 to 97000 lx, or 4.4 decades.
//	...
//	The central line passes 33 km to the south, at 35.70 N, 5.59 W, where the eclipse is
//	total at 08:47:23 UTC.
//	...
//
// # How the library is asked
//
// First the eclipse, from a catalogue of all from 1901 to 2100. Then the site. Mind the
// signs: north and EAST are positive, so that Cadiz is at -6.3.
//
//	catalogue, err := canon.Load()
//	elements, err := catalogue.On(day)
//	observer, err := eclipse.NewObserver(elements, site, eclipse.Options{})
//	c := observer.Circumstances()
//
// The circumstances say twice what kind it is. Geometry ignores the horizon, Seen does not:
// a total eclipse below it has Geometry Total and Seen None.
//
// Then the light on the sensor, a curve over time. Half an hour of it before first and
// after fourth contact belongs into the log: it tells the sensor's response apart from the
// eclipse (common practice, no source). And the Moon with its mountains, by which the
// advice goes; with -limb mean it goes by a smooth disc.
//
//	curve, err := eclipse.NewCurve(observer, eclipse.CurveOptions{})
//	lux := curve.At(c.Max.TT).Lux
//	moon, err := limb.NewMoon(observer, limb.Options{})
//	real := moon.Contacts()
//	real.LimbC2.UTC, real.LimbDuration // against c.C2.UTC and c.Duration
//
// How sure are the times? The positions are good to a hundredth of a second and
// Earth's rotation is forecast to a few tenths a year ahead. The heights of the Moon's
// edge are mapped to a third of a second at second and third contact where the eclipse
// is total, to a second or two where it is annular, and to more near the limits. A site
// given to two decimals adds up to two seconds, because a kilometre does, and how large
// the Sun is adds another. First and fourth contact are off by seconds.
//
// # What is written
//
// With -out a folder gets plan.txt for people and plan.json for programs, with pictures:
// light.svg, the light over five decades; suns.svg, the Sun at a dozen instants; map.svg,
// with coastlines, the path, lines of equal obscuration and the site; and limb.svg, the
// heights of the Moon's edge all around. -firmware adds the prediction for the logger's own
// program to compile in, as plan.h and plan.csv: obscuration and light in whole numbers,
// and how long until the next contact.
//
// # An exercise
//
// Ask for three sites at longitude -5.59: on the central line, 50 km north of it and 100 km
// north of it (a degree of latitude is 111 km). Before you look: is totality half as long
// half-way to the path's edge? Find the edge, then explain the three durations by a drawing
// of a circle and its chords.
package main

import (
	"cmp"
	"context"
	"io"
	"slices"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/sensor"
	"example.org/noonfall/sun"
)

func main() { cli.Main("plan", run) }

// run is the program today.
func run(ctx context.Context, out io.Writer, args []string) error {
	return runAt(ctx, out, args, time.Now())
}

// runAt reads the flags, asks the library and writes the answer, which tells what comes next
// by the given clock.
func runAt(ctx context.Context, out io.Writer, args []string, now time.Time) error {
	opt, err := parse(args, out)
	if err != nil {
		return err
	}
	p, err := ask(&opt.Common)
	if err != nil {
		return err
	}
	opt.now = now
	if err := p.prepare(ctx, opt); err != nil {
		return err
	}
	if err := p.save(ctx, opt.Out); err != nil {
		return err
	}
	if opt.JSON {
		return p.writeJSON(out)
	}
	return p.writeText(out)
}

// A plan is the library's answer, before it is put into words.
type plan struct {
	site     sun.Site
	elements *eclipse.Elements
	greatest eclipse.Greatest
	local    eclipse.Circumstances // of the smooth Moon
	edge     edge                  // what the real one makes of them
	limb     cli.Limb              // which of the two the advice goes by
	utcHeld  bool                  // no leap second is announced as far ahead as the eclipse
	light    []eclipse.Point
	compiled *firmware // nil where nothing is to be recorded
	firmware bool      // it was asked for
	near     near
	next     []canon.Sighting // none where a date was given
	now      time.Time        // that they are counted from
	logger   logger
	clocks   clockwork
	load     *sensor.Design // nil where nothing is to be read
}

// ask asks the library.
func ask(opt *cli.Common) (*plan, error) {
	catalogue, err := canon.Load()
	if err != nil {
		return nil, err
	}
	elements, err := catalogue.On(opt.Date)
	if err != nil {
		return nil, err
	}
	observer, err := eclipse.NewObserver(elements, opt.Site, eclipse.Options{Scale: opt.Scale()})
	if err != nil {
		return nil, err
	}
	p := &plan{
		site: opt.Site, elements: elements, greatest: elements.Greatest(),
		local: observer.Circumstances(), limb: opt.Limb, utcHeld: observer.Scale().UTCHeld(elements.T0),
	}
	if p.edge, err = meet(observer, &p.local); err != nil {
		return nil, err
	}
	p.light, err = light(observer, p)
	return p, err
}

// prepare asks for what hangs on the other flags.
func (p *plan) prepare(ctx context.Context, opt *settings) (err error) {
	p.firmware, p.logger = opt.firmware, opt.logger
	if p.compiled, err = p.compile(); err != nil {
		return err
	}
	if p.clocks, err = p.clockwork(); err != nil {
		return err
	}
	if p.load, err = p.design(); err != nil {
		return err
	}
	if !opt.dated {
		if err := p.follow(opt.now, p.options()); err != nil {
			return err
		}
	}
	return p.look(ctx)
}

// A moment is a contact with its names.
type moment struct {
	name, prose string
	eclipse.Contact
}

// moments lists the contacts that take place, in order of time, with the given ones
// for second and third.
func (p *plan) moments(second, third eclipse.Contact) []moment {
	c := &p.local
	all := []moment{
		{"C1", "first contact", c.C1}, {"C2", "second contact", second}, {"max", "maximum", c.Max},
		{"C3", "third contact", third}, {"C4", "fourth contact", c.C4},
	}
	exist := all[:0]
	for _, m := range all {
		if m.Exists {
			exist = append(exist, m)
		}
	}
	// At a graze the maximum may lie outside of what the real edge makes.
	slices.SortStableFunc(exist, func(a, b moment) int { return cmp.Compare(a.TT, b.TT) })
	return exist
}

// margin is how long to record before first and after fourth contact: common
// practice, no source.
const margin = 30 * time.Minute

// hours are from when to when the logger should run; ok is false where there is
// nothing to record. Outwards to the whole minute.
func (p *plan) hours() (from, until time.Time, ok bool) {
	if p.local.Seen == eclipse.None {
		return from, until, false
	}
	from = p.local.C1.UTC.Add(-margin).Truncate(time.Minute)
	until = p.local.C4.UTC.Add(margin).Truncate(time.Minute).Add(time.Minute)
	return from, until, true
}

// save writes both forms into the folder; none is asked for with an empty name.
func (p *plan) save(ctx context.Context, folder string) error {
	if folder == "" {
		return nil
	}
	if err := cli.WriteFile(folder, "plan.txt", p.writeText); err != nil {
		return err
	}
	if err := cli.WriteFile(folder, "plan.json", p.writeJSON); err != nil {
		return err
	}
	for _, f := range p.files(ctx) {
		if err := cli.WriteFile(folder, f.name, f.write); err != nil {
			return err
		}
	}
	return nil
}

// A file is one of the folder's, beside the answer itself.
type file struct {
	name  string
	write func(io.Writer) error
}

// files are those that the site and the flags ask for.
func (p *plan) files(ctx context.Context) (all []file) {
	all = append(all, file{"map.svg", func(w io.Writer) error { return p.writeMap(ctx, w) }})
	if p.local.Geometry != eclipse.None {
		all = append(all, file{"limb.svg", p.writePicture})
	}
	if p.compiled == nil {
		return all
	}
	all = append(all, file{"light.svg", p.writeLight}, file{"suns.svg", p.writeSuns})
	if p.firmware {
		all = append(all, file{"plan.h", p.writeHeader}, file{"plan.csv", p.writeTable})
	}
	return all
}
