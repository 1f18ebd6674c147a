package limb

import (
	"math"
	"testing"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
)

// barely are sites just inside the limit of an annular path, where beads would be twenty
// minutes long.
var barely = map[string]sun.Site{
	"1955-12-14": {Lat: 4.31, Lon: 76.86609},
	"2023-10-14": {Lat: 10.44623, Lon: -83.40915},
}

// Beads are what looking at instants finds: around the touching point the limb is broken
// up to the contact, and whole the other way before they begin; likewise after an end.
func TestBeadsAgainstMarchingInTime(t *testing.T) {
	for _, kind := range kinds {
		n := 0
		for _, o := range centrals(t, kind, 60) {
			m := moonOf(t, o)
			circ, c := o.Circumstances(), m.Contacts()
			if c.Count == 0 {
				continue
			}
			middle, half, _ := m.span(&circ)
			var p pane
			m.pane(m.follow(middle, half), &p)
			for _, k := range []struct {
				Contact
				outwards float64
			}{{c.LimbC2, -1}, {c.LimbC3, 1}} {
				if k.Beads < 0.1 {
					continue
				}
				const little = 0.01 // s
				for _, at := range []struct {
					off  float64 // s from the contact, outwards
					want bool
				}{{-little, false}, {little, true}, {k.Beads - little, true}, {k.Beads + little, false}} {
					x := (float64(k.TT-middle) + k.outwards*at.off) / half
					if math.Abs(x) >= 1 {
						continue
					}
					n++
					if got := broken(&p, x, int(math.Round(k.OnMoon/step))); got != at.want {
						t.Errorf("%s %+v: %.2f s outside a contact with %.2f s of beads the limb is broken: %t", o.Elements().Date, o.Site(), at.off, k.Beads, got)
					}
				}
			}
		}
		if n < 300 {
			t.Errorf("%v: only %d instants", kind, n)
		}
	}
}

// broken says whether some of the limb around a point stands before the Sun and some
// does not.
func broken(p *pane, x float64, point int) bool {
	before, beside := false, false
	for i := point - BeadArc*points/360; i <= point+BeadArc*points/360; i++ {
		k := (i + points) % points
		r := p.radius[k] + x*p.drift[k]
		d := math.Hypot(r*p.grid.sin[k]-p.x.at(x), r*p.grid.cos[k]-p.y.at(x)) - p.sun.at(x)
		before, beside = before || d < 0, beside || d >= 0
	}
	return before && beside
}

// Beside a limit the Sun's edge slides along the limb and beads last long; they are not
// told beyond what Contacts looks at, where roots are not sought.
func TestBeadsEndWhereNobodyLooks(t *testing.T) {
	for _, date := range []string{"1955-12-14", "2023-10-14"} {
		e := elements(t, date)
		o, err := eclipse.NewObserver(e, barely[date], eclipse.Options{})
		if err != nil {
			t.Fatal(err)
		}
		c, circ := moonOf(t, o).Contacts(), o.Circumstances()
		if c.Count == 0 {
			t.Errorf("%s: no ring any more", date)
			continue
		}
		for _, off := range []float64{float64(circ.Max.TT-c.LimbC2.TT) + c.LimbC2.Beads, float64(c.LimbC3.TT-circ.Max.TT) + c.LimbC3.Beads} {
			if !(off <= grazing+1e-6) {
				t.Errorf("%s: beads %.0f s from maximum", date, off)
			}
		}
		if !(math.Max(c.LimbC2.Beads, c.LimbC3.Beads) > 100) {
			t.Errorf("%s: beads of %.0f and %.0f s: the site is no witness", date, c.LimbC2.Beads, c.LimbC3.Beads)
		}
	}
}
