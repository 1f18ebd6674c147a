package ephemeris

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// BenchmarkReduce makes elements of one eclipse after another from tables.
func BenchmarkReduce(b *testing.B) {
	all := passages(b)
	tables := make([]*Table, len(all))
	for i, p := range all {
		tables[i] = p.table(b)
	}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		_, err := Reduce(tables[i], all[i].t0, Options{})
		require.NoError(b, err)
		i = (i + 1) % len(all)
	}
}

// BenchmarkFind looks for the eclipse nearest to a day with the formulae of
// LowPrecision.
func BenchmarkFind(b *testing.B) {
	all := passages(b)
	i := 0
	for b.Loop() {
		_, err := Find(LowPrecision{}, all[i].t0+86400, Options{})
		require.NoError(b, err)
		i = (i + 1) % len(all)
	}
}
