package canon

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// anywhere draws a site: most of them where searches go wrong, on and about the
// poles, in the belts of midnight Sun and polar night, and on the antimeridian.
func anywhere(i int, r *rand.Rand) sun.Site {
	s := sun.Site{Lat: math.Asin(2*r.Float64()-1) / deg, Lon: -180 + 360*r.Float64(), Height: 9000 * r.Float64() * r.Float64()}
	switch i % 8 {
	case 0:
		s.Lat = math.Copysign(90, s.Lat)
	case 1:
		s.Lat = math.Copysign(90-math.Pow(10, 3*r.Float64()-2), s.Lat)
	case 2, 3:
		s.Lat = math.Copysign(60+30*r.Float64(), s.Lat)
	case 4:
		s.Lon = []float64{-180, 180, 179.999, -179.999}[r.IntN(4)]
	}
	return s
}

func seen(t testing.TB, site sun.Site, from, to time.Time, opt Options) []Sighting {
	all, err := loaded(t).SeenFrom(site, from, to, opt)
	require.NoError(t, err)
	return slices.Collect(all)
}

// horizonOf is the altitude at which the Sun rises, degrees: refraction of 34
// arcmin, and the limb, where they count.
func horizonOf(h eclipse.Horizon, sunRadius float64) float64 {
	lift := [...]struct{ refraction, limb float64 }{
		eclipse.RefractedUpperLimb: {34. / 60, 1}, eclipse.RefractedCentre: {34. / 60, 0},
		eclipse.UpperLimb: {0, 1}, eclipse.Centre: {0, 0},
	}[h]
	return -lift.refraction - lift.limb*sunRadius
}

// No eclipse is lost and none invented: every eclipse of the catalogue is watched
// from the site every two minutes over its whole span, by the aspect of the discs
// alone, and what shows any cover with the Sun up must be in the list; what is in
// the list must show some at its deepest instant.
func TestSeenFromLosesNothing(t *testing.T) {
	const step = 120 // s
	places := 96
	if testing.Short() {
		places = 16
	}
	r := rand.New(rand.NewPCG(1, 2))
	all := slices.Collect(loaded(t).All())
	found, skimming := 0, 0
	for n := range places {
		site := anywhere(n, r)
		opt := eclipse.Options{Horizon: eclipse.Horizon(n % 4), Scale: timescale.FixedDeltaT(120 * r.Float64())}
		list := seen(t, site, time.Time{}, time.Time{}, Options{Observer: opt})
		at := 0
		for _, e := range all {
			o, err := eclipse.NewObserver(e, site, opt)
			require.NoError(t, err)
			watched := false
			for h := -3.5 * 3600; h <= 3.5*3600 && !watched; h += step {
				a := o.Aspect(e.T0 + timescale.TT(h))
				watched = a.Magnitude > 0 && a.Alt > horizonOf(opt.Horizon, a.SunRadius)
			}
			listed := at < len(list) && list[at].Elements.Date == e.Date
			if watched && !listed {
				t.Errorf("%s at %+v, %v: seen, but not in the list", e.Date, site, opt.Horizon)
			}
			if !listed {
				continue
			}
			c := &list[at].Circumstances
			a := o.Aspect(c.MaxSeen.TT)
			// at sunrise itself the altitude is the horizon's but for rounding
			if !(a.Magnitude > 0 && a.Alt > horizonOf(opt.Horizon, a.SunRadius)-1e-7) {
				t.Errorf("%s at %+v, %v: in the list, but at its deepest %+v", e.Date, site, opt.Horizon, a)
			}
			if at++; !watched {
				skimming++ // between two looks
			}
		}
		if at != len(list) {
			t.Errorf("%+v: %d of %d sightings are of no eclipse, or out of order", site, len(list)-at, len(list))
		}
		found += at
	}
	if found < 60*places || skimming > found/100 {
		t.Errorf("%d sightings from %d places, %d of them too short for the scan: want about 80 each", found, places, skimming)
	}
	t.Logf("%d sightings from %d places, %d of them between two looks", found, places, skimming)
}

