package ephemeris

import (
	"compress/gzip"
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun/timescale"
)

// A passage is the published positions around one eclipse: 17 rows, every half
// hour from 4 h before t0.
type passage struct {
	date string
	t0   timescale.TT
	rows []Sky
}

func (p passage) table(t testing.TB) *Table {
	table, err := NewTable(Origin{Name: "JPL DE431"}, p.t0-4*3600, 1800, p.rows)
	require.NoError(t, err)
	return table
}

// passages reads the positions from which the catalogue is made: JPL DE431 by
// the IAU's standard routines, see the README beside the file.
func passages(t testing.TB) []passage {
	f, err := os.Open("../canon/internal/gencanon/testdata/positions.csv.gz")
	require.NoError(t, err)
	defer f.Close()
	z, err := gzip.NewReader(f)
	require.NoError(t, err)
	records, err := csv.NewReader(z).ReadAll()
	require.NoError(t, err)
	var all []passage
	for i, r := range records[1:] {
		v := make([]float64, len(r))
		for j := 1; j < len(r); j++ {
			v[j], err = strconv.ParseFloat(r[j], 64)
			require.NoError(t, err)
		}
		if i%17 == 0 {
			t0 := timescale.TT(math.Round(float64(timescale.FromJulianDate(v[1], v[2]))))
			all = append(all, passage{date: r[0], t0: t0})
		}
		p := &all[len(all)-1]
		require.Equal(t, p.date, r[0])
		p.rows = append(p.rows, Sky{Sun: Place{v[6], v[7], v[8]}, Moon: Place{v[9], v[10], v[11]}, Sidereal: v[12]})
	}
	require.Len(t, all, 452)
	return all
}
