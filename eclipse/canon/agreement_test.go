package canon

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun/timescale"
)

// howMany is the number of draws of a study: few in a plain run, as many as
// NOONFALL_PLACES says where it is set, and fewer still for the race detector.
func howMany(t *testing.T, plain int) int {
	if s := os.Getenv("NOONFALL_PLACES"); s != "" {
		n, err := strconv.Atoi(s)
		require.NoError(t, err)
		return n
	}
	if testing.Short() {
		return plain / 5
	}
	return plain
}

// A tally keeps the worst of each quantity, and what may be.
type tally struct {
	t     *testing.T
	where string
	worst map[string]float64
	count map[string]int
}

// off notes by how much a quantity differs and complains where that is too much.
func (y *tally) off(name string, by, tol float64) {
	by = math.Abs(by)
	y.count[name]++
	if !(by <= y.worst[name]) {
		y.worst[name] = by
	}
	if !(by <= tol) {
		y.t.Errorf("%s: %s off by %.3g, want at most %.3g", y.where, name, by, tol)
	}
}

func (y *tally) log() {
	for _, name := range slices.Sorted(maps.Keys(y.count)) {
		y.t.Logf("%-44s worst %.3g of %d", name, y.worst[name], y.count[name])
	}
}

// The catalogue against the direct method, everything that a site is told: eclipses
// in turn, places of every kind in turn.
func TestCatalogueAgainstDirectComputation(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	all := skies(t)
	elements := slices.Collect(loaded(t).All())
	y := &tally{t: t, worst: map[string]float64{}, count: map[string]int{}}
	n := howMany(t, 500)
	for i := range n {
		number := i % len(all)
		kind := (i + i/len(all)) % len(placeNames)
		d := all[number].place(kind, r)
		e := elements[number]
		horizon := eclipse.Horizon(r.IntN(4))
		o, err := eclipse.NewObserver(e, d.site, eclipse.Options{Scale: timescale.FixedDeltaT(d.deltaT), Horizon: horizon})
		require.NoError(t, err)
		y.where = fmt.Sprintf("%s, %s: %+v, Delta T %.3f", e.Date, placeNames[kind], d.site, d.deltaT)
		y.circumstances(o, d)
	}
	y.log()
	for _, name := range []string{"annular", "total", "partial", "none"} {
		if y.count["kind "+name] < n/50 {
			t.Errorf("only %d of %d eclipses are %s", y.count["kind "+name], n, name)
		}
	}
}

// sinceT0 is an instant in hours from T0.
func sinceT0(at timescale.TT, e *eclipse.Elements) float64 { return float64(at-e.T0) / 3600 }

// circumstances compares all of them.
func (y *tally) circumstances(o *eclipse.Observer, d direct) {
	c := o.Circumstances()
	outer, inner := dipOf(d.outside), dip{}
	want, k := eclipse.None, k1
	if outer.ok {
		want = eclipse.Partial
		if inner = dipOf(d.inside); inner.ok {
			want, k = eclipse.Annular, k2
			if s, m, _ := d.bodies(inner.lowest); lunar(m, k2) > solar(s) {
				want = eclipse.Total
			}
		}
	}
	y.off("kind "+want.String(), float64(c.Geometry)-float64(want), 0)
	if c.Geometry != want || outer.runs > 1 || inner.runs > 1 {
		y.t.Errorf("%s: %v, directly %v in %d pieces (depths %.3g and %.3g rad)", y.where, c.Geometry, want, outer.runs, outer.least, inner.least)
		return
	}
	if !outer.ok {
		return
	}
	y.touch("C1", o, c.C1, d, d.outside, outer, outer.begin, 0)
	y.touch("C4", o, c.C4, d, d.outside, outer, outer.end, 0)
	if inner.ok {
		behind := 0.0 // the discs touch in the Moon's direction
		if want == eclipse.Total {
			behind = 180
		}
		y.touch("C2", o, c.C2, d, d.inside, inner, inner.begin, behind)
		y.touch("C3", o, c.C3, d, d.inside, inner, inner.end, behind)
		y.off("duration", c.Duration-(inner.end-inner.begin)*3600, 0.02)
	}
	y.maximum(o, &c, d, k, outer.lowest)
	y.central(o, d)
	y.horizon(o, &c, d, k, outer, inner)
}

// shadowEdge is how far the edge of either shadow may be from where the positions
// have it, metres; the page on the catalogue's accuracy says what was found.
const shadowEdge = 0.06