// A span keeps what its ends say, and Next and Last step along the list; the ends
// are drawn on the very instants too.
func TestSpansNextAndLast(t *testing.T) {
	start := time.Date(1890, 1, 1, 0, 0, 0, 0, time.UTC)
	rapid.Check(t, func(r *rapid.T) {
		opt := Options{
			Observer:    eclipse.Options{Horizon: eclipse.Horizon(rapid.IntRange(0, 3).Draw(r, "horizon"))},
			Kind:        eclipse.Kind(rapid.IntRange(0, 3).Draw(r, "kind")),
			Obscuration: rapid.SampledFrom([]float64{0, 0.3, 0.9}).Draw(r, "obscuration"),
			Below:       rapid.Bool().Draw(r, "below"),
		}
		site := anywhere(rapid.IntRange(0, 7).Draw(r, "kind of place"), rand.New(rand.NewPCG(1, rapid.Uint64().Draw(r, "seed"))))
		instant := func(s Sighting) time.Time {
			if opt.Below {
				return s.Circumstances.Max.UTC
			}
			return s.Circumstances.MaxSeen.UTC
		}
		all := seen(t, site, time.Time{}, time.Time{}, opt)
		draw := func(name string) time.Time {
			at := start.Add(time.Duration(rapid.Int64Range(0, 220*31557600).Draw(r, name)) * time.Second)
			if len(all) > 0 && rapid.Bool().Draw(r, "near one") {
				shift := rapid.SampledFrom([]time.Duration{-26 * time.Hour, -time.Second, -1, 0, 1, time.Second, 26 * time.Hour}).Draw(r, "shift")
				at = instant(all[rapid.IntRange(0, len(all)-1).Draw(r, "one")]).Add(shift)
			}
			return at
		}
		from, to := draw("from"), draw("to")
		var inside []string
		before, after := "", "" // of from
		for _, s := range all {
			switch at := instant(s); {
			case at.Before(from):
				before = s.Elements.Date
			case at.After(from) && after == "":
				after = s.Elements.Date
			}
			if at := instant(s); !at.Before(from) && at.Before(to) {
				inside = append(inside, s.Elements.Date)
			}
		}
		var got []string
		for _, s := range seen(t, site, from, to, opt) {
			got = append(got, s.Elements.Date)
		}
		if !slices.Equal(got, inside) {
			r.Fatalf("from %v to %v: %v, want %v", from, to, got, inside)
		}
		for _, c := range []struct {
			name    string
			want    string
			forward bool
			ask     func(sun.Site, time.Time, Options) (Sighting, error)
		}{
			{"Next", after, true, loaded(t).Next},
			{"Last", before, false, loaded(t).Last},
		} {
			s, err := c.ask(site, from, opt)
			if c.want == "" {
				if e, ok := errors.AsType[*NotSeenError](err); !ok || e.Forward != c.forward || s.Elements != nil {
					r.Fatalf("%s of %v: %v, %v, want a NotSeenError", c.name, from, s.Elements, err)
				}
				continue
			}
			if err != nil || s.Elements.Date != c.want {
				r.Fatalf("%s of %v: %+v, %v, want %s", c.name, from, s.Elements, err, c.want)
			}
		}
	})
}

// What counts is what was asked for: each list is the one of everything, sifted.
func TestSeenFromOptions(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	counted := map[string]int{}
	for n := range 40 {
		site := anywhere(n, r)
		everything := seen(t, site, time.Time{}, time.Time{}, Options{Below: true})
		for _, c := range []struct {
			name string
			opt  Options
			want func(*eclipse.Circumstances) bool
		}{
			{"seen", Options{}, func(c *eclipse.Circumstances) bool { return c.Seen != eclipse.None }},
			{"half", Options{Obscuration: 0.5}, func(c *eclipse.Circumstances) bool { return c.Seen != eclipse.None && c.SeenObscuration >= 0.5 }},
			{"half, below", Options{Obscuration: 0.5, Below: true}, func(c *eclipse.Circumstances) bool { return c.Obscuration >= 0.5 }},
			{"central", Options{Kind: eclipse.Annular}, func(c *eclipse.Circumstances) bool { return c.Seen >= eclipse.Annular }},
			{"central, below", Options{Kind: eclipse.Annular, Below: true}, func(c *eclipse.Circumstances) bool { return c.Geometry >= eclipse.Annular }},
			{"total", Options{Kind: eclipse.Total}, func(c *eclipse.Circumstances) bool { return c.Seen == eclipse.Total }},
		} {
			got := seen(t, site, time.Time{}, time.Time{}, c.opt)
			i := 0
			for _, s := range everything {
				if !c.want(&s.Circumstances) {
					continue
				}
				counted[c.name]++
				if i >= len(got) || got[i].Circumstances != s.Circumstances || got[i].Elements.Date != s.Elements.Date {
					t.Errorf("%s at %+v: %s is not number %d of the list", c.name, site, s.Elements.Date, i)
				}
				i++
			}
			if i != len(got) {
				t.Errorf("%s at %+v: %d eclipses, want %d", c.name, site, len(got), i)
			}
		}
	}
	for _, name := range []string{"seen", "half", "half, below", "central", "central, below", "total"} {
		if counted[name] < 10 {
			t.Errorf("only %d eclipses that are %s", counted[name], name)
		}
	}
}

// Crossings that newspapers told of, and a city that waits; all from memory.
func TestWellKnownSightings(t *testing.T) {
	day := func(y int, m time.Month, d int) time.Time { return time.Date(y, m, d, 0, 0, 0, 0, time.UTC) }
	carbondale := sun.Site{Lat: 37.73, Lon: -89.22, Height: 120}
	london := sun.Site{Lat: 51.51, Lon: -0.13}
	total := Options{Kind: eclipse.Total}
	for _, c := range []struct {
		name string
		ask  func(sun.Site, time.Time, Options) (Sighting, error)
		site sun.Site
		at   time.Time
		opt  Options
		want string // empty: none
	}{
		{"Carbondale under its first path", loaded(t).Next, carbondale, day(2010, 1, 1), total, "2017-08-21"},
		{"and under the second, seven years later", loaded(t).Next, carbondale, day(2017, 8, 22), total, "2024-04-08"},
		{"the same backwards", loaded(t).Last, carbondale, day(2024, 4, 1), total, "2017-08-21"},
		{"London's deep one of 1999", loaded(t).Last, london, day(2010, 1, 1), Options{Obscuration: 0.9}, "1999-08-11"},
		{"no totality in London before 2151", loaded(t).Next, london, day(1901, 1, 1), total, ""},
		{"none since 1715", loaded(t).Last, london, day(2100, 12, 31), total, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, err := c.ask(c.site, c.at, c.opt)
			if c.want == "" {
				if _, ok := errors.AsType[*NotSeenError](err); !ok {
					t.Errorf("got %v, %v, want a NotSeenError", s.Elements, err)
				}
				return
			}
			if err != nil || s.Elements.Date != c.want {
				t.Errorf("got %v, %v, want %s", s.Elements, err, c.want)
			}
		})
	}
}
