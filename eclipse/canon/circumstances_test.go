package canon

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
	"example.org/noonfall/testdata/references"
)

// Tables of local circumstances, and what is asked of the catalogue's elements
// with the table's own Delta T and lunar radii. The tables rest on other
// ephemerides (80 m is 0.1 s), their sites are rounded to a minute of arc or
// less, their sidereal time may be mean (0.004 degrees is 0.3 s) and their
// figures are rounded to 0.1 s; the tolerances are what was measured, rounded
// up.
var tables = []struct {
	source string
	rows   int
	k1, k2 float64
	// deltaT of a table that does not print it, s: the bulletin's, as
	// eclipse/tables_test.go uses it
	deltaT  float64
	contact float64 // seconds
	maximum float64 // seconds, of the instant nearest to the axis
}{
	{source: "NASA_RP1398_T21", rows: 13, k1: 0.2725076, k2: 0.2722810, contact: 0.25, maximum: 0.2},
	{source: "USNO_AA_API", rows: 14, k1: 0.272399, k2: 0.272399, contact: 0.35, maximum: 1.2},
	{source: "NASA_RP1369_T11a", rows: 25, k1: 0.2725076, k2: 0.2722810, deltaT: 62.4, maximum: 0.3},
}

func TestPublishedLocalCircumstances(t *testing.T) {
	lines := references.Table(t, "local_circumstances.csv")
	for _, table := range tables {
		t.Run(table.source, func(t *testing.T) {
			var rows, contacts int
			var worst, worstMaximum float64
			for _, l := range lines {
				if l["source"] != table.source {
					continue
				}
				rows++
				deltaT := table.deltaT
				if deltaT == 0 { // not set in the row above: the table prints it
					deltaT = l.Number(t, "delta_t_s")
				}
				e := on(t, l, "eclipse").WithRadii(table.k1, table.k2)
				o, err := eclipse.NewObserver(e, site(t, l), eclipse.Options{
					Scale: timescale.FixedDeltaT(deltaT), Horizon: eclipse.RefractedCentre,
				})
				require.NoError(t, err)
				c := o.Circumstances()
				for _, k := range []struct {
					column  string
					contact eclipse.Contact
				}{{"c1_ut", c.C1}, {"c2_ut", c.C2}, {"c3_ut", c.C3}, {"c4_ut", c.C4}} {
					if l[k.column] == "" {
						continue
					}
					contacts++
					δ := late(t, l, k.column, k.contact)
					worst = math.Max(worst, math.Abs(δ))
					if !(math.Abs(δ) <= table.contact) {
						t.Errorf("%s: %s off by %.2f s, want at most %g", l["place"], k.column, δ, table.contact)
					}
				}
				if l["max_ut"] != "" && l["max_flag"] == "" {
					δ := late(t, l, "max_ut", o.Instant(o.LeastAxisDistance()))
					worstMaximum = math.Max(worstMaximum, math.Abs(δ))
					if !(math.Abs(δ) <= table.maximum) {
						t.Errorf("%s: maximum off by %.2f s, want at most %g", l["place"], δ, table.maximum)
					}
				}
				kind(t, l, c)
			}
			t.Logf("%d rows, %d contacts: worst %.2f s, maximum %.2f s", rows, contacts, worst, worstMaximum)
			if rows != table.rows {
				t.Errorf("%d rows, want %d", rows, table.rows)
			}
		})
	}
	n := 0
	for _, table := range tables {
		n += table.rows
	}
	if len(lines) != n {
		t.Errorf("%d published rows, compared %d", len(lines), n)
	}
}

func site(t testing.TB, l references.Row) sun.Site {
	return sun.Site{Lat: l.Number(t, "lat_deg"), Lon: l.Number(t, "lon_deg_east"), Height: l.Number(t, "elev_m")}
}

// late returns by how many seconds a contact follows the published UT, which
// carries a time of day only.
func late(t testing.TB, l references.Row, column string, c eclipse.Contact) float64 {
	if !c.Exists {
		t.Errorf("%s: %s does not take place, published %s", l["place"], column, l[column])
		return math.NaN()
	}
	return after(t, c.UT, time.TimeOnly, l[column])
}

// after returns by how many seconds an instant follows the nearest day's
// reading of a clock.
func after(t testing.TB, at time.Time, layout, reading string) float64 {
	clock, err := time.Parse(layout, reading)
	require.NoError(t, err)
	day := clock.Truncate(24 * time.Hour)
	return math.Remainder((at.Sub(at.Truncate(24*time.Hour)) - clock.Sub(day)).Seconds(), 86400)
}

// kind compares what is seen, and how deep it is, with the published line.
func kind(t *testing.T, l references.Row, c eclipse.Circumstances) {
	if l["kind"] == "P_rise" {
		// to the minute, and the magnitude then: 0.012 is what half a minute
		// does to it (eclipse/tables_test.go)
		δ := after(t, c.Rise.UT, "15:04", l["sunrise_ut"])
		dip := 1.76 * math.Sqrt(l.Number(t, "elev_m")) / 13.5 * 60 // s: from a height one sees over the sea's edge
		if !c.Rise.Exists || !(math.Abs(δ-dip/2) <= 60+dip/2) {
			t.Errorf("%s: sunrise %v, published %s", l["place"], c.Rise.UT, l["sunrise_ut"])
		}
		if !(math.Abs(c.SeenMagnitude-l.Number(t, "magnitude")) <= 0.012+0.017*dip/60) {
			t.Errorf("%s: magnitude at sunrise %.4f, published %s", l["place"], c.SeenMagnitude, l["magnitude"])
		}
		return
	}
	want := map[string]eclipse.Kind{"P": eclipse.Partial, "A": eclipse.Annular, "T": eclipse.Total}[l["kind"]]
	if c.Geometry != want {
		t.Errorf("%s: %v, published %s", l["place"], c.Geometry, l["kind"])
	}
	// inside the path the service prints (L1 - m)/(L1 + L2), and where the Sun
	// is down at maximum the value at the horizon
	if l["magnitude"] != "" && c.Geometry == eclipse.Partial && c.Max.Above {
		if want := l.Number(t, "magnitude"); !(math.Abs(c.Magnitude-want) <= 0.002) {
			t.Errorf("%s: magnitude %.4f, published %.3f", l["place"], c.Magnitude, want)
		}
	}
	if l["central_duration_s"] != "" && strings.Contains("AT", l["kind"]) {
		if want := l.Number(t, "central_duration_s"); !(math.Abs(c.Duration-want) <= 0.5) {
			t.Errorf("%s: duration %.2f s, published %.1f", l["place"], c.Duration, want)
		}
	}
}
