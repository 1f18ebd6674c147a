package rehearsal_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/rehearsal"
)

// years are the eclipses of the catalogue from one year to another, inclusive.
func years(t testing.TB, from, to string) []*eclipse.Elements {
	t.Helper()
	c, err := canon.Load()
	require.NoError(t, err)
	var out []*eclipse.Elements
	for e := range c.All() {
		if e.Date[:4] >= from && e.Date[:4] <= to {
			out = append(out, e)
		}
	}
	require.NotEmpty(t, out)
	return out
}

// BenchmarkMake makes logs of some five hours at one record a second, of every
// weather in turn.
func BenchmarkMake(b *testing.B) {
	eclipses := years(b, "2001", "2060")
	var plans []rehearsal.Plan
	for i := range 30 {
		p, err := rehearsal.Class{Weather: rehearsal.Weather(i % 6)}.Draw(eclipses, uint64(i))
		require.NoError(b, err)
		p.Cadence = 0
		plans = append(plans, p)
	}
	records := 0
	i := 0
	for b.Loop() {
		l, err := rehearsal.Make(context.Background(), plans[i%len(plans)])
		require.NoError(b, err)
		records += len(l.Samples)
		i++
	}
	b.ReportMetric(float64(records)/float64(b.N), "records/log")
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(records), "ns/record")
}

func BenchmarkDraw(b *testing.B) {
	eclipses := years(b, "2001", "2060")
	var seed uint64
	for b.Loop() {
		_, err := rehearsal.Class{Weather: rehearsal.Clear}.Draw(eclipses, seed)
		require.NoError(b, err)
		seed++
	}
}
