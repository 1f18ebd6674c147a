package limb

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// A check that a wrong limb passes is none. Mirrored, upside down, without the axis'
// position angle, with the libration's sign turned, and without mountains: each must
// miss something, and all but the last miss the limits or the contacts of 2001, since
// durations alone do not see where a limb belongs.
func TestWrongLimbsAreSeen(t *testing.T) {
	if testing.Short() {
		t.Skip("five wrong maps against all published contacts: the right one is tried by the test of those")
	}
	g, err := load()
	require.NoError(t, err)
	all := lines(t)
	moved := func(from func(lon, lat, point int, axis float64) (int, int, int)) func(float64) *grid {
		return func(axis float64) *grid {
			wrong := *g
			wrong.heights = make([]byte, len(g.heights))
			for i := range g.Lon.Count {
				for j := range g.Lat.Count {
					for k := range points {
						fi, fj, fk := from(i, j, k, axis)
						wrong.heights[(i*g.Lat.Count+j)*points+k] = g.heights[(fi*g.Lat.Count+fj)*points+(fk+points)%points]
					}
				}
			}
			return &wrong
		}
	}
	for name, limb := range map[string]func(float64) *grid{
		"mirrored":    moved(func(i, j, k int, _ float64) (int, int, int) { return i, j, points - k }),
		"upside down": moved(func(i, j, k int, _ float64) (int, int, int) { return i, j, k + points/2 }),
		"without axis": moved(func(i, j, k int, axis float64) (int, int, int) {
			return i, j, k + int(math.Round(axis/step))
		}),
		"libration turned": moved(func(i, j, k int, _ float64) (int, int, int) {
			return g.Lon.Count - 1 - i, g.Lat.Count - 1 - j, k
		}),
		"round": func(float64) *grid { return roundGrid(t, earthRadius*0.2722810) },
	} {
		a := agree(t, all, limb)
		f := a.faults()
		if f == nil {
			t.Errorf("a limb %s is not seen: %+v", name, a)
		}
		t.Logf("%s: misses %q; joint %.2f arcsec, 2001 %.1f s %.1f s", name, f, a.joint, a.second, a.third)
	}
}
