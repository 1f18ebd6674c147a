// Plan answers the first question of anybody who wants to record an eclipse:
// what happens at my site, and when?
//
//	go run ./examples/plan
//	go run ./examples/plan -site 43.36,-8.41 -date 2026-08-12
//	go run ./examples/plan -zone Europe/Madrid -current 12 -battery 2500
//	go run ./examples/plan -json -out /tmp/plan -firmware
//
// Without flags it plans for a school yard near the Strait of Gibraltar on
// 2 August 2027. Here is how the library is asked.
//
// First the eclipse. The catalogue holds the Besselian elements of every eclipse
// from 1901 to 2100: a few polynomials that say how the Moon's shadow moves past
// the Earth. A day either side of the date serves too, because an eclipse near
// midnight has another date elsewhere.
//
//	catalogue, err := canon.Load()
//	elements, err := catalogue.On(day)
//
// Then the site. Mind the signs: north and EAST are positive, so that Cadiz is at
// -6.3. The observer lays the site out in the shadow's own frame, once.
//
//	observer, err := eclipse.NewObserver(elements, site, eclipse.Options{})
//	c := observer.Circumstances()
//
// The circumstances have two answers to "what kind is it?". Geometry ignores the
// horizon; Seen is what the Sun above the horizon shows. A total eclipse below
// the horizon has Geometry Total and Seen None, and a logger there may stay at home.
//
// Then the light that will fall on the sensor, which is a curve over time: the
// Sun's visible part, brighter at its centre than at its edge, times what a clear
// sky makes of it.
//
//	curve, err := eclipse.NewCurve(observer, eclipse.CurveOptions{})
//	lux := curve.At(c.Max.TT).Lux
//
// Last the logger's hours. Light before first contact and after fourth is what
// tells the sensor's response apart from the eclipse, so that half an hour of it
// on both sides belongs into the log (common practice, no source).
//
// So far the Moon was a smooth disc, as in the printed almanacs. The real one has
// mountains, and they decide when the last light goes and the first comes back: by
// seconds, and near the limits of the path whether it goes at all.
//
//	moon, err := limb.NewMoon(observer, limb.Options{})
//	real := moon.Contacts()
//	real.LimbC2.UTC, real.LimbDuration // against c.C2.UTC and c.Duration
//
// The advice, in the sentence, the table and the light, goes by the real edge;
// -limb mean has it go by the smooth one. Second and third contact are told by both.
// What has no mountains in it either way are first and fourth contact, the maximum and
// its depth.
//
// How sure are the times? The positions are good to a hundredth of a second and
// Earth's rotation is forecast to a few tenths a year ahead. The heights of the Moon's
// edge are mapped to a third of a second at second and third contact where the eclipse
// is total, to a second or two where it is annular, and to more near the limits; each
// answer has its own. So much for computing: a site given to two decimals adds up to
// two seconds, because a kilometre does, and how large the Sun is adds another. First
// and fourth contact, where nobody can see the edge, are off by seconds.
//
// What the logger needs comes from the other rooms: sensor designs the load, and
// sensor/crystal says how far a battery clock wanders.
//
//	d, err := chain.Design(low, high, sensor.DesignOptions{Series: sensor.E12})
//	clock, err := crystal.New(crystal.TuningFork(), crystal.Constant(25))
//	deadline, err := clock.SetFrom(c.Max.UTC, crystal.Budget{Seconds: 1, SetU: 0.3})
//
// A site that sees nothing is told where the nearest view is. Without -date the next
// eclipses of the site are listed, counted from today.
//
// The program writes to standard output, and into the folder given by -out the
// same twice, as plan.txt for people and plan.json for programs, with pictures: light.svg,
// the light over five decades; suns.svg, the Sun as it will look at a dozen instants; map.svg,
// with coastlines, the path, lines of equal obscuration and the site; and limb.svg, the heights of the Moon's edge all around, and where the Sun's edge touches
// them at second and third contact. -firmware adds the prediction for the logger's own
// program to compile in, as plan.h and plan.csv: obscuration and light in whole numbers,
// and how long until the next contact.
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
