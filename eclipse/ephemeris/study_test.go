package ephemeris

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// A scatter collects differences.
type scatter []float64

func (s *scatter) add(v float64) { *s = append(*s, v) }

func (s scatter) rms() float64 {
	sum := 0.0
	for _, v := range s {
		sum += v * v
	}
	return math.Sqrt(sum / float64(len(s)))
}

// below returns the size under which a share of the differences lies.
func (s scatter) below(share float64) float64 {
	sizes := make([]float64, len(s))
	for i, v := range s {
		sizes[i] = math.Abs(v)
	}
	slices.Sort(sizes)
	return sizes[min(int(share*float64(len(sizes))), len(sizes)-1)]
}

func (s scatter) worst() float64 { return s.below(1) }

// A twin is one eclipse by LowPrecision and from the positions of DE431.
type twin struct {
	date        string
	ours, exact *eclipse.Elements
}

func twins(t testing.TB) []twin {
	made.Lock()
	defer made.Unlock()
	if made.all != nil {
		return made.all
	}
	for _, p := range passages(t) {
		exact, err := Reduce(p.table(t), p.t0, Options{})
		require.NoError(t, err)
		ours, err := Find(LowPrecision{}, p.t0+86400, Options{})
		require.NoError(t, err, p.date) // none may be lost, whatever the clock said to begin with
		made.all = append(made.all, twin{p.date, ours.Elements, exact.Elements})
	}
	return made.all
}

// made keeps the twins for all tests.
var made struct {
	sync.Mutex
	all []twin
}

// At sites a study collects what LowPrecision does to local circumstances.
type atSites struct {
	c1, c2, max, c3, c4  scatter // s
	magnitude            scatter
	graze                scatter // s, first and last contact of magnitudes below the study's
	seen, central        int     // sites
	lost, lostCentral    int     // sites that only one of the two puts inside the shadow
	deepest, longestLost float64 // magnitude and duration, s, of those
}

// shallow is the magnitude below which a contact is a graze: there an error of
// gamma counts for more in first and last contact than one of the instant.
const shallow = 0.1

// compare looks at one eclipse from n sites all over the Earth.
func (a *atSites) compare(t testing.TB, w twin, n int, rng *rand.Rand) {
	ours, err := eclipse.Prepare(w.ours, eclipse.Options{})
	require.NoError(t, err)
	exact, err := eclipse.Prepare(w.exact, eclipse.Options{})
	require.NoError(t, err)
	for range n {
		site := sun.Site{Lat: math.Asin(2*rng.Float64()-1) / deg, Lon: 360*rng.Float64() - 180}
		o, err := ours.Observer(site)
		require.NoError(t, err)
		e, err := exact.Observer(site)
		require.NoError(t, err)
		a.one(o.Circumstances(), e.Circumstances())
	}
}

func (a *atSites) one(got, want eclipse.Circumstances) {
	if got.Max.Exists != want.Max.Exists {
		a.lost++
		a.deepest = max(a.deepest, got.Magnitude, want.Magnitude)
	}
	if got.C2.Exists != want.C2.Exists {
		a.lostCentral++
		a.longestLost = max(a.longestLost, got.Duration, want.Duration)
	}
	if !got.Max.Exists || !want.Max.Exists {
		return
	}
	a.seen++
	first, last := float64(got.C1.TT-want.C1.TT), float64(got.C4.TT-want.C4.TT)
	if want.Magnitude < shallow {
		a.graze.add(first)
		a.graze.add(last)
		return
	}
	a.c1.add(first)
	a.c4.add(last)
	a.max.add(float64(got.Max.TT - want.Max.TT))
	if got.Geometry == want.Geometry { // magnitude is another thing inside the path
		a.magnitude.add(got.Magnitude - want.Magnitude)
	}
	if got.C2.Exists && want.C2.Exists {
		a.central++
		a.c2.add(float64(got.C2.TT - want.C2.TT))
		a.c3.add(float64(got.C3.TT - want.C3.TT))
	}
}

