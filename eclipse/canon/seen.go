package canon

import (
	"iter"
	"slices"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
)

// Options say which eclipses a search is after. The zero value is the recommended
// setting: all of which the Sun above the horizon shows anything.
type Options struct {
	// Observer has the clocks, and the horizon that decides what is seen: with or
	// without refraction, upper limb or centre.
	Observer eclipse.Options
	// Kind is the least that counts: eclipse.Annular for central eclipses,
	// eclipse.Total for total ones only. None and Partial leave nothing out.
	Kind eclipse.Kind
	// Obscuration is the least covered part of the Sun's area that counts, [0, 1].
	Obscuration float64
	// Below counts eclipses below the horizon too: Kind, Obscuration and the
	// instant searched for are then those of the geometry, not of what is seen.
	Below bool
}

// validate returns a *sun.RangeError for what no search can be after. The
// horizon is looked at where the catalogue is made ready.
func (opt Options) validate() error {
	if k := float64(opt.Kind); k > float64(eclipse.Total) {
		return &sun.RangeError{Field: "Options.Kind", Value: k, Min: float64(eclipse.None), Max: float64(eclipse.Total)}
	}
	if !(opt.Obscuration >= 0 && opt.Obscuration <= 1) { // false for NaN
		return &sun.RangeError{Field: "Options.Obscuration", Value: opt.Obscuration, Min: 0, Max: 1}
	}
	return nil
}

// A Sighting is an eclipse and what it does at a site.
type Sighting struct {
	Elements      *eclipse.Elements     // a copy that the caller may keep and change
	Circumstances eclipse.Circumstances // at the site, Options.Observer applied
}

// SeenFrom returns an iterator, to be used as often as one likes, over the eclipses
// seen from a site, in order of time. The span [from, to) holds the deepest instant
// seen, Circumstances.MaxSeen.UTC, or with Options.Below the maximum, Max.UTC; a
// zero from or to leaves that end open. The error is a [*sun.RangeError], or says
// that there is no such horizon.
//
// Two centuries cost a quarter of a millisecond, and half a millisecond more where
// the options for the observer differ from those of the search before.
func (c *Catalogue) SeenFrom(site sun.Site, from, to time.Time, opt Options) (iter.Seq[Sighting], error) {
	s, err := c.search(site, opt)
	if err != nil {
		return nil, err
	}
	return func(yield func(Sighting) bool) {
		for i := s.ready.near(from); i < len(c.eclipses); i++ {
			if !to.IsZero() && s.ready.days[i] > dayNumber(to)+2 {
				return
			}
			local, at, ok := s.look(i)
			if !ok || at.Before(from) || !to.IsZero() && !at.Before(to) {
				continue
			}
			if !yield(Sighting{clone(c.eclipses[i]), local}) {
				return
			}
		}
	}, nil
}

// Next returns the first eclipse seen from a site whose deepest instant seen
// (with Options.Below, whose maximum) is later than after, so that asking again
// with that instant gives the one that follows. Where the catalogue ends before
// there is one, the error is a [*NotSeenError].
func (c *Catalogue) Next(site sun.Site, after time.Time, opt Options) (Sighting, error) {
	s, err := c.search(site, opt)
	if err != nil {
		return Sighting{}, err
	}
	for i := s.ready.near(after); i < len(c.eclipses); i++ {
		if local, at, ok := s.look(i); ok && at.After(after) {
			return Sighting{clone(c.eclipses[i]), local}, nil
		}
	}
	return Sighting{}, c.notSeen(site, after, true)
}

// Last returns the last eclipse seen from a site whose deepest instant seen (with
// Options.Below, whose maximum) is earlier than before. Where the catalogue begins
// after it, the error is a [*NotSeenError].
func (c *Catalogue) Last(site sun.Site, before time.Time, opt Options) (Sighting, error) {
	s, err := c.search(site, opt)
	if err != nil {
		return Sighting{}, err
	}
	for i := min(s.ready.near(before), len(c.eclipses)-1); i >= 0; i-- { // the one after it is weeks too late
		if local, at, ok := s.look(i); ok && at.Before(before) {
			return Sighting{clone(c.eclipses[i]), local}, nil
		}
	}
	return Sighting{}, c.notSeen(site, before, false)
}

// A search is for one site. It asks every eclipse in its reach: the observer itself
// is quick to find that the penumbra passes by, and no coarser sieve stands before.
type search struct {
	ready *ready
	site  sun.Site
	opt   Options
}

func (c *Catalogue) search(site sun.Site, opt Options) (*search, error) {
	if err := site.Validate(); err != nil {
		return nil, err
	}
	if err := opt.validate(); err != nil {
		return nil, err
	}
	r, err := c.prepare(opt.Observer)
	if err != nil {
		return nil, err
	}
	return &search{r, site, opt}, nil
}

// look computes eclipse number i and says whether it counts, and at which instant.
func (s *search) look(i int) (c eclipse.Circumstances, at time.Time, ok bool) {
	o, err := s.ready.eclipses[i].Observer(s.site)
	if err != nil {
		return c, at, false // never: the site is valid
	}
	c = o.Circumstances()
	kind, obscured, at := c.Seen, c.SeenObscuration, c.MaxSeen.UTC
	if s.opt.Below {
		kind, obscured, at = c.Geometry, c.Obscuration, c.Max.UTC
	}
	return c, at, kind > eclipse.None && kind >= s.opt.Kind && obscured >= s.opt.Obscuration
}

// A ready is the catalogue prepared for one set of options.
type ready struct {
	opt      eclipse.Options
	eclipses []*eclipse.Prepared
	days     []int64 // of T0 by the clock of the options
}

// prepare makes the catalogue ready for the options, or takes what the call before
// left where it was for the same.
func (c *Catalogue) prepare(opt eclipse.Options) (*ready, error) {
	if r := c.recent.Load(); r != nil && r.opt == opt {
		return r, nil
	}
	r := &ready{opt: opt, eclipses: make([]*eclipse.Prepared, len(c.eclipses)), days: make([]int64, len(c.eclipses))}
	for i, e := range c.eclipses {
		p, err := eclipse.Prepare(e, opt)
		if err != nil {
			return nil, err
		}
		r.eclipses[i], r.days[i] = p, dayNumber(opt.Scale.UTC(e.T0))
	}
	c.recent.Store(r)
	return r, nil
}

// near returns the number of the first eclipse whose deepest instant anywhere can
// be at t or later. An eclipse's polynomials span 3.5 h either side of T0, so that
// it ends on the day of T0 or the next; a day more costs nothing.
func (r *ready) near(t time.Time) int {
	i, _ := slices.BinarySearch(r.days, dayNumber(t)-2)
	return i
}
