package ephemeris

import (
	"context"
	"errors"
	"fmt"
	"iter"
	"math"

	"example.org/noonfall/sun/timescale"
)

// Eclipses walks through all solar eclipses that are greatest in [from, to), in
// order of time, each reduced as by [Find]. The sequence may be walked again. A
// century takes a seventh of a second with [LowPrecision].
//
// An error comes last and once, with a nil Reduction: that of ctx when it is
// done, what the source returns, a [*RangeError] for options, for instants that
// are not within ten thousand years or for to before from. The source must cover
// six hours beyond either end, and an hour more than Options.Span if that is longer.
func Eclipses(ctx context.Context, src Source, from, to timescale.TT, opt Options) iter.Seq2[*Reduction, error] {
	return func(yield func(*Reduction, error) bool) {
		if err := validWalk(from, to, opt); err != nil {
			yield(nil, err)
			return
		}
		w := walk{ctx: ctx, src: src, from: from, to: to, opt: opt, at: from - astray}
		for w.next() {
			if !yield(w.found, nil) {
				return
			}
		}
		if w.err != nil {
			yield(nil, w.err)
		}
	}
}

func validWalk(from, to timescale.TT, opt Options) error {
	const farthest = 3e11 // s from J2000.0, ten thousand years: what eclipse.Elements accept
	if err := within("from, seconds from J2000.0", float64(from), -farthest, farthest); err != nil {
		return err
	}
	if err := within("to, seconds from J2000.0", float64(to), float64(from), farthest); err != nil {
		return err
	}
	return opt.filled().validate()
}

// A walk goes from new Moon to new Moon.
type walk struct {
	ctx      context.Context
	src      Source
	from, to timescale.TT
	opt      Options
	at       timescale.TT // all new Moons before it have been looked at
	found    *Reduction
	err      error
}

// next finds the next eclipse, or returns false at the end or on an error.
func (w *walk) next() bool {
	for {
		conjunction, sky, ok := w.newMoon()
		if !ok {
			return false
		}
		w.at = conjunction + shortMonth
		if passesBy(sky, w.opt.filled()) {
			continue
		}
		w.found, w.err = w.reduce(conjunction)
		switch {
		case errors.Is(w.err, ErrNoEclipse):
			w.err = nil
		case w.err != nil:
			return false
		case w.holds(w.found.Elements.Greatest().TT):
			return true
		}
	}
}

// reduce is Find from the conjunction on, but asks nothing of the source around an
// eclipse that is greatest outside the walk.
func (w *walk) reduce(conjunction timescale.TT) (*Reduction, error) {
	closest, γ, err := leastDistance(w.src, conjunction, w.opt.filled())
	if err != nil {
		return nil, err
	}
	const slack = 60 // s; leastDistance is good to one
	if !w.holds(closest+slack) && !w.holds(closest-slack) && !w.holds(closest) {
		return nil, ErrNoEclipse
	}
	return eclipseAt(w.src, closest, γ, w.opt)
}

func (w *walk) holds(t timescale.TT) bool { return t >= w.from && t < w.to }

const (
	// astray is more than the time between a conjunction in right ascension as
	// newMoon finds it and greatest eclipse, s: 1.4 h (see leastDistance) and 20
	// minutes at most.
	astray = 2.5 * 3600
	// shortMonth is less than any time from one new Moon to the next, s: the
	// shortest synodic month has 29.27 days (J. Meeus, More Mathematical
	// Astronomy Morsels, 2002, chapter 4, from memory), and conjunctions in right
	// ascension wander by some hours from those in longitude.
	shortMonth = 27 * 86400
	// fastest is more than the Moon ever gains on the Sun in right ascension,
	// degrees a second: 15.4 degrees a day in perigee, over cos 28.6 at its
	// farthest from the equator, less 0.9 of the Sun's.
	fastest = 18.0 / 86400
	// near is how close to the new Moon is close enough, s at the fastest.
	near = 600
)

// newMoon goes forward to the next conjunction in right ascension, to 20
// minutes, and never past it: each step is what the Moon would need at its
// fastest. So none is skipped, and no instant is asked for beyond both the
// conjunction and the end of the walk.
func (w *walk) newMoon() (timescale.TT, Sky, bool) {
	for t := w.at; t < w.to+astray; {
		if err := w.ctx.Err(); err != nil {
			w.err = fmt.Errorf("ephemeris: the walk stopped at %s: %w", calendarDay(t), err)
			return 0, Sky{}, false
		}
		sky, err := skyAt(w.src, t)
		if err != nil {
			w.err = err
			return 0, Sky{}, false
		}
		step := circle(sky.Sun.RA-sky.Moon.RA) / fastest
		if step < near {
			return t, sky, true
		}
		t += timescale.TT(step)
	}
	return 0, Sky{}, false
}

// passesBy tells new Moons whose axis stays farther from the Earth than that of
// any eclipse, without following it. At the conjunction it stands on the
// meridian at y, give or take 0.2 Earth radii for the 20 minutes; its path is
// tilted by 29 degrees at most, the ecliptic's 23.4 and the 5.7 of the Moon's
// way past the Sun.
func passesBy(sky Sky, opt Options) bool {
	s, err := Cast(sky, opt.K1, opt.K2)
	return err == nil && math.Abs(s.Y) > 2.2 // 1.6/cos 29 is 1.83
}
