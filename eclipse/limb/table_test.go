package limb

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/sun"
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

// elements of the catalogue.
func elements(t testing.TB, date string) *eclipse.Elements {
	t.Helper()
	day, err := time.Parse(time.DateOnly, date)
	require.NoError(t, err)
	all, err := canon.Load()
	require.NoError(t, err)
	e, err := all.On(day)
	require.NoError(t, err)
	return e
}

func watch(t testing.TB, e *eclipse.Elements, s sun.Site, deltaT float64) *eclipse.Observer {
	t.Helper()
	o, err := eclipse.NewObserver(e, s, eclipse.Options{Scale: timescale.FixedDeltaT(deltaT)})
	require.NoError(t, err)
	return o
}

func moonOf(t testing.TB, o *eclipse.Observer) Moon {
	t.Helper()
	m, err := NewMoon(o, Options{})
	require.NoError(t, err)
	return m
}
