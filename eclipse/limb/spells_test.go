package limb

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// clearance says by how much, km, the limb stands clear of the Sun's edge at worst, all of
// it outside or all of it inside: the second method, which looks at instants and solves
// for nothing.
func clearance(p *pane, x float64) float64 {
	outside, inside := math.Inf(1), math.Inf(1)
	sx, sy, sun := p.x.at(x), p.y.at(x), p.sun.at(x)
	for i, r := range p.radius {
		r += x * p.drift[i]
		d := math.Hypot(r*p.grid.sin[i]-sx, r*p.grid.cos[i]-sy) - sun
		outside, inside = math.Min(outside, d), math.Min(inside, -d)
	}
	return math.Max(outside, inside)
}

// Phases are what marching through time finds: clear within, broken without, on both
// sides of all contacts.
func TestPhasesAgainstMarchingInTime(t *testing.T) {
	n := 0
	seen := map[eclipse.Kind]int{}
	all := append(centrals(t, eclipse.Total, 25), centrals(t, eclipse.Annular, 25)...)
	for _, o := range slices.Concat(all, nearLimits(t), hybrids(t), inPieces(t)) {
		m := moonOf(t, o)
		c := m.Contacts()
		circ := o.Circumstances()
		middle, half, ok := m.span(&circ)
		require.True(t, ok)
		seen[c.LimbKind]++
		var p pane
		m.pane(m.follow(middle, half), &p)
		var instants []timescale.TT
		for i := range 201 {
			at := middle
			if c.Count > 0 {
				at = c.LimbC2.TT
			}
			instants = append(instants, at+timescale.TT(float64(i)/100-0.5)*timescale.TT(math.Max(20, float64(c.LimbC3.TT-c.LimbC2.TT))))
		}
		for _, phase := range c.Phases[:c.Count] {
			for _, at := range []timescale.TT{phase.Begin.TT, phase.End.TT} {
				instants = append(instants, at-0.0031, at+0.0031)
			}
		}
		for _, at := range instants {
			inside := false
			edge := math.Inf(1)
			for _, phase := range c.Phases[:c.Count] {
				inside = inside || at >= phase.Begin.TT && at <= phase.End.TT
				edge = min(edge, math.Abs(float64(at-phase.Begin.TT)), math.Abs(float64(at-phase.End.TT)))
			}
			if edge < 0.003 {
				continue
			}
			n++
			if clear := clearance(&p, float64(at-middle)/half); (clear > 0) != inside {
				t.Errorf("%s %+v: %v: %.1f m of clearance, %.3f s from the nearest contact, said to be inside: %t",
					o.Elements().Date, o.Site(), c.LimbKind, 1000*clear, edge, inside)
			}
		}
	}
	if n < 20000 || seen[eclipse.Partial] < 20 || seen[eclipse.Total] < 50 || seen[eclipse.Annular] < 20 {
		t.Errorf("%d instants, kinds %v", n, seen)
	}
	t.Logf("%d instants, kinds %v", n, seen)
}

// hybrids are sites along eclipses that are annular at the ends of their path and total
// in its middle: in between mountains break every ring and valleys every totality.
func hybrids(t testing.TB) (out []*eclipse.Observer) {
	for _, date := range []string{"2005-04-08", "2013-11-03", "2023-04-20"} {
		e := elements(t, date)
		o := watch(t, e, sun.Site{}, 69)
		for s := timescale.TT(-6000); s <= 6000; s += 400 {
			site, ok := underAxis(o, e.T0+s)
			if !ok {
				continue
			}
			next := watch(t, e, site, 69)
			circ := next.Circumstances()
			if m := moonOf(t, next); circ.Geometry > eclipse.None {
				if _, _, ok := m.span(&circ); ok {
					out = append(out, next)
				}
			}
		}
	}
	return out
}

