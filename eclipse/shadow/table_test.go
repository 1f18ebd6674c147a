package shadow

import (
	"encoding/csv"
	"fmt"
	"os"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun/timescale"
)

// row is a line of a published table by column name.
type row map[string]string

func table(t testing.TB, name string) []row {
	t.Helper()
	f, err := os.Open("../../testdata/references/" + name)
	require.NoError(t, err)
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	var out []row
	for _, r := range all[1:] {
		m := row{}
		for i, h := range all[0] {
			m[h] = r[i]
		}
		out = append(out, m)
	}
	require.NotEmpty(t, out)
	return out
}

func (r row) number(t testing.TB, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(r[column], 64)
	require.NoError(t, err, "column %s", column)
	return v
}

// elements reads one row of elements.csv: degree 3 in x, y, d, l1, l2, mu and
// constant tan f.
func (r row) elements(t testing.TB) *eclipse.Elements {
	t.Helper()
	poly := func(name string) eclipse.Poly {
		var p eclipse.Poly
		for i := range 4 {
			v := 0.0
			if s := r[fmt.Sprint(name, i)]; s != "" {
				v = r.number(t, fmt.Sprint(name, i))
			}
			p = append(p, v)
		}
		return p
	}
	day, err := time.Parse(time.DateOnly, r["t0_date"])
	require.NoError(t, err)
	hours := r.number(t, "t0_tdt_h")
	j2000 := time.Date(2000, 1, 1, 12, 0, 0, 0, time.UTC)
	e := &eclipse.Elements{
		Date: r["date"], T0: timescale.TT(day.Sub(j2000).Seconds() + hours*3600), Span: 4,
		X: poly("x"), Y: poly("y"), D: poly("d"), Mu: poly("mu"), L1: poly("l1"), L2: poly("l2"),
		TanF1: eclipse.Poly{r.number(t, "tan_f1")}, TanF2: eclipse.Poly{r.number(t, "tan_f2")},
		K1: r.number(t, "k1"), K2: r.number(t, "k2"), DeltaT: r.number(t, "delta_t_s"), Source: r["version"],
	}
	require.NoError(t, e.Validate())
	return e
}

func published(t testing.TB, version, date string) *eclipse.Elements {
	t.Helper()
	for _, r := range table(t, "elements.csv") {
		if r["version"] == version && r["date"] == date {
			return r.elements(t)
		}
	}
	t.Fatalf("no elements %s of %s", version, date)
	return nil
}

func cast(t testing.TB, e *eclipse.Elements, deltaT float64) *Shadow {
	t.Helper()
	s, err := New(e, eclipse.Options{Scale: timescale.FixedDeltaT(deltaT)})
	require.NoError(t, err)
	return s
}
