package eclipse

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/noonfall/sun"
)

// Grazes of both shadows: the limit is sought along a meridian by the direct
// method, then sites stand from centimetres to kilometres inside and outside of
// it. Contacts of a graze are as good as the geometry allows: where the edge is
// approached at a glance, 1e-15 Earth radii of rounding become microseconds.
func TestGrazes(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	tried := map[cone]int{}
	shortest := math.Inf(1)
	for _, e := range all(t) {
		for range 2 {
			for _, c := range []cone{penumbra, umbra} {
				inside := under(e, 2*rng.Float64()-1, 0)
				reach := 3.0
				if c == penumbra {
					reach = 80
				}
				limit, ok := pathLimit(e, c, inside, reach)
				if !ok {
					continue
				}
				tried[c]++
				for _, metres := range []float64{0.01, 0.1, 1, 100, 3000} {
					for _, sign := range []float64{1, -1} {
						s := sun.Site{Lat: limit + sign*math.Copysign(metres/111e3, inside.Lat), Lon: inside.Lon}
						o := watch(t, e, s, 70)
						agree(t, o, direct{e, s, 70})
						if circ := o.Circumstances(); c == umbra && circ.Geometry > Partial {
							shortest = math.Min(shortest, circ.Duration)
						}
					}
				}
			}
		}
	}
	if tried[penumbra] < 40 || tried[umbra] < 40 {
		t.Errorf("only %v limits", tried)
	}
	if !(shortest < 0.5) {
		t.Errorf("the shortest central phase is %.2f s, no graze", shortest)
	}
	t.Logf("%v limits, shortest central phase %.3f s", tried, shortest)
}

// pathLimit walks from a site inside a shadow's path along its meridian towards
// the equator, some degrees at most, to the latitude where the path ends.
func pathLimit(e *Elements, c cone, inside sun.Site, reach float64) (lat float64, ok bool) {
	beyond := func(lat float64) float64 {
		d := direct{e, sun.Site{Lat: lat, Lon: inside.Lon}, 70}
		_, v := lowest(func(t float64) float64 { return d.beyond(c, t) }, -e.Span, e.Span)
		return v
	}
	outside := inside.Lat - math.Copysign(reach, inside.Lat)
	if beyond(inside.Lat) >= 0 || beyond(outside) <= 0 {
		return 0, false
	}
	return edge(beyond, inside.Lat, outside), true
}