// nearLimits are sites across the northern limits of paths of total eclipses, where the
// real limb draws them.
func nearLimits(t testing.TB) (out []*eclipse.Observer) {
	for _, o := range centrals(t, eclipse.Total, 20) {
		at := func(lat float64) *eclipse.Observer {
			site := o.Site()
			site.Lat = lat
			next, err := eclipse.NewObserver(o.Elements(), site, o.Options())
			require.NoError(t, err)
			return next
		}
		south := o.Site().Lat
		north := min(90, south+3)
		for range 20 {
			if middle := (south + north) / 2; moonOf(t, at(middle)).Contacts().Count > 0 {
				south = middle
			} else {
				north = middle
			}
		}
		for _, off := range []float64{-0.02, -0.005, -0.001, -0.0002, 0.0002, 0.01} { // 22 m and more
			if north < 89 {
				out = append(out, at(north+off))
			}
		}
	}
	return out
}

// inPieces are sites at which valleys beside the track open once more in the middle of
// totality. They take looking for: of 66,000 steps of 30 m across 600 limits three did,
// two of them here. The Delta T with which they were found stands beside them: another
// forecast moves the paths by kilometres.
func inPieces(t testing.TB) (out []*eclipse.Observer) {
	for _, near := range []struct {
		date   string
		site   sun.Site
		deltaT float64 // s
	}{
		{"2017-08-21", sun.Site{Lat: 44.2575, Lon: -138}, 68.8445},
		{"2066-12-17", sun.Site{Lat: -48.15198, Lon: 174.19937}, 116.8695},
		{"2100-09-04", sun.Site{Lat: -21.09878, Lon: 47.67408}, 200.6686},
	} {
		found := false
		for off := -0.01; off <= 0.01 && !found; off += 1e-4 { // eleven metres apart
			site := near.site
			site.Lat += off
			o := watch(t, elements(t, near.date), site, near.deltaT)
			if found = moonOf(t, o).Contacts().Count > 1; found {
				out = append(out, o)
			}
		}
		require.True(t, found, "%s: no totality in pieces", near.date)
	}
	return out
}

// A shallow valley just beside the track lets light through in the middle of a short
// totality: the rule by itself, on a limb that is made up.
func TestValleyBreaksTotality(t *testing.T) {
	const speed = 0.12 // solar radii in half the track
	s := &spells{}
	s.pane = *roundPane(t, 1.03, 0.02)
	s.x, s.clear[2] = quartic{0, speed}, speed*speed // five minutes either side
	s.find()
	if d, n := s.darks(); n != 1 || !(math.Abs(d[0].end.at-math.Sqrt(0.0005)/speed) <= 1e-6) {
		t.Fatalf("a round limb: %+v, %d phases", d[0], n)
	}
	s.radius[0] -= 0.0101 // north of the centre, where the Sun's edge comes within 0.01
	s.find()
	d, n := s.darks()
	// |(0, 1.0199) - (speed x, 0.02)| = 1
	edge := math.Sqrt(1-0.9999*0.9999) / speed
	if n != 2 || !(math.Abs(d[0].end.at+edge) <= 1e-6 && math.Abs(d[1].begin.at-edge) <= 1e-6) {
		t.Fatalf("%d phases, %+v, want a break of %.5f either side", n, d[:n], edge)
	}
	if d[0].end.point != 0 || d[1].begin.point != 0 || d[0].begin.point == 0 || d[1].end.point == 0 {
		t.Errorf("the break is not made by the valley: %+v", d[:n])
	}
	s.radius[1] -= 0.01015 // a deeper one beside it takes over
	s.find()
	wide, n := s.darks()
	if n != 2 || wide[0].end != d[0].end || wide[1].begin.point != 1 || !(wide[1].begin.at > d[1].begin.at+0.04) {
		t.Errorf("%d phases, %+v", n, wide[:n])
	}
	s.radius[2] -= 0.02
	s.find()
	if _, n := s.darks(); n != 0 {
		t.Errorf("%d phases beside a valley that never closes", n)
	}
}
