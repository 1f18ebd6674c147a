package shadow

import (
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun/timescale"
	"example.org/noonfall/testdata/references"
)

// elements are those of a row of elements.csv.
func elements(t testing.TB, r references.Row) *eclipse.Elements {
	t.Helper()
	e := &eclipse.Elements{
		Date: r["date"], T0: timescale.TT(r.T0(t)), Span: 4,
		X: r.Poly(t, "x"), Y: r.Poly(t, "y"), D: r.Poly(t, "d"), Mu: r.Poly(t, "mu"), L1: r.Poly(t, "l1"), L2: r.Poly(t, "l2"),
		TanF1: eclipse.Poly{r.Number(t, "tan_f1")}, TanF2: eclipse.Poly{r.Number(t, "tan_f2")},
		K1: r.Number(t, "k1"), K2: r.Number(t, "k2"), DeltaT: r.Number(t, "delta_t_s"), Source: r["version"],
	}
	require.NoError(t, e.Validate())
	return e
}

func published(t testing.TB, version, date string) *eclipse.Elements {
	t.Helper()
	return elements(t, references.Elements(t, version, date))
}

func cast(t testing.TB, e *eclipse.Elements, deltaT float64) *Shadow {
	t.Helper()
	s, err := New(e, eclipse.Options{Scale: timescale.FixedDeltaT(deltaT)})
	require.NoError(t, err)
	return s
}
