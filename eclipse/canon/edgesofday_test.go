package canon

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// Eclipses about midnight Sun and polar night. The first place and day were given as
// a known difficulty; the others were found by the direct method, which is asked
// again here. Lists find what they show.
func TestEclipsesAtTheEdgesOfDay(t *testing.T) {
	const deltaT = 70
	everywhere := skies(t)
	for _, c := range []struct {
		name     string
		date     string
		site     sun.Site
		horizon  eclipse.Horizon
		geometry eclipse.Kind
		seen     eclipse.Kind
		ends     [2]bool // the Sun up at C1 and at C4
		rise     bool    // between them
		set      bool
	}{
		{"noon of a day shorter than the eclipse", "2037-01-16", sun.Site{Lat: 68.97, Lon: 33.075}, eclipse.RefractedUpperLimb,
			eclipse.Partial, eclipse.Partial, [2]bool{false, false}, true, true},
		{"the same by the centre", "2037-01-16", sun.Site{Lat: 68.97, Lon: 33.075}, eclipse.RefractedCentre,
			eclipse.Partial, eclipse.Partial, [2]bool{false, false}, true, true},
		{"the same without air", "2037-01-16", sun.Site{Lat: 68.97, Lon: 33.075}, eclipse.Centre,
			eclipse.Partial, eclipse.Partial, [2]bool{false, false}, true, true},
		{"half a degree farther north", "2037-01-16", sun.Site{Lat: 69.43, Lon: 34.76}, eclipse.RefractedUpperLimb,
			eclipse.Partial, eclipse.Partial, [2]bool{false, false}, true, true},
		{"there without air: the Sun stays down", "2037-01-16", sun.Site{Lat: 69.43, Lon: 34.76}, eclipse.Centre,
			eclipse.Partial, eclipse.None, [2]bool{false, false}, false, false},
		{"totality at a noon like that", "1910-05-09", sun.Site{Lat: -73.41, Lon: 106.61}, eclipse.RefractedUpperLimb,
			eclipse.Total, eclipse.Total, [2]bool{false, false}, true, true},
		{"twice, the deepest at midnight below the horizon", "2021-06-10", sun.Site{Lat: 65.98, Lon: -161.92}, eclipse.RefractedUpperLimb,
			eclipse.Partial, eclipse.Partial, [2]bool{true, true}, true, true},
		{"twice, the deepest before midnight", "2026-08-12", sun.Site{Lat: 74.36, Lon: 103.74}, eclipse.RefractedUpperLimb,
			eclipse.Partial, eclipse.Partial, [2]bool{true, true}, true, true},
		{"there without air: the Sun stays down again", "2026-08-12", sun.Site{Lat: 74.36, Lon: 103.74}, eclipse.Centre,
			eclipse.Partial, eclipse.None, [2]bool{false, false}, false, false},
		{"midnight Sun throughout", "2021-06-10", sun.Site{Lat: 68, Lon: -161.92}, eclipse.RefractedUpperLimb,
			eclipse.Partial, eclipse.Partial, [2]bool{true, true}, false, false},
		{"the pole on the day of the equinox", "2015-03-20", sun.Site{Lat: 90}, eclipse.RefractedUpperLimb,
			eclipse.Total, eclipse.Total, [2]bool{true, true}, false, false},
		{"the pole there without air: the Sun stays down", "2015-03-20", sun.Site{Lat: 90}, eclipse.Centre,
			eclipse.Total, eclipse.None, [2]bool{false, false}, false, false},
		{"polar night throughout", "2021-06-10", sun.Site{Lat: -80, Lon: -161.92}, eclipse.RefractedUpperLimb,
			eclipse.None, eclipse.None, [2]bool{false, false}, false, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			day, err := time.Parse(time.DateOnly, c.date)
			require.NoError(t, err)
			e, err := loaded(t).On(day)
			require.NoError(t, err)
			opt := eclipse.Options{Scale: timescale.FixedDeltaT(deltaT), Horizon: c.horizon}
			o, err := eclipse.NewObserver(e, c.site, opt)
			require.NoError(t, err)
			got := o.Circumstances()
			if got.Geometry != c.geometry || got.Seen != c.seen || got.C1.Above != c.ends[0] || got.C4.Above != c.ends[1] ||
				got.Rise.Exists != c.rise || got.Set.Exists != c.set {
				t.Errorf("%v, seen %v, up at C1 %v and at C4 %v, rise %v, set %v; want %+v",
					got.Geometry, got.Seen, got.C1.Above, got.C4.Above, got.Rise.Exists, got.Set.Exists, c)
			}
			listed := 0
			for _, s := range seen(t, c.site, day.AddDate(0, 0, -2), day.AddDate(0, 0, 2), Options{Observer: opt}) {
				listed++
				if s.Circumstances != got {
					t.Errorf("the list has another eclipse, of %s", s.Elements.Date)
				}
			}
			if want := int(math.Min(1, float64(c.seen))); listed != want {
				t.Errorf("%d in the list of what is seen, want %d", listed, want)
			}
			y := &tally{t: t, where: fmt.Sprintf("%s: %+v", c.date, c.site), worst: map[string]float64{}, count: map[string]int{}}
			for _, s := range everywhere {
				if s.date == c.date {
					y.circumstances(o, direct{s, c.site, deltaT})
				}
			}
			if y.count["kind "+c.geometry.String()] != 1 {
				t.Errorf("the direct method was not asked: %v", y.count)
			}
		})
	}
}

