package canon

import (
	"math"
	"slices"

	"example.org/noonfall/eclipse"
)

// A watch is a time with the Sun up, hours from T0, and whether it begins and ends
// at the horizon rather than with the eclipse.
type watch struct {
	from, to    float64
	rises, sets bool
}

// watches finds them between two instants: every twenty seconds, then bisection;
// where the Sun turns close to the horizon, golden section for the turn.
func watches(height func(float64) float64, from, to float64) (all []watch) {
	const step = 20.0 / 3600
	below := func(h float64) float64 { return -height(h) }
	n := int((to-from)/step) + 2
	knots := []float64{from}
	for i := 1; i < n; i++ {
		a, b := from+(to-from)*float64(i-1)/float64(n-1), from+(to-from)*float64(i)/float64(n-1)
		if i > 1 { // the turn within the last two pieces, should it be the other side of the horizon
			before := math.Max(from, 2*a-b)
			va, v0, vb := height(a), height(before), height(b)
			switch {
			case va <= 0 && va >= v0 && va >= vb:
				if turn := golden(below, before, b); height(turn) > 0 {
					knots = append(knots, turn)
				}
			case va > 0 && va <= v0 && va <= vb:
				if turn := golden(height, before, b); height(turn) <= 0 {
					knots = append(knots, turn)
				}
			}
		}
		knots = append(knots, b)
	}
	slices.Sort(knots)
	up := watch{from: from}
	for i, h := range knots[1:] {
		a, b := height(knots[i]), height(h)
		switch {
		case a <= 0 && b > 0:
			up = watch{from: bisect(height, knots[i], h), rises: true}
		case a > 0 && b <= 0:
			up.to, up.sets = bisect(height, h, knots[i]), true
			all = append(all, up)
		}
		if i == len(knots)-2 && b > 0 {
			up.to, up.sets = h, false
			all = append(all, up)
		}
	}
	return all
}

// horizon compares what the horizon leaves.
func (y *tally) horizon(o *eclipse.Observer, c *eclipse.Circumstances, d direct, k float64, outer, inner dip) {
	e := o.Elements()
	height := func(h float64) float64 { return d.height(h, o.Options().Horizon) }
	all := watches(height, outer.begin, outer.end)
	want, rises, sets := eclipse.None, false, false
	var rise, set float64
	deepest, from, magnitude := math.Inf(-1), 0.0, func(h float64) float64 { return d.magnitude(h, k) }
	for _, w := range all {
		want = max(want, eclipse.Partial)
		if inner.ok && w.from < inner.end && w.to > inner.begin {
			want = c.Geometry
		}
		if w.rises {
			rises, rise = true, w.from
		}
		if w.sets {
			sets, set = true, w.to
		}
		at := math.Max(w.from, math.Min(w.to, sinceT0(c.Max.TT, e)))
		if m := magnitude(at); m > deepest {
			deepest, from = m, at
		}
	}
	if c.Seen != want || c.Rise.Exists != rises || c.Set.Exists != sets || c.MaxSeen.Exists != (len(all) > 0) {
		y.t.Errorf("%s, %v: seen %v with rise %v and set %v, directly %v in %v", y.where, o.Options().Horizon, c.Seen, c.Rise.Exists, c.Set.Exists, want, all)
		return
	}
	y.count["seen "+want.String()]++
	// The Sun's own place is good to 0.00005 degrees; the slower it climbs, the longer that lasts.
	climb := func(h float64) float64 {
		const second = 1.0 / 3600
		return math.Abs(height(h+second)-height(h-second)) / 2
	}
	late := 0.01
	if rises {
		late = 0.01 + 0.00005/climb(rise)
		y.contact("rise", o, c.Rise, d, rise, late, 0)
	}
	if sets {
		tol := 0.01 + 0.00005/climb(set)
		late = math.Max(late, tol)
		y.contact("set", o, c.Set, d, set, tol, 0)
	}
	switch {
	case len(all) == 2:
		y.count["seen twice"]++
	case want > eclipse.None && !c.C1.Above && !c.C4.Above:
		y.count["seen in its middle only"]++
	case want > eclipse.None && c.Geometry > want:
		y.count["seen as partial where it is central"]++
	}
	if want == eclipse.None {
		return
	}
	// Magnitude grows by 0.0003 a second at most: 0.55 arcsec of motion over the
	// diameter. Obscuration, where the edges cross at right angles, by 1.3 times that.
	if s, m, _ := d.bodies(from); k == k2 && s.angle(m) <= math.Abs(solar(s)-lunar(m, k)) {
		deepest = lunar(m, k) / solar(s)
	}
	y.off("magnitude as seen", c.SeenMagnitude-deepest, 2e-5+3e-4*late)
	y.off("obscuration as seen", c.SeenObscuration-d.obscuration(from, k), 2e-5+4e-4*late)
}
