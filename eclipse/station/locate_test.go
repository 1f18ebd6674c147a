package station

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
	"example.org/noonfall/testdata/study"
)

// clearDay is a clear sky's light over a site for so many days, a sample a minute, by the
// stamps of a clock that is right.
func clearDay(t *testing.T, site Site, start time.Time, days float64, light func(lux float64, at time.Time) float64) []fit.Sample {
	t.Helper()
	o, err := sun.NewObserver(site.Sun(), timescale.Scale{})
	require.NoError(t, err)
	var out []fit.Sample
	for at := start; at.Before(start.Add(time.Duration(days * 24 * float64(time.Hour)))); at = at.Add(time.Minute) {
		h := o.Position(timescale.Scale{}.TT(at))
		out = append(out, fit.Sample{Time: at, Value: light(sun.Sky{}.Illuminance(h.Alt, h.Distance).Global, at)})
	}
	return out
}

func plainLux(lux float64, _ time.Time) float64 { return lux }

// The dawns and dusks of a log are those of package sun's sunrise and sunset, to within
// what a level of light is off the horizon; two days have two, and what is no dawn none.
func TestDayEnds(t *testing.T) {
	site := Site{Lat: 41, Lon: -93}
	start := time.Date(2027, 6, 1, 5, 0, 0, 0, time.UTC) // about local midnight
	hour := func(at time.Time) float64 { return at.Sub(start).Hours() }
	for _, tt := range []struct {
		name   string
		days   float64
		light  func(float64, time.Time) float64
		turned bool
		want   int
	}{
		{"a day", 1, plainLux, false, 1},
		{"three days", 3, plainLux, false, 3},
		{"a power of the light", 1, func(lux float64, _ time.Time) float64 { return math.Pow(lux, 0.65) }, false, 1},
		{"a sensor upside down", 1, func(lux float64, _ time.Time) float64 { return 5000 - math.Pow(lux, 0.65) }, true, 1},
		{"an eclipse in it", 1, func(lux float64, at time.Time) float64 {
			if x := hour(at) - 12; math.Abs(x) < 0.4 {
				return lux * 1e-4
			}
			return lux
		}, false, 1},
		{"a lamp in the night", 1, func(lux float64, _ time.Time) float64 { return lux + 30 }, false, 1},
		{"a lid at three in the afternoon", 1, func(lux float64, at time.Time) float64 {
			if hour(at) > 15 {
				return 0
			}
			return lux
		}, false, 0},
		{"switched off before dusk", 0.6, plainLux, false, 0},
		{"no light at all", 1, func(float64, time.Time) float64 { return 7 }, false, 0},
	} {
		got := dayEnds(minuteMeans(clearDay(t, site, start, tt.days, tt.light)), tt.turned)
		if len(got) != tt.want {
			t.Errorf("%s: %d days, want %d: %v", tt.name, len(got), tt.want, got)
			continue
		}
		for _, e := range got {
			if is, late := sunAt([]dayEnd{e}, site, 0, timescale.Scale{}); is != fits || !(math.Abs(late) < 0.1) {
				t.Errorf("%s: %v, fits %v, noon %.2f h late", tt.name, e, is, late)
			}
		}
	}
	if got := dayEnds(nil, false); got != nil {
		t.Errorf("an empty log has %v", got)
	}
}

// byDawn is a report on a clear day without eclipse at one site, described as at another.
func byDawn(t *testing.T, right, written Site, zone string, ahead time.Duration, clock *fit.Result) *Report {
	t.Helper()
	middle := time.Duration(-right.Lon / 15 * float64(time.Hour))
	start := time.Date(2027, 7, 1, 0, 0, 0, 0, time.UTC).Add(middle) // local midnight
	samples := clearDay(t, right, start, 1, plainLux)
	for i := range samples {
		samples[i].Time = samples[i].Time.Add(ahead)
	}
	r := &Report{Station: &Station{Site: written, Zone: zone}, Samples: samples, Clock: clock, day: start}
	require.NoError(t, r.misplaced(t.Context(), Options{}))
	return r
}

