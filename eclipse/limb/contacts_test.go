package limb

import (
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/limb/internal/packed"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// A limb without mountains makes the contacts that package eclipse has for k2, at the
// same place of the Sun's edge.
func TestRoundLimbMakesSmoothContacts(t *testing.T) {
	worst := 0.0
	for _, kind := range kinds {
		for _, o := range centrals(t, kind, 60) {
			m := moonOf(t, o)
			m.grid = roundGrid(t, earthRadius*o.Elements().K2)
			want, got := o.Circumstances(), m.Contacts()
			if got.LimbKind != kind || got.Count != 1 {
				t.Errorf("%s %+v: %v, %d phases, want %v", o.Elements().Date, o.Site(), got.LimbKind, got.Count, kind)
				continue
			}
			for _, c := range []struct {
				limb   Contact
				smooth eclipse.Contact
			}{{got.LimbC2, want.C2}, {got.LimbC3, want.C3}} {
				off := math.Abs(float64(c.limb.TT - c.smooth.TT))
				worst = math.Max(worst, off)
				if !(off <= 0.003) { // the polygon's sides are 2 m inside the circle
					t.Errorf("%s %+v: contact %.3f s off", o.Elements().Date, o.Site(), off)
				}
				for _, p := range [][2]float64{{c.limb.P, c.smooth.P}, {c.limb.V, c.smooth.V}} {
					if d := math.Remainder(p[0]-p[1], 360); !(math.Abs(d) <= 0.3) {
						t.Errorf("%s %+v: angle %.2f°, want %.2f°", o.Elements().Date, o.Site(), p[0], p[1])
					}
				}
			}
		}
	}
	t.Logf("worst %.4f s", worst)
}

// The embedded grid against profiles that were marched over the map itself, between its
// nodes and unrounded: what grid, bytes and interpolation cost in seconds.
func TestContactsFromGridAgainstTheMap(t *testing.T) {
	file, err := os.ReadFile("testdata/marched.bin")
	require.NoError(t, err)
	h, heights, err := packed.Decode(file)
	require.NoError(t, err)
	marched := &grid{Header: h, heights: heights}
	for _, kind := range kinds {
		var squares, n, worst float64
		for _, o := range centrals(t, kind, 40) {
			m := moonOf(t, o)
			circ := o.Circumstances()
			middle, half, _ := m.span(&circ)
			var fromGrid, fromMap spells
			fromGrid.track, fromGrid.grid = m.follow(middle, half), m.grid
			fromMap.track, fromMap.grid = fromGrid.track, m.grid
			for i := range h.Lon.Count {
				for j := range h.Lat.Count {
					m.grid.radii(h.Lon.At(i), h.Lat.At(j), &fromGrid.radius)
					marched.radii(h.Lon.At(i), h.Lat.At(j), &fromMap.radius)
					a, okA := fromGrid.only(kind)
					b, okB := fromMap.only(kind)
					if !okA || !okB {
						continue
					}
					for _, d := range []float64{a.begin - b.begin, a.end - b.end} {
						d *= half
						squares, n, worst = squares+d*d, n+1, math.Max(worst, math.Abs(d))
					}
				}
			}
		}
		rms := math.Sqrt(squares / n)
		if !(n > 1000 && rms <= 0.1) {
			t.Errorf("%v: %.3f s rms over %g contacts, want 0.1", kind, rms, n)
		}
		t.Logf("%v: %.3f s rms, %.2f at worst, %g contacts", kind, rms, worst, n)
	}
}

// only finds the phase where there is one.
func (s *spells) only(kind eclipse.Kind) (spell, bool) {
	s.find()
	if kind == eclipse.Annular {
		ring, _, _ := s.ring()
		return ring, ring.begin < ring.end
	}
	d, n := s.darks()
	return spell{d[0].begin.at, d[0].end.at}, n == 1
}

// How wrong the smooth Moon is, which is why this package exists.
func TestWhatTheSmoothMoonMisses(t *testing.T) {
	for _, tt := range []struct {
		kind          eclipse.Kind
		least, most   float64 // s rms
		neverUnbroken float64 // greatest part of the sites
	}{
		{eclipse.Total, 1.8, 2.6, 0}, // a prototype over 829 sites: 2.2 s and 6.2 s
		{eclipse.Annular, 5.5, 7.0, 0.1},
	} {
		var squares, n, worst, none float64
		all := centrals(t, tt.kind, 400)
		for _, o := range all {
			circ, c := o.Circumstances(), moonOf(t, o).Contacts()
			if c.Count == 0 {
				none++
				continue
			}
			for _, d := range []float64{float64(c.LimbC2.TT - circ.C2.TT), float64(c.LimbC3.TT - circ.C3.TT)} {
				squares, n, worst = squares+d*d, n+1, math.Max(worst, math.Abs(d))
			}
		}
		rms := math.Sqrt(squares / n)
		if !(rms >= tt.least && rms <= tt.most && none <= tt.neverUnbroken*float64(len(all))) {
			t.Errorf("%v: %.2f s rms, %g of %d sites without an unbroken moment", tt.kind, rms, none, len(all))
		}
		t.Logf("%v: %.2f s rms, %.1f at worst, %g of %d sites without an unbroken moment", tt.kind, rms, worst, none, len(all))
	}
}

// A larger Sun shortens totality and lengthens a ring.
func TestSunRadius(t *testing.T) {
	for _, kind := range kinds {
		low, high := math.Inf(1), math.Inf(-1)
		for _, o := range centrals(t, kind, 60) {
			m := moonOf(t, o)
			larger, err := NewMoon(o, Options{SunRadius: DefaultSunRadius + 0.3})
			require.NoError(t, err)
			a, b := m.Contacts(), larger.Contacts()
			if a.Count != 1 || b.Count != 1 || a.LimbDuration < 60 {
				continue // near a limit it may do anything
			}
			d := (a.LimbDuration - b.LimbDuration) / 2
			if kind == eclipse.Annular {
				d = -d
			}
			low, high = math.Min(low, d), math.Max(high, d)
		}
		if !(low >= 0.45 && high <= 2) { // 0.3 arcsec over 0.6 to 0.2 arcsec a second
			t.Errorf("%v: 0.3 arcsec move a contact by %.2f to %.2f s", kind, low, high)
		}
		t.Logf("%v: 0.3 arcsec move a contact by %.2f to %.2f s", kind, low, high)
	}
}

func TestNothingCentral(t *testing.T) {
	e := elements(t, "2027-08-02")
	for _, tt := range []struct {
		site sun.Site
		want eclipse.Kind
	}{
		{sun.Site{Lat: -60, Lon: 0}, eclipse.None},
		{sun.Site{Lat: 45, Lon: 0}, eclipse.Partial},
		{sun.Site{Lat: 36, Lon: -5.6}, eclipse.Total},
	} {
		c := moonOf(t, watch(t, e, tt.site, 69)).Contacts()
		if c.LimbKind != tt.want || (c.Count > 0) != (tt.want == eclipse.Total) || c.LimbC2.Exists != (c.Count > 0) {
			t.Errorf("%+v: %v, %d phases, want %v", tt.site, c.LimbKind, c.Count, tt.want)
		}
	}
	var none Moon
	if c := none.Contacts(); c.LimbKind != eclipse.None || none.Profile(0) != nil || none.Libration(0) != (Libration{}) {
		t.Errorf("the zero Moon shows %+v", c)
	}
}

func TestBadInput(t *testing.T) {
	o := watch(t, elements(t, "2027-08-02"), sun.Site{Lat: 36, Lon: -5.6}, 69)
	for _, r := range []float64{-1, 100, math.NaN(), math.Inf(1)} {
		if _, err := NewMoon(o, Options{SunRadius: r}); err == nil {
			t.Errorf("a Sun of %g arcsec is taken", r)
		}
	}
	for _, o := range []*eclipse.Observer{nil, {}} {
		if _, err := NewMoon(o, Options{}); err == nil {
			t.Error("no observer is taken")
		}
	}
	m := moonOf(t, o)
	for _, at := range []timescale.TT{timescale.TT(math.NaN()), timescale.TT(math.Inf(1)), 1e300} {
		if h := m.Profile(at).Height(10); !math.IsNaN(h) {
			t.Errorf("a limb of %g km at %g s", h, float64(at))
		}
	}
	for _, angle := range []float64{math.NaN(), math.Inf(-1)} {
		if h := m.Profile(0).Height(angle); !math.IsNaN(h) {
			t.Errorf("a limb of %g km at %g degrees", h, angle)
		}
	}
	if h := m.Profile(0).Height(-1e9); !(math.Abs(h) < 10) {
		t.Errorf("a limb of %g km after many turns", h)
	}
	if _, err := NewCurve(Moon{}, eclipse.CurveOptions{}); err == nil {
		t.Error("a curve of the zero Moon")
	}
}

// A contact moves by its TimeU, but for what the elements add, when the point of the
// limb that makes it moves by the uncertainty of its height.
func TestTimeUIsThatOfTheHeight(t *testing.T) {
	for _, kind := range kinds {
		heightU := map[eclipse.Kind]float64{eclipse.Total: valleyU, eclipse.Annular: peakU}[kind]
		lower := map[eclipse.Kind]float64{eclipse.Total: -1, eclipse.Annular: 1}[kind]
		n := 0
		for _, o := range centrals(t, kind, 40) {
			m := moonOf(t, o)
			circ, c := o.Circumstances(), m.Contacts()
			if c.Count != 1 || c.LimbDuration < 60 {
				continue
			}
			middle, half, _ := m.span(&circ)
			var s spells
			m.pane(m.follow(middle, half), &s.pane)
			for _, k := range []Contact{c.LimbC2, c.LimbC3} {
				point := int(math.Round(k.OnMoon/step)) % points
				const little = 0.01 // km, so that no other point takes over and all is straight
				s.radius[point] += little * lower
				moved, ok := s.only(kind)
				s.radius[point] -= little * lower
				if !ok {
					t.Fatal("the phase is gone")
				}
				begin, end := float64(c.LimbC2.TT-s.instant(moved.begin)), float64(s.instant(moved.end)-c.LimbC3.TT)
				got := math.Hypot(-(begin+end)*heightU/little, o.Elements().TimeU)
				if n++; !(math.Abs(got/k.TimeU-1) <= 0.02) {
					t.Errorf("%s %+v: %.3f s, TimeU says %.3f s", o.Elements().Date, o.Site(), got, k.TimeU)
				}
				if !(k.Beads >= 0 && k.Beads < 100) {
					t.Errorf("%s %+v: beads for %.1f s", o.Elements().Date, o.Site(), k.Beads)
				}
			}
		}
		if n < 40 {
			t.Errorf("%v: %d contacts", kind, n)
		}
	}
}
