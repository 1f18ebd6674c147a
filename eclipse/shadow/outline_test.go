package shadow

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// sees asks the site itself whether any of the central phase falls into the time
// that the Sun's centre is up, and by how far the answer is decided: the distance
// from the limit or the Sun's height, whichever is closer to turning it.
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

// The outline against the sites themselves: random sites around the path are
// inside exactly where they see a central phase. Near the outline, within a
// kilometre and a half or so, either is right.
func TestOutlineHoldsWhoSees(t *testing.T) {
	c, err := canon.Load()
	require.NoError(t, err)
	rng := rand.New(rand.NewPCG(1, 2))
	asked, wrong := 0, 0
	for e := range c.All() {
		p, err := eclipse.Prepare(e, eclipse.Options{})
		require.NoError(t, err)
		s, err := New(e, eclipse.Options{})
		require.NoError(t, err)
		text, err := s.GeoJSON()
		require.NoError(t, err)
		var back readBack
		require.NoError(t, json.Unmarshal(text, &back))
		polygons := back.check(t, e.Date)
		var rings [][][2]float64
		for _, f := range polygons {
			rings = append(rings, f...)
		}
		if len(rings) == 0 {
			continue
		}
		for range 60 {
			r := rings[rng.IntN(len(rings))]
			v := r[rng.IntN(len(r))]
			site := sun.Site{Lat: v[1] + 3*rng.NormFloat64(), Lon: v[0]}
			if math.Abs(site.Lat) > 90 {
				continue
			}
			site.Lon = math.Remainder(site.Lon+3*rng.NormFloat64()/math.Max(0.05, math.Cos(site.Lat*deg)), 360)
			if site.Lon >= 180 {
				site.Lon -= 360
			}
			in := false
			for _, r := range rings {
				in = in || holds(r, [2]float64{site.Lon, site.Lat})
			}
			asked++
			if in != sees(t, p, site) {
				// How far would it have to go?
				near := math.Inf(1)
				for _, r := range rings {
					for _, v := range r {
						near = math.Min(near, distance(site, sun.Site{Lat: v[1], Lon: math.Mod(v[0]+540, 360) - 180}))
					}
				}
				wrong++
				o, _ := p.Observer(site)
				cc := o.Circumstances()
				t.Logf("%s: %.3f %.3f in %v, nearest corner %.1f km; dur %.1f alt %.3f %.3f", e.Date, site.Lat, site.Lon, in, near, cc.Duration, cc.C2.Alt, cc.C3.Alt)
			}
		}
	}
	t.Logf("%d asked, %d wrong", asked, wrong)
}
