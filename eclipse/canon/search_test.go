package canon

import (
	"iter"
	"math"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
)

func TestSearchesRefuse(t *testing.T) {
	for _, c := range []struct {
		name string
		site sun.Site
		opt  Options
		want string // of the error, in full
	}{
		{"latitude", sun.Site{Lat: 91}, Options{}, "Site.Lat is 91, want a number from -90 to 90"},
		{"longitude", sun.Site{Lon: math.NaN()}, Options{}, "Site.Lon is NaN, want a number from -180 to less than 360"},
		{"obscuration", sun.Site{}, Options{Obscuration: 90}, "Options.Obscuration is 90, want a number from 0 to 1"},
		{"no number", sun.Site{}, Options{Obscuration: math.NaN()}, "Options.Obscuration is NaN, want a number from 0 to 1"},
		{"kind", sun.Site{}, Options{Kind: 9}, "Options.Kind is 9, want a number from 0 to 3"},
		{"horizon", sun.Site{}, Options{Observer: eclipse.Options{Horizon: 9}}, "eclipse: Options.Horizon is 9, want one of 4 kinds from 0"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, span := loaded(t).SeenFrom(c.site, time.Time{}, time.Time{}, c.opt)
			_, next := loaded(t).Next(c.site, time.Time{}, c.opt)
			_, last := loaded(t).Last(c.site, time.Time{}, c.opt)
			for _, err := range []error{span, next, last} {
				if err == nil || err.Error() != c.want {
					t.Errorf("got %v, want %s", err, c.want)
				}
			}
		})
	}
	_, err := loaded(t).Next(sun.Site{Lat: 51.5, Lon: -0.1}, time.Date(2101, 1, 1, 0, 0, 0, 0, time.UTC), Options{})
	const want = "canon: no such eclipse at latitude 51.5, longitude -0.1 after 2101-01-01T00:00:00Z " +
		"in the catalogue, 1901-05-18 to 2100-09-04: ask for less, or elsewhere"
	if err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

// A list can be left early, walked twice, and spoilt by its owner without harm.
func TestSightingsAreTheCallers(t *testing.T) {
	var list iter.Seq[Sighting]
	list, err := loaded(t).SeenFrom(sun.Site{Lat: 45}, time.Time{}, time.Time{}, Options{})
	require.NoError(t, err)
	first := ""
	for s := range list {
		first = s.Elements.Date
		s.Elements.X[0], s.Elements.Date = 99, "spoilt"
		break
	}
	for s := range list {
		if s.Elements.Date != first || s.Elements.X[0] == 99 {
			t.Errorf("the second walk begins with %s, the first with %s", s.Elements.Date, first)
		}
		break
	}
}

// Searches with different options at once, for the race detector; each gets its own.
func TestSearchesTogether(t *testing.T) {
	site := sun.Site{Lat: 68.97, Lon: 33.075}
	var want, got [4]int
	for h := range want {
		want[h] = len(seen(t, site, time.Time{}, time.Time{}, Options{Observer: eclipse.Options{Horizon: eclipse.Horizon(h)}}))
	}
	if want[eclipse.RefractedUpperLimb] <= want[eclipse.Centre] {
		t.Errorf("%d with refraction, %d without: want more with", want[eclipse.RefractedUpperLimb], want[eclipse.Centre])
	}
	var wait sync.WaitGroup
	for h := range got {
		wait.Go(func() {
			for range 5 {
				got[h] = len(seen(t, site, time.Time{}, time.Time{}, Options{Observer: eclipse.Options{Horizon: eclipse.Horizon(h)}}))
			}
		})
	}
	wait.Wait()
	if got != want {
		t.Errorf("%v together, %v one by one", got, want)
	}
}
