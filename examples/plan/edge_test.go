package main

import (
	"bytes"
	"context"
	"math"
	"strings"
	"testing"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/examples/internal/golden"
	"example.org/noonfall/sun"
	"github.com/stretchr/testify/require"
)

func planned(t *testing.T, day string, lat, lon float64, l cli.Limb) *plan {
	t.Helper()
	date, err := time.Parse(time.DateOnly, day)
	require.NoError(t, err)
	p, err := ask(&cli.Common{Site: sun.Site{Lat: lat, Lon: lon, Height: 10}, Date: date, Limb: l})
	require.NoError(t, err)
	return p
}

// By the Sun's and the Moon's places alone, without what solves the contacts: at second
// and third contact the Sun's edge touches the limb at the place named, and elsewhere
// stands below it in a total eclipse and above it in an annular one. The elements' Sun
// and the limb's have the same radius; 0.02 arcsec is what the Moon's turning between
// contact and profile leaves, and the plane of the one against the sphere of the other.
func TestSunTouchesTheEdge(t *testing.T) {
	const near = 0.02
	for _, tt := range []struct {
		day      string
		lat, lon float64
		kind     eclipse.Kind
	}{
		{"2027-08-02", 36.0, -5.6, eclipse.Total},
		{"2027-08-02", 25.5, 33.0, eclipse.Total},
		{"2028-01-26", 37.5, -5.6, eclipse.Annular},
		{"2026-08-12", 43.36, -8.41, eclipse.Total},
	} {
		p := planned(t, tt.day, tt.lat, tt.lon, cli.Real)
		e := &p.edge
		if e.LimbKind != tt.kind {
			t.Errorf("%s: %v, want %v", tt.day, e.LimbKind, tt.kind)
			continue
		}
		for i, c := range e.ends() {
			profile, sun := e.moon.Profile(c.TT), p.sunEdge(c.Contact)
			above := func(angle float64) float64 {
				d := sun(angle) - (profile.Base+profile.Height(angle))*profile.Arcsec
				if tt.kind == eclipse.Total {
					return -d // of the limb over the Sun
				}
				return d
			}
			place := onSky(profile, c)
			if d := above(place); !(math.Abs(d) <= near) {
				t.Errorf("%s contact %d: %.3f arcsec between Sun and limb where they touch, at %.1f", tt.day, i+2, d, place)
			}
			for angle := 0.0; angle < 360; angle += 0.2 {
				if d := above(angle + profile.Axis); !(d >= -near) {
					t.Errorf("%s contact %d: Sun and limb cross by %.3f arcsec at %.1f", tt.day, i+2, d, angle+profile.Axis)
					break
				}
			}
		}
	}
}

// The advice goes by the edge asked for, the answer for programs has both.
func TestLimb(t *testing.T) {
	_, real := answerOf(t, "-json")
	_, mean := answerOf(t, "-json", "-limb", "mean")
	for i, m := range mean["contacts"].([]any) {
		if !golden.Same(m, real["contacts"].([]any)[i], 1e-5) {
			t.Errorf("contact %d depends on -limb", i)
		}
	}
	for name, a := range map[string]map[string]any{"real": real, "mean": mean} {
		l := a["limb"].(map[string]any)
		if l["used"] != name || l["kind"] != "total" || l["seen"] != "total" {
			t.Errorf("-limb %s: used %v, kind %v, seen %v", name, l["used"], l["kind"], l["seen"])
		}
		c2, c3 := instantOf(t, l["c2"], "utc"), instantOf(t, l["c3"], "utc")
		if d := c3.Sub(c2).Seconds() - l["duration_s"].(float64); !(math.Abs(d) <= 0.0011) { // instants are in milliseconds
			t.Errorf("-limb %s: C3-C2 and duration differ by %g s", name, d)
		}
	}
	// The doc comment of package limb has contacts moved by 2.2 s (rms).
	smooth, limb := mean["central_duration_s"].(float64), mean["limb"].(map[string]any)["duration_s"].(float64)
	if d := math.Abs(smooth - limb); !(d > 0.05 && d < 7) {
		t.Errorf("smooth %.2f s, real %.2f s: they differ by %g s", smooth, limb, d)
	}
	for flag, want := range map[string]string{"real": minutes(limb), "mean": minutes(smooth)} {
		text, _ := answerOf(t, "-limb", flag)
		if !strings.Contains(text, "total here for "+want+".") || !strings.Contains(text, minutes(limb)) || !strings.Contains(text, minutes(smooth)) {
			t.Errorf("-limb %s: want the sentence with %s, and both in the table:\n%s", flag, want, text)
		}
	}
	if golden.Same(real["light"], mean["light"], 1e-5) {
		t.Error("the light does not depend on -limb")
	}
}