// height is the Sun's altitude over that at which it rises, degrees.
func (d direct) height(hours float64, horizon eclipse.Horizon) float64 {
	alt, _ := d.horizontal(hours)
	s, _, _ := d.bodies(hours)
	return alt - horizonOf(horizon, solar(s)/deg)
}

// turning is the Sun's height at noon or midnight, the highest or lowest that it has
// within the hours that the method looks at.
func (d direct) turning(horizon eclipse.Horizon, noon bool) float64 {
	sign := 1.0
	if noon {
		sign = -1
	}
	f := func(h float64) float64 { return sign * d.height(h, horizon) }
	const step = 0.1
	best := -reach
	for h := -reach; h <= reach; h += step {
		if f(h) < f(best) {
			best = h
		}
	}
	return d.height(golden(f, best-step, best+step), horizon)
}

// Places where the Sun turns at the horizon in the middle of an eclipse, half of them
// within a few degrees of a pole, where it does so an hour's fraction away from
// culmination: no rise or set is missed, however short.
func TestSkimmingSun(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 2))
	everywhere := skies(t)
	elements := slices.Collect(loaded(t).All())
	y := &tally{t: t, worst: map[string]float64{}, count: map[string]int{}}
	n := 3 * howMany(t, 250)
	for i := range n {
		number := r.IntN(len(elements))
		for i%2 == 0 && math.Abs(elements[number].D[0]) > 4 { // close to an equinox
			number = r.IntN(len(elements))
		}
		turn := []string{"midnight", "noon"}[i/2%2]
		d := everywhere[number].place(slices.Index(placeNames[:], turn), r)
		opt := eclipse.Options{Scale: timescale.FixedDeltaT(d.deltaT), Horizon: eclipse.Horizon(r.IntN(4))}
		if !dipOf(d.outside).ok {
			continue
		}
		toward := math.Copysign(1, d.site.Lat) // the pole, which raises the midnight Sun
		if turn == "noon" {
			toward = -toward
		}
		// From a thousandth of a degree to either side, by powers of ten, down to
		// where the Sun climbs by less in a minute.
		height := math.Copysign(math.Pow(10, -3-2*r.Float64()), r.Float64()-0.5)
		for range 3 {
			d.site.Lat = math.Max(-90, math.Min(90, d.site.Lat+toward*(height-d.turning(opt.Horizon, turn == "noon"))))
		}
		o, err := eclipse.NewObserver(elements[number], d.site, opt)
		require.NoError(t, err)
		outer, inner, k := dipOf(d.outside), dipOf(d.inside), k1
		if !outer.ok {
			continue
		}
		if inner.ok {
			k = k2
		}
		y.where = fmt.Sprintf("%s, %s: %+v, Delta T %.3f", elements[number].Date, turn, d.site, d.deltaT)
		c := o.Circumstances()
		y.horizon(o, &c, d, k, outer, inner)
	}
	y.log()
	if rises := y.count["rise, s"]; rises < n/50 {
		t.Errorf("only %d of %d see the Sun rise", rises, n)
	}
}
