package shadow

import (
	"math"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
	"example.org/noonfall/testdata/references"
)

// every is the catalogue's shadows, made once for all tests.
func every(t testing.TB) []*Shadow {
	t.Helper()
	all, err := everyOnce()
	require.NoError(t, err)
	require.Len(t, all, 452)
	return all
}

var everyOnce = sync.OnceValues(func() (out []*Shadow, err error) {
	c, err := canon.Load()
	if err != nil {
		return nil, err
	}
	for e := range c.All() {
		s, err := New(e, eclipse.Options{})
		if err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, nil
})

// All eclipses of two centuries: what exists, in which order, and how often. The
// counts are those of F. Espenak & J. Meeus, Five Millennium Canon of Solar
// Eclipses (NASA/TP-2006-214141).
func TestGlobalOfTheCanon(t *testing.T) {
	counts := map[string]map[eclipse.Type]int{}
	for _, s := range every(t) {
		date, g := s.elements.Date, s.Global()
		century := "1901-2000"
		if date > "2001" {
			century = "2001-2100"
		}
		if counts[century] == nil {
			counts[century] = map[eclipse.Type]int{}
		}
		counts[century][g.Type]++
		path := g.Type != eclipse.TypePartial
		for _, c := range []struct {
			what      string
			got, want bool
		}{
			{"P1", g.P1.Exists, true},
			{"U1", g.U1.Exists, path},
			{"a central line", g.Line.Exists(), g.Central},
			{"a limit", g.North.Exists() || g.South.Exists(), path},
			{"U2", g.U2.Exists, g.North.Exists() && g.South.Exists()},
			{"P2", g.P2.Exists, g.PenumbraNorth.Exists() && g.PenumbraSouth.Exists()},
			{"a limit of the penumbra", g.PenumbraNorth.Exists() || g.PenumbraSouth.Exists(), true},
			{"a central axis", g.Central, path && g.First != eclipse.None},
			{"greatest duration", g.Greatest.Duration > 0, path},
		} {
			if c.got != c.want {
				t.Errorf("%s (%s): %s is %v, want %v", date, g.Form(), c.what, c.got, c.want)
			}
		}
		last := timescale.TT(math.Inf(-1))
		for _, e := range []Event{g.P1, g.U1, g.Line.Begin, g.U2, {Exists: true, TT: g.Greatest.TT}, g.U3, g.Line.End, g.U4, g.P4} {
			if e.Exists && !(e.TT > last) {
				t.Errorf("%s: contacts out of order: %+v", date, g)
			}
			if e.Exists {
				last = e.TT
			}
		}
	}
	for century, want := range map[string]map[eclipse.Type]int{
		"1901-2000": {eclipse.TypePartial: 78, eclipse.TypeAnnular: 73, eclipse.TypeTotal: 71, eclipse.TypeHybrid: 6},
		"2001-2100": {eclipse.TypePartial: 77, eclipse.TypeAnnular: 72, eclipse.TypeTotal: 68, eclipse.TypeHybrid: 7},
	} {
		for kind, n := range want {
			if got := counts[century][kind]; got != n {
				t.Errorf("%s: %d %v, want %d", century, got, kind, n)
			}
		}
	}
}

// Greatest eclipse against every published row: gamma, instant, place, the Sun's
// height, width and duration, each to its last digit or what the rows' own
// rounding allows.
func TestGreatestOfPublishedElements(t *testing.T) {
	for _, r := range references.Table(t, "elements.csv") {
		s := cast(t, elements(t, r), r.Number(t, "delta_t_s"))
		g := s.Global()
		at := r["version"] + " " + r["date"]
		if want := r.Number(t, "gamma"); !(math.Abs(g.Gamma-want) <= 1.1e-4) {
			t.Errorf("%s: gamma %.5f, want %.4f", at, g.Gamma, want)
		}
		if got, want := g.Greatest.UT.Format("15:04:05"), r["ge_ut"]; !near1s(got, want) {
			t.Errorf("%s: greatest at %s UT, want %s", at, got, want)
		}
		if r["ge_lat_deg"] == "" {
			continue
		}
		site := sun.Site{Lat: r.Number(t, "ge_lat_deg"), Lon: r.Number(t, "ge_lon_deg_east")}
		// Printed to 0.1 degrees. Where the axis misses the Earth the Canon has the
		// place on the line to the Earth's centre, up to 0.2 degrees from the nearest.
		tol := 9.0
		if !g.Central {
			tol = 25
		}
		if low := math.Sin(g.Greatest.Alt * deg); g.Central && low < 0.1 {
			tol = 1 / low
		}
		if km := distance(site, g.Greatest.Site); !(km <= tol) {
			t.Errorf("%s: greatest at %v, %.1f km from the printed place", at, g.Greatest.Site, km)
		}
		if want := r.Number(t, "ge_sun_alt_deg"); !(math.Abs(g.Greatest.Alt-want) <= 0.16) {
			t.Errorf("%s: altitude %.2f, want %.1f", at, g.Greatest.Alt, want)
		}
		if want := r.Number(t, "central_duration_s"); want > 0 && !(math.Abs(g.Greatest.Duration-want) <= 1.01) {
			t.Errorf("%s: duration %.2f s, want %.0f", at, g.Greatest.Duration, want)
		}
		if want := r.Number(t, "path_width_km"); want > 0 && !(math.Abs(g.Greatest.Width-want) <= 0.2+0.0067*want) { // see supplementWidth: twice the flattening
			t.Errorf("%s: width %.2f km, want %.1f", at, g.Greatest.Width, want)
		}
	}
}

func near1s(a, b string) bool {
	clock := func(s string) (n int) {
		for _, c := range strings.Split(strings.SplitN(s, ".", 2)[0], ":") {
			n = n*60 + int(c[0]-'0')*10 + int(c[1]-'0')
		}
		return n
	}
	d := clock(a) - clock(b)
	return d >= -1 && d <= 1
}

// The letters that the Canon adds to a type: n and s for a central eclipse without
// that limit, + and - for one whose axis misses the Earth, 2 and 3 for a hybrid
// that begins total or annular.
func TestForms(t *testing.T) {
	for _, tt := range []struct{ date, form string }{
		{"2003-05-31", "annular, no northern limit"},              // An
		{"2013-11-03", "hybrid, begins annular and ends total"},   // H3
		{"2014-04-29", "annular, not central, no southern limit"}, // A-
		{"2043-04-09", "total, not central, no northern limit"},   // T+
		{"2023-04-20", "hybrid, begins annular and ends annular"}, // H
		{"2027-08-02", "total"}, {"2025-03-29", "partial"},
	} {
		e := published(t, "canon5m", tt.date)
		g := cast(t, e, e.DeltaT).Global()
		if got := g.Form(); got != tt.form {
			t.Errorf("%s: %s, want %s (NASA/TP-2006-214141)", tt.date, got, tt.form)
		}
	}
}
