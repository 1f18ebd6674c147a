package shadow

import (
	"fmt"
	"math"
	"time"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// PathOptions say where along the path its sections lie. The zero value is every
// two minutes; at most one of the fields may be set.
type PathOptions struct {
	// Every puts a section on each whole multiple of it on the clock of UT, [1 s, 1 h].
	Every time.Duration
	// Km puts the sections this far apart along the ground, counted from where the
	// central line begins, or the limit of a path that has none; km, [1, 5000].
	Km float64
}

// A PathError names an option that cannot be used.
type PathError struct {
	Field  string // of PathOptions
	Reason string // what is wrong with it, and what is wanted
}

// Error says what is wrong and what was wanted.
func (e *PathError) Error() string { return "shadow: PathOptions." + e.Field + " " + e.Reason }

func (opt *PathOptions) settle() error {
	switch {
	case opt.Every != 0 && opt.Km != 0:
		return &PathError{"Every", "and Km are both set, want one of them"}
	case opt.Every == 0 && opt.Km == 0:
		opt.Every = 2 * time.Minute
	case opt.Every != 0 && (opt.Every < time.Second || opt.Every > time.Hour):
		return &PathError{"Every", fmt.Sprintf("is %v, want 1 s to 1 h", opt.Every)}
	case opt.Km != 0 && !(opt.Km >= 1 && opt.Km <= 5000):
		return &PathError{"Km", fmt.Sprintf("is %g, want 1 to 5000", opt.Km)}
	}
	return nil
}

// Path returns the sections of the path of umbra or antumbra in order of time. The
// first and the last, marked Ends, hold where line and limits begin and end, each
// at its own instant (see Global); their clocks are those of the central line, or
// of the limit of a path that has none. An eclipse without a path has no
// sections. The error is a *PathError. It takes ten microseconds a section.
func (s *Shadow) Path(opt PathOptions) ([]Section, error) {
	if err := opt.settle(); err != nil {
		return nil, err
	}
	g := &s.global
	base := g.Line
	for _, e := range []Ends{g.North, g.South} {
		if !base.Exists() {
			base = e
		}
	}
	if !base.Exists() {
		return nil, nil
	}
	out := []Section{s.ends(base.Begin, g.North.Begin, g.South.Begin)}
	if opt.Km > 0 {
		out = s.spaced(out, base, opt.Km)
	} else {
		out = s.clocked(out, g, base, opt.Every)
	}
	return append(out, s.ends(base.End, g.North.End, g.South.End)), nil
}

// ends is the section of a path's beginning or end.
func (s *Shadow) ends(at, north, south Event) Section {
	sec := s.blank(at.TT)
	sec.Ends = true
	sec.North, sec.South = Place{north.Exists, north.Site}, Place{south.Exists, south.Site}
	if s.global.Line.Exists() {
		m := s.at(s.hours(at.TT))
		s.center(&sec, &m)
	}
	return sec
}

// clocked adds the sections at whole multiples of UT.
func (s *Shadow) clocked(out []Section, g *Global, base Ends, every time.Duration) []Section {
	scale := s.prep.Options().Scale
	first, last := base.Begin, base.End
	for _, e := range []Ends{g.North, g.South} {
		if e.Exists() && e.Begin.TT < first.TT {
			first = e.Begin
		}
		if e.Exists() && e.End.TT > last.TT {
			last = e.End
		}
	}
	// UT1 counts from noon; midnight is a multiple of whatever divides a day.
	const noon = 43200
	step := every.Seconds()
	begin, end := float64(scale.UT1(first.TT))-noon, float64(scale.UT1(last.TT))-noon
	for n := math.Ceil(begin / step); n*step <= end; n++ {
		if sec := s.Section(scale.FromUT1(timescale.UT1(n*step + noon))); sec.Center.Exists || sec.North.Exists || sec.South.Exists {
			out = append(out, sec)
		}
	}
	return out
}

// spaced adds the sections that lie a distance apart. The line leaves the horizon
// with infinite speed, as the square root of time; in the angle θ, with t = begin +
// (end-begin)(1-cos θ)/2, it moves smoothly.
func (s *Shadow) spaced(out []Section, base Ends, km float64) []Section {
	from, to := s.hours(base.Begin.TT), s.hours(base.End.TT)
	at := func(θ float64) float64 { return from + (to-from)*(1-math.Cos(θ))/2 }
	sd := north
	if base == s.global.South {
		sd = south
	}
	where := func(θ float64) sun.Site {
		m := s.at(at(θ))
		if s.global.Line.Exists() {
			return m.place(m.lift(m.x, m.y))
		}
		return m.place(m.border(umbra, sd, (*moment).edge).point)
	}
	const pieces = 512 // 30 km each of the longest lines
	node, left := base.Begin.Site, km
	for i := 1; i <= pieces; i++ {
		θ0, θ1 := math.Pi*float64(i-1)/pieces, math.Pi*float64(i)/pieces
		next := where(θ1)
		length := distance(node, next)
		for ; left < length; left += km {
			rest := left
			θ := zero(func(θ float64) float64 { return distance(node, where(θ)) - rest }, θ0, θ1)
			out = append(out, s.Section(s.instant(at(θ))))
		}
		left -= length
		node = next
	}
	return out
}