// Without any eclipse dawn and dusk tell the site and the zone, where they can.
func TestByDaylight(t *testing.T) {
	iowa := Site{Lat: 41, Lon: -93, Height: 300}
	spain := Site{Lat: 36, Lon: -5.6, Height: 10}
	fitted := func(offset, zone float64) *fit.Result { return &fit.Result{Offset: offset, ZoneH: zone} }
	for _, tt := range []struct {
		name           string
		right, written Site
		zone           string
		ahead          float64 // hours
		clock          *fit.Result
		site           *Site   // named; nil for none
		hours          float64 // of the zone named; 0 for none
		warning        string
	}{
		{"right", iowa, iowa, "", 0, nil, nil, 0, ""},
		{"right, by its own zone", iowa, iowa, "-05:00", 0, nil, nil, 0, ""},
		{"right, half a minute off", iowa, iowa, "", 0.01, nil, nil, 0, ""},
		{"hills in the west", iowa, iowa, "", -0.5, nil, nil, 0, ""},
		{"longitude's sign", iowa, Site{41, 93, 300}, "", 0, nil, &iowa, 0, "dawn and dusk fit the Sun at 41.0000, -93.0000 (the sign of the longitude?)"},
		{"latitude's sign", iowa, Site{-41, -93, 300}, "", 0, nil, &iowa, 0, "the sign of the latitude"},
		{"local time", iowa, iowa, "", -5, nil, nil, -5, "dawn and dusk show them in -05:00, -5 h from it"},
		{"local time, and another written", iowa, iowa, "-07:00", 2, nil, nil, 2, `read in the zone -07:00, and dawn and dusk show them in -05:00`},
		{"half an hour in it", Site{20, 80, 0}, Site{20, 80, 0}, "", 5.5, nil, nil, 5.5, "show them in +05:30"},
		{"exchanged", spain, Site{-5.6, 36, 10}, "", 0, nil, &spain, 0, "latitude and longitude exchanged"},
		// 2 h late at -15 degrees is also +15 degrees with a right clock
		{"either of two", Site{50, 15, 0}, Site{50, 15, 0}, "", 2, nil, nil, 0, "any of these: the sign of the longitude; stamps in the zone +02:00"},
		{"nothing usual", Site{60, 100, 0}, Site{10, 20, 0}, "", 0, nil, nil, 0, "no usual mistake explains them"},
		{"fitted, and so the dawn", iowa, iowa, "", -5, fitted(-5*3600+3, -5), nil, -5, "the eclipse shows them in -05:00"},
		{"an hour that is no zone there", iowa, iowa, "", 7, fitted(7*3600+3, 7), nil, 0, "makes no zone of this longitude"},
		{"a clock that is right", iowa, iowa, "", 0, fitted(3, 0), nil, 0, ""},
		{"a plain day read as an eclipse", iowa, iowa, "", 0, fitted(-13.75*3600, -13.75), nil, 0, "do not believe it"},
		{"the same, fast", iowa, iowa, "", 0, fitted(9.25*3600, 9.25), nil, 0, "do not believe it"},
	} {
		r := byDawn(t, tt.right, tt.written, tt.zone, time.Duration(tt.ahead*float64(time.Hour)), tt.clock)
		if m := r.Misplaced; (m == nil) != (tt.site == nil) || m != nil && (m.Site != *tt.site || m.Clock != nil) {
			t.Errorf("%s: misplaced %v, want %v", tt.name, m, tt.site)
		}
		if z := r.Zone; (z == nil) != (tt.hours == 0) || z != nil && z.Hours != tt.hours {
			t.Errorf("%s: zone %v, want %g h", tt.name, z, tt.hours)
		}
		if got := strings.Join(r.Warnings, "\n"); (got == "") != (tt.warning == "") || !strings.Contains(got, tt.warning) {
			t.Errorf("%s: warnings %q, want %q", tt.name, got, tt.warning)
		}
	}
}

// A log of another eclipse than the station's is told by its own.
func TestAnotherEclipse(t *testing.T) {
	s, err := drawn(onlyOn(t, "2024-04-08"), 70000, false, 0)
	require.NoError(t, err)
	r := &Report{Station: &Station{Site: s.right, Eclipse: "2027-08-02"}}
	r.day, err = r.Station.Day()
	require.NoError(t, err)
	for _, k := range s.log.Samples {
		r.Samples = append(r.Samples, fit.Sample{Time: k.Stamp, Value: k.Counts})
	}
	_, err = r.predict(Options{})
	require.NoError(t, err)
	require.NoError(t, r.misplaced(t.Context(), Options{}))
	if m := r.Misplaced; m == nil || m.Eclipse != "2024-04-08" || m.Days != 0 || !(math.Abs(m.Clock.Offset-s.log.Truth.Offset) < 60) {
		t.Errorf("%v, truth %.1f s", m, s.log.Truth.Offset)
	}
}

func onlyOn(t *testing.T, date string) (out []*eclipse.Elements) {
	t.Helper()
	for _, e := range study.Eclipses(t) {
		if e.Date == date {
			out = append(out, e)
		}
	}
	require.Len(t, out, 1)
	return out
}
