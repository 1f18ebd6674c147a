package limb

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

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
