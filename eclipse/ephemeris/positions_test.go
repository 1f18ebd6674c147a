package ephemeris

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun/timescale"
	"example.org/noonfall/testdata/references"
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
	var all []passage
	for i, r := range references.File(t, "../canon/internal/gencanon/testdata/positions.csv.gz") {
		if i%17 == 0 {
			t0 := timescale.TT(math.Round(float64(timescale.FromJulianDate(r.Number(t, "t0_jd0_tt"), r.Number(t, "t0_frac_day")))))
			all = append(all, passage{date: r["eclipse"], t0: t0})
		}
		p := &all[len(all)-1]
		require.Equal(t, p.date, r["eclipse"])
		p.rows = append(p.rows, Sky{
			Sun:      Place{r.Number(t, "sun_ra_deg"), r.Number(t, "sun_dec_deg"), r.Number(t, "sun_dist_km")},
			Moon:     Place{r.Number(t, "moon_ra_deg"), r.Number(t, "moon_dec_deg"), r.Number(t, "moon_dist_km")},
			Sidereal: r.Number(t, "gast_ut1eqtt_deg"),
		})
	}
	require.Len(t, all, 452)
	return all
}
