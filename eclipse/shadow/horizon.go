package shadow

import (
	"math"
	"slices"

	"example.org/noonfall/sun"
)

// A rimPoint is a site with the Sun's centre in its horizon and the umbra's edge
// passing just then.
type rimPoint struct {
	site sun.Site
	// last says that the central phase is seen for the last time, or the first time,
	// by this site's neighbours: it ends there at sunrise or begins at sunset. Where
	// it begins at sunrise, all of it is seen, and the path goes on.
	last bool
}

// rim follows the path's end along the horizon from the end of one limit to that
// of another. While the umbra crosses the Earth's outline, that cuts its edge in
// two points; as time goes on they run round the edge, and as sites they draw a
// closed loop. The part of it that bounds the path is where the central phase ends
// at sunrise or begins at sunset. Near the latitude at which the Sun just touches
// the horizon at midnight or noon, sunrise and sunset meet on the loop, and the
// path ends between them along that parallel.
func (s *Shadow) rim(begin bool, from, to Event) []sun.Site {
	outer, inner := s.contacts(umbra)
	if !outer.exists {
		return nil
	}
	var loops [][]rimPoint
	switch {
	case !inner.exists:
		loops = append(loops, s.loop(outer.from, outer.to))
	case begin:
		loops = append(loops, s.loop(outer.from, inner.from))
	default:
		loops = append(loops, s.loop(inner.to, outer.to))
	}
	var runs [][]sun.Site
	for _, l := range loops {
		runs = append(runs, lastRuns(l)...)
	}
	const corner = 0.3 // km; nearer to the limits' ends their last straight step is no better
	return slices.DeleteFunc(chain(runs, from.Site, to.Site), func(p sun.Site) bool {
		return distance(p, from.Site) < corner || distance(p, to.Site) < corner
	})
}

// loop walks both cuts of the edge with the outline from one contact to the other
// and back.
func (s *Shadow) loop(from, to float64) (out []rimPoint) {
	const n = 60
	for _, back := range []bool{false, true} {
		for i := range n {
			part := float64(i) / n
			if back {
				part = 1 - part
			}
			m := s.at(from + (to-from)*(1-math.Cos(math.Pi*part))/2)
			out = append(out, m.cut(back))
		}
	}
	return out
}

// cut is where the umbra's edge crosses the Earth's outline, to one side of the
// line through the innermost and outermost points of the edge or to the other.
func (m *moment) cut(back bool) rimPoint {
	v := m.touching(umbra)
	for v.outerQ < v.innerQ {
		v.outerQ += 2 * math.Pi
	}
	if back {
		v.outerQ -= 2 * math.Pi
	}
	Q := v.innerQ
	switch { // at a contact itself rounding may leave either without a sign
	case v.outer >= 0:
		Q = v.outerQ
	case v.inner > 0:
		Q = zero(func(Q float64) float64 { return m.rim(umbra, Q).inside }, v.innerQ, v.outerQ)
	}
	e := m.rim(umbra, Q)
	leaving := -e.l*e.g > 0
	rising := m.ground(m.normal(e.point)).ζ > 0
	return rimPoint{m.place(e.point), leaving == rising}
}

// lastRuns are the stretches of a loop that bound the path.
func lastRuns(loop []rimPoint) (runs [][]sun.Site) {
	n := len(loop)
	start := -1
	for i := range loop {
		if loop[i].last && !loop[(i+n-1)%n].last {
			start = i
			break
		}
	}
	if start < 0 {
		return nil // none is, or all
	}
	var run []sun.Site
	for i := range n {
		p := loop[(start+i)%n]
		if p.last {
			run = append(run, p.site)
		} else if run != nil {
			runs, run = append(runs, run), nil
		}
	}
	if run != nil {
		runs = append(runs, run)
	}
	return runs
}

// chain joins stretches between two sites, each time the one with the nearest end,
// until the goal is nearer than any.
func chain(runs [][]sun.Site, from, to sun.Site) (out []sun.Site) {
	used := make([]bool, len(runs))
	for here := from; ; {
		best, turned, least := -1, false, distance(here, to)
		for i, r := range runs {
			if used[i] {
				continue
			}
			if d := distance(here, r[0]); d < least || best < 0 && len(out) == 0 {
				best, turned, least = i, false, d
			}
			if d := distance(here, r[len(r)-1]); d < least {
				best, turned, least = i, true, d
			}
		}
		if best < 0 {
			return out
		}
		used[best] = true
		r := runs[best]
		for i := range r {
			if turned {
				out = append(out, r[len(r)-1-i])
			} else {
				out = append(out, r[i])
			}
		}
		here = out[len(out)-1]
	}
}
