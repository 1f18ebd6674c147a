package main

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/sun"
	"github.com/stretchr/testify/require"
)

func flatOf(t *testing.T, args ...string) string {
	t.Helper()
	text, _ := answerOf(t, args...)
	return strings.Join(strings.Fields(text), " ")
}

// Madrid is two hours ahead of UTC in August, Nepal five hours and three quarters (IANA's
// zones, from memory).
func TestZone(t *testing.T) {
	for zone, want := range map[string]string{
		"Europe/Madrid": "maximum 2027-08-02 08:47:28.3 2027-08-02 10:47:28",
		"+05:45":        "maximum 2027-08-02 08:47:28.3 2027-08-02 14:32:28",
	} {
		flat := flatOf(t, "-zone", zone)
		if !strings.Contains(flat, want) || !strings.Contains(flat, "UTC "+zone+" height") {
			t.Errorf("%s: lacks %q:\n%s", zone, want, flat)
		}
	}
	if !strings.Contains(flatOf(t, "-zone", "Europe/Madrid"), "2027-08-02 09:10 to 2027-08-02 12:31 in Europe/Madrid.") {
		t.Error("the logger's hours are not told in the zone")
	}
}

// The arithmetic of card and battery by hand: 12060 s of 45 bytes are 542.7 kB; 0.8 of
// 2000 mAh at 100 mA last 16 h, at 500 mA 3.2 of the 3.35 h that are needed.
func TestCardAndBattery(t *testing.T) {
	for _, tt := range []struct{ current, says string }{
		{"0", "and -current says whether"},
		{"100", "lasts 16 hours; 3.4 are needed."},
		{"500", "lasts 3 hours; 3.4 are needed: NOT ENOUGH."},
	} {
		flat := flatOf(t, "-current", tt.current)
		for _, w := range []string{"12060 lines at one a second, of 45 bytes", "are 543 kB", tt.says} {
			if !strings.Contains(flat, w) {
				t.Errorf("-current %s: lacks %q", tt.current, w)
			}
		}
	}
	_, j := answerOf(t, "-json", "-current", "500")
	if l := j["logger"].(map[string]any); l["battery_h"] != 3.2 || l["bytes"] != 542700.0 {
		t.Errorf("logger: %v", l)
	}
}

// A tuning fork 15 K from its turnover loses 0.034 ppm/K² x 225 = 7.65 ppm, 0.66 s a day
// (crystal.TuningFork has the sources). It is then to be set
// within the last day, and told to the whole minute.
func TestClock(t *testing.T) {
	_, j := answerOf(t, "-json", "-celsius", "40")
	c := j["clock"].(map[string]any)
	day := c["set_before"].([]any)[1].(map[string]any)
	if got := day["gained_s"].(float64); day["hours"] != 24.0 || !(math.Abs(got+0.661) < 0.005) {
		t.Errorf("%v", day)
	}
	at := instantOf(t, c, "set_from_utc")
	if max := instantOf(t, j["contacts"].([]any)[2], "utc"); !(at.Before(max) && max.Sub(at) < 24*time.Hour && at.Equal(at.Truncate(time.Minute))) {
		t.Errorf("set not before %v for %v", at, max)
	}
}

// The load that is advised reads the whole of the light at the site.
func TestLoad(t *testing.T) {
	for _, site := range firmwareSites {
		p := planned(t, site.day, site.lat, site.lon, cli.Real)
		d, err := p.design()
		require.NoError(t, err)
		low, high, _ := p.span()
		if !d.Enough {
			t.Fatalf("%s: one load is not enough", site.name)
		}
		if !(d.One.DarkLux <= low && d.One.SaturatesLux >= high) {
			t.Errorf("%s: %g ohm reads %g to %g, wanted %g to %g", site.name, d.One.Ohms, d.One.DarkLux, d.One.SaturatesLux, low, high)
		}
	}
}

// Every contact above the horizon has its line of light.
func TestEveryStage(t *testing.T) {
	text, _ := answerOf(t)
	_, table, _ := strings.Cut(text, "Light on a level sensor")
	table, _, _ = strings.Cut(table, "The sensor must serve")
	for _, name := range []string{"first contact", "second contact", "maximum", "third contact", "fourth contact"} {
		if !strings.Contains(table, name) {
			t.Errorf("no light at %s", name)
		}
	}
	set, _ := answerOf(t, "-site", "40.8,14.2", "-date", "2026-08-12")
	_, table, _ = strings.Cut(set, "Light on a level sensor")
	if table, _, _ := strings.Cut(table, "The sensor must serve"); !strings.Contains(table, "deepest seen") || strings.Contains(table, "fourth") {
		t.Errorf("light below the horizon, or none at the deepest:\n%s", table)
	}
}

