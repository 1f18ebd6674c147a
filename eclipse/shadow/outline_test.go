package shadow

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// sees asks the site itself whether any of the central phase falls into the time
// that the Sun's centre is up.
func sees(t *testing.T, p *eclipse.Prepared, site sun.Site) bool {
	t.Helper()
	o, err := p.Observer(site)
	require.NoError(t, err)
	c := o.Circumstances()
	if !c.C2.Exists {
		return false
	}
	for i := range 21 {
		at := c.C2.TT + timescale.TT(c.Duration*float64(i)/20)
		if o.Aspect(at).Alt >= 0 {
			return true
		}
	}
	return false
}

// holds says whether a point is inside a ring, by the number of its sides that a
// line to the south crosses.
func holds(r [][2]float64, p [2]float64) bool {
	in := false
	for i := range len(r) - 1 {
		a, b := r[i], r[i+1]
		if (a[0] > p[0]) != (b[0] > p[0]) && a[1]+(b[1]-a[1])*(p[0]-a[0])/(b[0]-a[0]) < p[1] {
			in = !in
		}
	}
	return in
}

// The outline against the sites themselves: random sites around every path are
// inside exactly where they see a central phase with the Sun up. Within half a
// kilometre of the outline, of which a straight step may be a tenth, either is right.
func TestOutlineHoldsWhoSees(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	asked, wrong := 0, 0
	for i, s := range every(t) {
		if !mapped(s, i) {
			continue
		}
		var rings [][][2]float64
		for _, f := range readMap(t, s).check(t, s.elements.Date) {
			rings = append(rings, f...)
		}
		if (len(rings) > 0) != (s.global.Type != eclipse.TypePartial) {
			t.Errorf("%s: %v, %d rings", s.elements.Date, s.global.Type, len(rings))
		}
		if len(rings) == 0 {
			continue
		}
		for range 60 {
			site := around(rng, rings)
			in := false
			for _, r := range rings {
				in = in || holds(r, [2]float64{site.Lon, site.Lat})
			}
			asked++
			if in == sees(t, s.prep, site) {
				continue
			}
			if km := away(rings, site); !(km <= 0.5) {
				t.Errorf("%s: outline holds %+v: %v, and that is wrong by %.2f km", s.elements.Date, site, in, km)
			}
			wrong++
		}
	}
	t.Logf("%d asked, %d too close to the outline to say", asked, wrong)
	if asked < 3000 {
		t.Errorf("only %d asked", asked)
	}
}

// mapped chooses what a run of the tests draws: whatever is special, and every
// eighth of the rest. NOONFALL_MAPS=all draws them all.
func mapped(s *Shadow, i int) bool {
	g := s.Global()
	special := g.Type != eclipse.TypePartial && math.Abs(g.Gamma) > 0.93 || g.Type == eclipse.TypeHybrid
	return special || i%8 == 0 || os.Getenv("NOONFALL_MAPS") == "all"
}

// around is a site within a few degrees of the outline.
func around(rng *rand.Rand, rings [][][2]float64) sun.Site {
	for {
		r := rings[rng.IntN(len(rings))]
		v := r[rng.IntN(len(r))]
		site := sun.Site{Lat: v[1] + 3*rng.NormFloat64()}
		if math.Abs(site.Lat) >= 90 {
			continue
		}
		site.Lon = math.Remainder(v[0]+3*rng.NormFloat64()/math.Max(0.05, math.Cos(site.Lat*deg)), 360)
		if site.Lon < 180 {
			return site
		}
	}
}

// away is the distance to the nearest side of the rings, km, flat about the site.
func away(rings [][][2]float64, site sun.Site) float64 {
	least, wide := math.Inf(1), math.Cos(site.Lat*deg)
	flat := func(v [2]float64) (x, y float64) {
		return 111.3 * math.Remainder(v[0]-site.Lon, 360) * wide, 111.3 * (v[1] - site.Lat)
	}
	for _, r := range rings {
		for i := range len(r) - 1 {
			ax, ay := flat(r[i])
			bx, by := flat(r[i+1])
			ux, uy := bx-ax, by-ay
			part := math.Max(0, math.Min(1, -(ax*ux+ay*uy)/(ux*ux+uy*uy)))
			least = math.Min(least, math.Hypot(ax+part*ux, ay+part*uy))
		}
	}
	return least
}
