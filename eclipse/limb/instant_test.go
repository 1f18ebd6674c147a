package limb

import (
	"math"
	"testing"
)

// At a contact the limb of that very instant, looked up without a track, touches the
// Sun's edge at the point that is said to, and nowhere else stands across it, to five
// metres: between its nodes the grid has kinks that a straight drift runs over.
func TestLimbTouchesAtTheContact(t *testing.T) {
	for _, kind := range kinds {
		worst := 0.0
		for _, o := range centrals(t, kind, 60) {
			m := moonOf(t, o)
			c := m.Contacts()
			for _, p := range c.Phases[:c.Count] {
				for _, k := range []Contact{p.Begin, p.End} {
					s := m.scene(k.TT, newRotation(k.TT))
					var radii [points]float64
					m.grid.radii(s.Lon, s.Lat, &radii)
					least, at := math.Inf(1), 0
					for i, r := range radii {
						d := math.Hypot(r*m.grid.sin[i]-s.x, r*m.grid.cos[i]-s.y) - s.sun
						if kind != c.LimbKind {
							t.Fatalf("%s %+v: %v", o.Elements().Date, o.Site(), c.LimbKind)
						}
						if kind == kinds[1] {
							d = -d
						}
						if d < least {
							least, at = d, i
						}
					}
					worst = math.Max(worst, math.Abs(least))
					said := int(math.Round(k.OnMoon/step)) % points
					if there := math.Hypot(radii[said]*m.grid.sin[said]-s.x, radii[said]*m.grid.cos[said]-s.y) - s.sun; !(math.Abs(least) <= 0.005 && math.Abs(there) <= 0.005) {
						t.Errorf("%s %+v: the limb stands off by %.1f m, at the touching point by %.1f m (points %d, %d)", o.Elements().Date, o.Site(), 1000*least, 1000*there, at, said)
					}
				}
			}
		}
		t.Logf("%v: %.2f m at worst", kind, 1000*worst)
	}
}