// Known ways: a degree of the equator is 111.2 km on the sphere of 6371 km, a quarter of the
// Earth's girth leads to the pole.
func TestTowards(t *testing.T) {
	for _, tt := range []struct {
		a, b          sun.Site
		km, direction float64
		wind          string
	}{
		{sun.Site{}, sun.Site{Lon: 1}, 111.19, 90, "east"},
		{sun.Site{Lon: 179.5}, sun.Site{Lon: -179.5}, 111.19, 90, "east"},
		{sun.Site{Lat: 10}, sun.Site{Lat: 9}, 111.19, 180, "south"},
		{sun.Site{Lon: 30}, sun.Site{Lat: 90}, 10007.5, 0, "north"},
		{sun.Site{Lat: 1}, sun.Site{Lon: -1}, 157.24, 225, "south-west"},
	} {
		km, direction := towards(tt.a, tt.b)
		if !(math.Abs(km-tt.km) < 0.1 && math.Abs(direction-tt.direction) < 0.1) || wind(direction) != tt.wind {
			t.Errorf("%v to %v: %.2f km, %.2f, %s", tt.a, tt.b, km, direction, wind(direction))
		}
	}
}

// The nearest view sees something, and a ring of places twenty kilometres nearer sees
// nothing: outside of the penumbra, and where the Sun is down.
func TestNearestView(t *testing.T) {
	for _, tt := range []struct {
		day      string
		lat, lon float64
	}{{"2027-08-02", -70, 100}, {"2027-08-02", 0, -60}, {"2026-08-12", -33.9, 18.4}, {"2026-08-12", 35, 140}, {"2028-07-22", 80, 20}} {
		p := planned(t, tt.day, tt.lat, tt.lon, cli.Real)
		require.NoError(t, p.look(t.Context()))
		view := p.near.view
		require.NotNil(t, view)
		if circumstancesAt(t, p, view.Lat, view.Lon).Seen == eclipse.None {
			t.Errorf("%+v: %v sees nothing", tt, *view)
		}
		km, _ := towards(p.site, *view)
		for direction := 0.0; direction < 360; direction++ {
			at := walk(p.site, km-20, direction)
			if c := circumstancesAt(t, p, at.Lat, at.Lon); c.Seen != eclipse.None {
				t.Errorf("%+v: %v, at %.0f km, sees %.4f; %v was called the nearest, at %.0f km", tt, at, km-20, c.SeenObscuration, *view, km)
				break
			}
		}
	}
}

// walk is the place so many km from another (J. Meeus, as of towards, turned round).
func walk(from sun.Site, km, direction float64) sun.Site {
	const deg = math.Pi / 180
	sinφ, cosφ := math.Sincos(from.Lat * deg)
	sinD, cosD := math.Sincos(km / 6371)
	sinθ, cosθ := math.Sincos(direction * deg)
	sinLat := sinφ*cosD + cosφ*sinD*cosθ
	lon := from.Lon + math.Atan2(sinθ*sinD*cosφ, cosD-sinφ*sinLat)/deg
	return sun.Site{Lat: math.Asin(sinLat) / deg, Lon: math.Remainder(lon, 360)}
}

// Without a date the next eclipses are listed, from the clock's instant on, whatever day is
// planned: for Spain those of 2026 to 2028 are well known, for Chile the ring of February
// 2027. With a date none are.
func TestNext(t *testing.T) {
	for _, tt := range []struct{ now, site, date, seen string }{
		{"2026-08-01T00:00:00Z", "36,-5.6", "2026-08-12", "partial"},
		{"2026-09-01T00:00:00Z", "36,-5.6", "2027-02-06", "partial"}, // a fiftieth, at sunset
		{"2027-03-01T00:00:00Z", "36,-5.6", "2027-08-02", "total"},
		{"2027-08-02T08:40:00Z", "36,-5.6", "2027-08-02", "total"}, // within the hour
		{"2027-08-02T08:50:00Z", "36,-5.6", "2028-01-26", "annular"},
		{"2027-01-01T00:00:00Z", "-33.4,-70.7", "2027-02-06", "partial"},
	} {
		_, j := answerAt(t, tt.now, "-json", "-site", tt.site)
		next := j["next"].([]any)
		require.Len(t, next, following)
		if first := next[0].(map[string]any); first["date"] != tt.date || first["seen"] != tt.seen {
			t.Errorf("%s at %s: next is %v, want %s, %s", tt.now, tt.site, first, tt.date, tt.seen)
		}
		before := ""
		for _, n := range next {
			date := n.(map[string]any)["date"].(string)
			if date <= before {
				t.Errorf("%s after %s", date, before)
			}
			before = date
		}
	}
	if _, j := answerOf(t, "-json", "-date", "2027-08-02"); len(j["next"].([]any)) != 0 {
		t.Error("a date was given, and the next eclipses are listed")
	}
}

func TestFlagsThatCannotBe(t *testing.T) {
	for _, args := range [][]string{{"-zone", "Nowhere"}, {"-current", "-1"}, {"-current", "NaN"}, {"-battery", "0"}, {"-celsius", "200"}, {"-firmware"}} {
		err := run(t.Context(), &bytes.Buffer{}, args)
		if cli.Status(err) != 2 || !strings.Contains(err.Error(), args[0]) {
			t.Errorf("%q: %v", args, err)
		}
	}
}
