package limb

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// kinds are those of central eclipses.
var kinds = []eclipse.Kind{eclipse.Total, eclipse.Annular}

// centrals are sites where random eclipses of 1950 to 2100 are total or annular for the
// smooth Moon, the Sun five degrees up or more: points of the central line, give or take
// 0.3 degrees either way.
func centrals(t testing.TB, kind eclipse.Kind, n int) []*eclipse.Observer {
	t.Helper()
	catalogue, err := canon.Load()
	require.NoError(t, err)
	var all []*eclipse.Elements
	for e := range catalogue.All() {
		if e.Date > "1950" {
			all = append(all, e)
		}
	}
	rng := rand.New(rand.NewPCG(1, 2))
	var out []*eclipse.Observer
	for tries := 0; len(out) < n; tries++ {
		require.Less(t, tries, 100*n)
		e := all[rng.IntN(len(all))]
		g := e.Greatest()
		if g.Type != eclipse.TypeTotal && g.Type != eclipse.TypeAnnular {
			continue
		}
		o, err := eclipse.NewObserver(e, sun.Site{}, eclipse.Options{})
		require.NoError(t, err)
		site, ok := underAxis(o, e.T0+timescale.TT(4000*(rng.Float64()-0.5)))
		if !ok {
			continue
		}
		site.Lat = max(-89, min(89, site.Lat+0.6*(rng.Float64()-0.5)))
		site.Lon += 0.6 * (rng.Float64() - 0.5)
		if o, err = eclipse.NewObserver(e, site, eclipse.Options{}); err != nil {
			continue
		}
		if c := o.Circumstances(); c.Geometry == kind && c.Max.Alt > 5 {
			out = append(out, o)
		}
	}
	return out
}

// underAxis is where the shadow's axis meets the ground, a sphere for this purpose.
func underAxis(o *eclipse.Observer, t timescale.TT) (sun.Site, bool) {
	site := sun.Site{}
	e := o.Elements()
	h := float64(t-e.T0) / 3600
	x, y := e.X.At(h), e.Y.At(h)
	z := 1 - x*x - y*y
	if z < 0.01 {
		return site, false
	}
	return fromAxis(e, h, x, y, z, o.Scale().DeltaT(t).Seconds), true
}

// fromAxis turns a point of the fundamental plane's sphere into a site.
func fromAxis(e *eclipse.Elements, h, x, y, z2, deltaT float64) sun.Site {
	z := math.Sqrt(z2)
	sind, cosd := math.Sincos(e.D.At(h) * deg)
	lat := math.Asin(y*cosd+z*sind) / deg
	hour := math.Atan2(x, z*cosd-y*sind) / deg
	lon := math.Remainder(hour-e.Mu.At(h)+1.00273781191135448*15/3600*deltaT, 360)
	if lon == 180 {
		lon = -180
	}
	return sun.Site{Lat: lat, Lon: lon}
}
