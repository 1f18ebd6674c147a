package eclipse

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
	"example.org/noonfall/testdata/references"
)

// elements are those of a row of elements.csv.
func elements(t testing.TB, r references.Row) *Elements {
	t.Helper()
	e := &Elements{
		Date: r["date"], T0: timescale.TT(r.T0(t)), Span: 4,
		X: r.Poly(t, "x"), Y: r.Poly(t, "y"), D: r.Poly(t, "d"), Mu: r.Poly(t, "mu"), L1: r.Poly(t, "l1"), L2: r.Poly(t, "l2"),
		TanF1: Poly{r.Number(t, "tan_f1")}, TanF2: Poly{r.Number(t, "tan_f2")},
		K1: r.Number(t, "k1"), K2: r.Number(t, "k2"), DeltaT: r.Number(t, "delta_t_s"), Source: r["version"],
	}
	require.NoError(t, e.Validate())
	return e
}

func published(t testing.TB, version, date string) *Elements {
	t.Helper()
	return elements(t, references.Elements(t, version, date))
}

func site(t testing.TB, r references.Row) sun.Site {
	t.Helper()
	return sun.Site{Lat: r.Number(t, "lat_deg"), Lon: r.Number(t, "lon_deg_east"), Height: r.Number(t, "elev_m")}
}

func watch(t testing.TB, e *Elements, s sun.Site, deltaT float64) *Observer {
	t.Helper()
	o, err := NewObserver(e, s, Options{Scale: timescale.FixedDeltaT(deltaT)})
	require.NoError(t, err)
	return o
}

// instant reads a UT clock reading of a day; the day may be the one before or
// after, whichever is nearer.
func instant(t testing.TB, day, clock string, near time.Time) time.Time {
	t.Helper()
	v, err := time.Parse("2006-01-02 15:04:05.999", day+" "+clock)
	require.NoError(t, err)
	for v.Sub(near) > 12*time.Hour {
		v = v.Add(-24 * time.Hour)
	}
	for near.Sub(v) > 12*time.Hour {
		v = v.Add(24 * time.Hour)
	}
	return v
}

// all are the elements of the canon's rows.
func all(t testing.TB) []*Elements {
	var out []*Elements
	for _, r := range references.Table(t, "elements.csv") {
		if r["version"] == "canon5m" {
			out = append(out, elements(t, r))
		}
	}
	require.Greater(t, len(out), 40)
	return out
}
