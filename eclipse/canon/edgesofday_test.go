package canon

import (
	"fmt"
	"math"
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
