package fit

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/limb"
	"example.org/noonfall/sun"
)

// Near the limits the real edge and the smooth Moon disagree about what the site gets.
// The residual light is asked for wherever it outshines the Sun, and the window is laid
// closely around the contacts that the light has, or around maximum.
func TestLightNearTheLimits(t *testing.T) {
	for name, tt := range map[string]struct {
		day          time.Time
		site         sun.Site
		smooth, real eclipse.Kind
		dark, close  bool // with the real edge
	}{
		"both total":         {time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 36, Lon: -5.6}, eclipse.Total, eclipse.Total, true, true},
		"only the real edge": {time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 36.77, Lon: -5.6}, eclipse.Partial, eclipse.Total, true, true},
		"only the smooth":    {time.Date(2017, 8, 21, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 37.5809, Lon: -180}, eclipse.Total, eclipse.Partial, true, true},
		"beside maximum":     {time.Date(2100, 9, 4, 0, 0, 0, 0, time.UTC), sun.Site{Lat: -21.0988, Lon: 47.674}, eclipse.Partial, eclipse.Total, true, true},
		"a ring":             {time.Date(2028, 1, 26, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 37.5, Lon: -5.6}, eclipse.Annular, eclipse.Annular, false, true},
		"a broken ring":      {time.Date(2028, 1, 26, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 35.735, Lon: -5.6}, eclipse.Annular, eclipse.Partial, false, false},
		"partial":            {time.Date(2026, 8, 12, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 51.5}, eclipse.Partial, eclipse.Partial, false, false},
	} {
		c, l := realLight(t, tt.day, tt.site)
		if got, want := c.Contacts().LimbKind, tt.real; got != want || c.Circumstances().Geometry != tt.smooth {
			t.Errorf("%s: %v with the real edge, %v with the smooth: the site is no witness", name, got, c.Circumstances().Geometry)
		}
		if !(l.limbU > 0 && l.limbU <= LimbU) {
			t.Errorf("%s: the real edge leaves %g s open, the smooth one %g", name, l.limbU, LimbU)
		}
		if l.dark != tt.dark || (l.c2 <= l.c3) != tt.close {
			t.Errorf("%s: dark %t, contacts %g and %g s, light of %g at maximum", name, l.dark, l.c2, l.c3, l.flux(0))
		}
	}
}

func observerOn(t testing.TB, day time.Time, site sun.Site) *eclipse.Observer {
	t.Helper()
	all, err := canon.Load()
	require.NoError(t, err)
	e, err := all.On(day)
	require.NoError(t, err)
	o, err := eclipse.NewObserver(e, site, eclipse.Options{})
	require.NoError(t, err)
	return o
}

// realLight is that with the Moon's real edge.
func realLight(t testing.TB, day time.Time, site sun.Site) (*limb.Curve, *light) {
	t.Helper()
	m, err := limb.NewMoon(observerOn(t, day, site), limb.Options{})
	require.NoError(t, err)
	c, err := limb.NewCurve(m, eclipse.CurveOptions{})
	require.NoError(t, err)
	l, err := newLight(c)
	require.NoError(t, err)
	return c, l
}

// smoothLight is that with a smooth one.
func smoothLight(t testing.TB, day time.Time, site sun.Site) (*eclipse.Observer, *eclipse.Curve, *light) {
	t.Helper()
	o := observerOn(t, day, site)
	c, err := eclipse.NewCurve(o, eclipse.CurveOptions{})
	require.NoError(t, err)
	l, err := newLight(c)
	require.NoError(t, err)
	return o, c, l
}
