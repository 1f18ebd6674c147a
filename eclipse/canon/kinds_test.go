package canon

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// fastest bounds how fast the discs' distance can change, degrees an hour: the
// Moon gains on the Sun by 0.62 at most, and the Earth's turn takes up to 0.27 off that
// by day, or adds it by night.
const fastest = 1.0

// deepest finds the least value of a gap between discs, degrees, over the span of
// an eclipse. The Moon cannot close a gap faster than fastest, so that the scan
// may step as far as the gap allows, and goes on in steps of a second where it is
// closed; the turn is then narrowed down.
func deepest(gap func(hours float64) float64) (at, least float64) {
	const finest = 1.0 / 3600
	least = math.Inf(1)
	for h := -3.5; h <= 3.5; {
		v := gap(h)
		if v < least {
			at, least = h, v
		}
		h += math.Max(finest, math.Abs(v)/fastest)
	}
	at = golden(gap, at-2*finest, at+2*finest)
	return at, math.Min(least, gap(at))
}

// kindByAspect is what the discs as Observer.Aspect shows them make of an eclipse;
// k is the lunar radius with which it does.
func kindByAspect(o *eclipse.Observer, k float64) eclipse.Kind {
	look := func(h float64) eclipse.Aspect { return o.Aspect(o.Elements().T0 + timescale.TT(h*3600)) }
	touching := func(h float64, want float64) (a eclipse.Aspect, moon float64) {
		a = look(h)
		return a, a.MoonRadius * want / k // the sine's curve takes 1e-9 of the change in k
	}
	_, outer := deepest(func(h float64) float64 {
		a, moon := touching(h, k1)
		return a.Separation - a.SunRadius - moon
	})
	if outer >= 0 {
		return eclipse.None
	}
	at, inner := deepest(func(h float64) float64 {
		a, moon := touching(h, k2)
		return a.Separation - math.Abs(a.SunRadius-moon)
	})
	a, moon := touching(at, k2)
	switch {
	case inner >= 0:
		return eclipse.Partial
	case moon > a.SunRadius:
		return eclipse.Total
	}
	return eclipse.Annular
}

// Kinds at random places, half of them close to the path, by the contacts and by the
// aspect of the discs from second to second. Here the catalogue stands against
// itself; against positions it stands in TestCatalogueAgainstDirectComputation.
func TestKindsAgainstAspect(t *testing.T) {
	n := 15 * howMany(t, 1000)
	r := rand.New(rand.NewPCG(5, 6))
	elements := slices.Collect(loaded(t).All())
	all := skies(t)
	counts := map[eclipse.Kind]int{}
	for i := range n {
		number := i % len(elements)
		e := elements[number]
		deltaT := 70.0
		site := sun.Site{Lat: math.Asin(2*r.Float64()-1) / deg, Lon: -180 + 360*r.Float64(), Height: 9000 * r.Float64()}
		if i%2 == 0 {
			if under, ok := all[number].underAxis(5*r.Float64()-2.5, deltaT); ok {
				site.Lat = math.Max(-90, math.Min(90, under.Lat+r.NormFloat64()))
				site.Lon = under.Lon
			}
		}
		o, err := eclipse.NewObserver(e, site, eclipse.Options{Scale: timescale.FixedDeltaT(deltaT)})
		require.NoError(t, err)
		c := o.Circumstances()
		k := k1
		if c.Geometry > eclipse.Partial {
			k = k2
		}
		if want := kindByAspect(o, k); c.Geometry != want {
			t.Errorf("%s at %+v: %v, by the discs %v", e.Date, site, c.Geometry, want)
		}
		counts[c.Geometry]++
	}
	for _, k := range []eclipse.Kind{eclipse.None, eclipse.Partial, eclipse.Annular, eclipse.Total} {
		if counts[k] < n/100 {
			t.Errorf("only %d of %d are %v", counts[k], n, k)
		}
	}
	t.Logf("%v of %d", counts, n)
}