// What LowPrecision is worth: the table of the package comment, over all 452
// eclipses of 1901-2100. Bounds are the measured figures of 1000 sites,
// NOONFALL_SITES=1000, rounded up. Type for type it agrees with DE431.
func TestLowPrecisionStudy(t *testing.T) {
	sites := 60
	if s := os.Getenv("NOONFALL_SITES"); s != "" {
		var err error
		sites, err = strconv.Atoi(s)
		require.NoError(t, err)
	}
	rng := rand.New(rand.NewPCG(1, 2))
	var instants, gamma, magnitude scatter
	var at atSites
	for _, w := range twins(t) {
		g, e := w.ours.Greatest(), w.exact.Greatest()
		instants.add(float64(g.TT - e.TT))
		gamma.add(g.Gamma - e.Gamma)
		magnitude.add(g.Magnitude - e.Magnitude)
		if g.Type != e.Type || g.Central != e.Central {
			t.Errorf("%s is %v, by DE431 %v", w.date, g.Type, e.Type)
		}
		at.compare(t, w, sites, rng)
	}
	for _, c := range []struct {
		name string
		scatter
		limit [3]float64 // rms, 95 %, worst
	}{
		{"greatest, s", instants, [3]float64{12.6, 24.5, 34.2}},
		{"gamma", gamma, [3]float64{0.00037, 0.00072, 0.0012}},
		{"greatest magnitude", magnitude, [3]float64{0.00042, 0.00095, 0.0023}},
		{"C1, s", at.c1, [3]float64{14, 27, 107}},
		{"C2, s", at.c2, [3]float64{14, 27, 107}},
		{"maximum, s", at.max, [3]float64{14, 27, 107}},
		{"C3, s", at.c3, [3]float64{14, 27, 107}},
		{"C4, s", at.c4, [3]float64{14, 27, 107}},
		{"C1, C4 of grazes, s", at.graze, [3]float64{22, 40, 470}},
		{"magnitude at sites", at.magnitude, [3]float64{0.0008, 0.0017, 0.0042}},
	} {
		got := [3]float64{c.rms(), c.below(0.95), c.worst()}
		t.Logf("%-20s %6d: rms %.3g, 95%% within %.3g, worst %.3g", c.name, len(c.scatter), got[0], got[1], got[2])
		for i, limit := range c.limit {
			if !(got[i] <= limit) {
				t.Errorf("%s: %s %.4g, want at most %g", c.name, [3]string{"rms", "95%", "worst"}[i], got[i], limit)
			}
		}
	}
	t.Logf("%d sites see the penumbra, %d lie outside by one of the two, deepest %.4f; %d see the central phase, %d so, longest %.0f s",
		at.seen, at.lost, at.deepest, at.central, at.lostCentral, at.longestLost)
}

// Origin's uncertainty is that of contacts, neither flattering nor idle.
func TestLowPrecisionUncertaintyIsHonest(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	var all scatter // in units of the stated uncertainty
	for _, w := range twins(t) {
		var at atSites
		at.compare(t, w, 20, rng)
		for _, s := range []scatter{at.c1, at.c2, at.max, at.c3, at.c4} {
			for _, δ := range s {
				all.add(δ / w.ours.TimeU)
			}
		}
	}
	share := 0.0
	for _, v := range all {
		if math.Abs(v) <= 1.96 {
			share += 1 / float64(len(all))
		}
	}
	t.Logf("%d contacts: rms %.3f u, %.1f%% within 1.96 u", len(all), all.rms(), 100*share)
	if !(all.rms() >= 0.9 && all.rms() <= 1.05 && share >= 0.93) {
		t.Errorf("contacts scatter by %.3f of the stated uncertainty, %.1f%% of them within 1.96; want 0.9 to 1.05, and 93%%", all.rms(), 100*share)
	}
}

// What the source says of itself is in the uncertainty of every contact, beside
// Delta T's, after any detour.
func TestUncertaintyReachesTheContacts(t *testing.T) {
	r, err := Find(LowPrecision{}, newYear(1715)+122*86400, Options{})
	require.NoError(t, err)
	text, err := json.Marshal(r.Elements)
	require.NoError(t, err)
	back := new(eclipse.Elements)
	require.NoError(t, json.Unmarshal(text, back))
	want := LowPrecision{}.Origin(r.Elements.T0).TimeU
	if !(want > measuredU) {
		t.Errorf("uncertainty in 1715 is %v s, want more than the %v s of 1901-2100", want, measuredU)
	}
	for name, e := range map[string]*eclipse.Elements{
		"as reduced": r.Elements, "from JSON": back, "other radii": r.Elements.WithRadii(0.2725076, 0.272281),
	} {
		for scale, deltaTU := range map[timescale.Scale]float64{
			{}:                          timescale.Scale{}.DeltaT(e.T0).SecondsU,
			timescale.FixedDeltaT(10.3): 0,
		} {
			o, err := eclipse.NewObserver(e, sun.Site{Lat: 51.5, Lon: -0.1}, eclipse.Options{Scale: scale})
			require.NoError(t, err)
			c := o.Circumstances()
			if c.Seen != eclipse.Total || c.TimeU != math.Hypot(want, deltaTU) {
				t.Errorf("%s: %v, uncertainty %v s, want total, %v and %v s", name, c.Seen, c.TimeU, want, deltaTU)
			}
		}
	}
}