func instantOf(t *testing.T, object any, key string) time.Time {
	t.Helper()
	at, err := time.Parse(time.RFC3339, object.(map[string]any)[key].(string))
	require.NoError(t, err)
	return at
}

// Near the limits the two Moons disagree about what happens at all.
func TestAtTheLimits(t *testing.T) {
	for _, tt := range []struct {
		name, site, date string
		kind, geometry   string
		says, never      []string
	}{
		{"real only", "36.77,-5.6,10", "2027-08-02", "total", "partial",
			[]string{"total here for", "if at all", "may as well not happen", "leaves nothing"}, []string{"at no time is it safe"}},
		{"smooth only, annular", "35.735,-5.6,10", "2028-01-26", "partial", "annular",
			[]string{"partial here: at no time is it safe", "makes the eclipse annular for", "mountains break the ring"}, []string{"\"Give or take\"", "second contact "}},
		{"annular", "37.5,-5.6,10", "2028-01-26", "annular", "annular",
			[]string{"the ring included", "the last mountain", "longer"}, []string{"if at all", "last valley"}},
		{"smooth only, total", "37.5809,-180,0", "2017-08-21", "partial", "total",
			[]string{"partial here: at no time is it safe", "makes the eclipse total for", "valleys let sunlight through"}, []string{"\"Give or take\"", "second contact "}},
		{"two pieces", "44.2575,-138,0", "2017-08-21", "total", "total",
			[]string{"in 2 pieces, if at all", "between which valleys open again: from"}, []string{"at no time is it safe"}},
		{"neither", "51.5,-0.1", "2027-08-02", "partial", "partial", []string{"partial here"}, []string{"smooth Moon", "\"Give or take\"", "second contact "}},
	} {
		args := []string{"-site", tt.site, "-date", tt.date}
		_, j := answerOf(t, append(args, "-json")...)
		if l := j["limb"].(map[string]any); l["kind"] != tt.kind || j["geometry"] != tt.geometry || (l["c2"] == nil) != (tt.kind == "partial") {
			t.Errorf("%s: limb %v, geometry %v", tt.name, l, j["geometry"])
		}
		for _, c := range j["contacts"].([]any) {
			c := c.(map[string]any)
			if (c["utc_limb"] == nil) != (c["u_limb_s"] == nil) {
				t.Errorf("%s: %v has one of instant and uncertainty", tt.name, c["name"])
			}
		}
		text, _ := answerOf(t, args...)
		flat := strings.Join(strings.Fields(text), " ")
		for _, w := range tt.says {
			if !strings.Contains(flat, w) {
				t.Errorf("%s: lacks %q:\n%s", tt.name, w, text)
			}
		}
		for _, w := range tt.never {
			if strings.Contains(flat, w) {
				t.Errorf("%s: has %q:\n%s", tt.name, w, text)
			}
		}
	}
}

// In a hybrid eclipse the two Moons may make different things of it, whose durations
// are not subtracted. No such site is known: the answer of another is altered.
func TestTwoKinds(t *testing.T) {
	p := planned(t, "2027-08-02", 36, -5.6, cli.Real)
	p.local.Geometry = eclipse.Annular
	var b bytes.Buffer
	p.edgeTable(&b)
	for line := range strings.Lines(b.String()) {
		if f := strings.Fields(line); strings.Contains(line, "total for") && (!strings.Contains(line, "annular 4 min 39.8 s") || f[len(f)-1] != "-") {
			t.Errorf("%q, want the other kind by its name, and no difference", line)
		}
	}
	if !strings.Contains(b.String(), "total for") {
		t.Errorf("no duration:\n%s", b.String())
	}
}

// Whichever edge it goes by, no time is a signal.
func TestCautions(t *testing.T) {
	for _, l := range []string{"mean", "real"} {
		text, _ := answerOf(t, "-limb", l)
		for _, w := range []string{"ISO 12312-2", "no signal to take a filter off or to put it back, not even"} {
			if !strings.Contains(text, w) {
				t.Errorf("-limb %s lacks %q", l, w)
			}
		}
	}
}

func TestHelpNamesTheLimb(t *testing.T) {
	var b bytes.Buffer
	err := run(context.Background(), &b, []string{"-h"})
	if cli.Status(err) != 0 || !strings.Contains(b.String(), "mean|real") || !strings.Contains(b.String(), "(default real)") {
		t.Errorf("%v: %s", err, b.String())
	}
}