// touch compares a contact, in time and across the shadow's edge. A phase that is a
// graze begins and ends slowly, and an edge that is off by centimetres takes its time.
func (y *tally) touch(name string, o *eclipse.Observer, got eclipse.Contact, d direct, gap func(float64) float64, all dip, want, behind float64) {
	h := sinceT0(got.TT, o.Elements())
	_, m, _ := d.bodies(h)
	metres := m.length() * 1000
	y.off("edge of the shadow at "+name+", m", gap(h)*metres, shadowEdge)
	tol, seconds := 0.01, (all.end-all.begin)*3600
	switch {
	case seconds < 10 && (name == "C2" || name == "C3"):
		name, tol = name+" of a phase under 10 s", 0.02
	case seconds < 200 && (name == "C1" || name == "C4"): // no deeper than half an arcsecond
		name, tol = name+" of an eclipse under 200 s", 0.02
	}
	y.contact(name, o, got, d, want, tol, behind)
}

// contact compares instant, place of the Sun and position angles, the latter at the
// catalogue's instant.
func (y *tally) contact(name string, o *eclipse.Observer, got eclipse.Contact, d direct, want, tol, behind float64) {
	h := sinceT0(got.TT, o.Elements())
	if !got.Exists {
		y.t.Errorf("%s: %s is lost", y.where, name)
		return
	}
	y.off(name+", s", (h-want)*3600, tol)
	y.angles(name, got, d, h, behind)
}

// angles compares the Sun's place and the position angles.
func (y *tally) angles(name string, got eclipse.Contact, d direct, h, behind float64) {
	alt, az := d.horizontal(h)
	cos := math.Cos(alt * deg)
	y.off("altitude", got.Alt-alt, 0.0005)
	y.off("azimuth times cos altitude", math.Remainder(got.Az-az, 360)*cos, 0.0005)
	// A direction fades where what it points at is close: the Moon's centre on the
	// Sun's, which shadowEdge moves across, and the zenith above the Sun.
	s, m, _ := d.bodies(h)
	p, v := d.angles(h)
	which, tol := "", 0.01
	if fade := shadowEdge / 1000 / m.length() / s.angle(m) / deg; fade > tol {
		which, tol = ", centres within 0.5 arcsec", fade
	}
	y.off("P"+which, math.Remainder(got.P-p-behind, 360), tol)
	if fade := 0.0005 / cos; fade > tol {
		which, tol = ", Sun within 3 degrees of the zenith", fade
	}
	y.off("V"+which, math.Remainder(got.V-v-behind, 360), tol)
}

// maximum compares the three instants that are called so, and what is deepest.
func (y *tally) maximum(o *eclipse.Observer, c *eclipse.Circumstances, d direct, k, near float64) {
	e := o.Elements()
	magnitude := func(h float64) float64 { return d.magnitude(h, k) }
	top := summit(magnitude, near)
	y.off("maximum, s", (sinceT0(c.Max.TT, e)-top)*3600, 0.01)
	y.angles("max", c.Max, d, sinceT0(c.Max.TT, e), 0)
	closest := summit(func(h float64) float64 { s, m, _ := d.bodies(h); return -s.angle(m) }, near)
	y.off("least separation, s", (sinceT0(o.LeastSeparation(), e)-closest)*3600, 0.01)
	nearest := summit(func(h float64) float64 { return -d.axisDistance(h) }, near)
	y.off("least distance from the axis, s", (sinceT0(o.LeastAxisDistance(), e)-nearest)*3600, 0.01)

	s, m, _ := d.bodies(top)
	ratio := lunar(m, k) / solar(s)
	want := magnitude(top)
	if k == k2 {
		want = ratio
	}
	y.off("magnitude", c.Magnitude-want, 2e-5)
	y.off("ratio", c.Ratio-ratio, 2e-5)
	y.off("obscuration", c.Obscuration-d.obscuration(top, k), 2e-5)
	for _, part := range []float64{0.1, 0.5, 0.8} { // on the way in, by the aspect
		at := c.C1.TT + timescale.TT(part)*(c.Max.TT-c.C1.TT)
		h, a := sinceT0(at, e), o.Aspect(at)
		s, m, _ := d.bodies(h)
		if covered := magnitude(h); k == k1 || s.angle(m) > math.Abs(solar(s)-lunar(m, k)) {
			y.off("magnitude", a.Magnitude-covered, 2e-5)
		}
		y.off("obscuration", a.Obscuration-d.obscuration(h, k), 2e-5)
		y.off("separation, arcsec", (a.Separation-s.angle(m)/deg)*3600, 0.002)
	}
}
