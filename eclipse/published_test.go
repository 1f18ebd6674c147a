package eclipse

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun/timescale"
	"example.org/noonfall/testdata/references"
)

// check compares one contact of a row; empty cells claim nothing. It returns the
// time difference, s.
func check(t *testing.T, r references.Row, name string, c Contact, tol, angle float64) float64 {
	t.Helper()
	clock := r[name+"_ut"]
	if clock == "" {
		return 0
	}
	if !c.Exists {
		t.Errorf("%s %s: no %s, want %s (%s)", r["eclipse"], r["place"], name, clock, r["source"])
		return 0
	}
	off := c.UT.Sub(instant(t, r["ut_date"], clock, c.UT)).Seconds()
	if !(math.Abs(off) <= tol) {
		t.Errorf("%s %s: %s off by %.2f s, tolerance %.2f (%s)", r["eclipse"], r["place"], name, off, tol, r["source"])
	}
	for _, a := range []struct {
		column string
		got    float64
	}{{"_p_deg", c.P}, {"_v_deg", c.V}, {"_az_deg", c.Az}} {
		cell := r[name+a.column]
		if cell == "" || (strings.HasPrefix(r["kind"], "A") && (name == "c2" || name == "c3") && a.column != "_az_deg") {
			continue // the service prints these for the opposite limb (SOURCES)
		}
		want := r.Number(t, name+a.column)
		if d := math.Remainder(a.got-want, 360); !(math.Abs(d) <= angle) {
			t.Errorf("%s %s: %s%s %.2f, want %.2f (%s)", r["eclipse"], r["place"], name, a.column, a.got, want, r["source"])
		}
	}
	if cell := r[name+"_alt_deg"]; cell != "" {
		alt := c.Alt
		half := 0.505 // whole degrees, rounded
		if r["alt_refracted"] == "1" {
			half = 0.08 // tenths; whatever the service states, its contacts at 6 degrees are not lifted
		}
		if want := r.Number(t, name+"_alt_deg"); !(math.Abs(alt-want) <= half) {
			t.Errorf("%s %s: %s altitude %.2f, want %.2f (%s)", r["eclipse"], r["place"], name, alt, want, r["source"])
		}
	}
	return off
}

// NASA RP 1398, table 21, with the bulletin's own elements: printed to 0.1 s.
func TestBulletinRP1398(t *testing.T) {
	e := published(t, "bulletin_rp1398", "1999-08-11")
	n, worst := 0, 0.0
	for _, r := range references.Table(t, "local_circumstances.csv") {
		if r["source"] != "NASA_RP1398_T21" {
			continue
		}
		n++
		o := watch(t, e, site(t, r), r.Number(t, "delta_t_s"))
		c := o.Circumstances()
		// Its maximum is the least distance from the axis; the greatest magnitude
		// comes up to 0.3 s earlier or later here.
		check(t, r, "max", c.Max, 0.3, 1)
		least := o.Instant(o.LeastAxisDistance())
		for name, k := range map[string]Contact{"c1": c.C1, "max": least, "c4": c.C4} {
			worst = math.Max(worst, math.Abs(check(t, r, name, k, 0.1, 1)))
		}
		if c.Geometry != Partial || c.Seen != Partial {
			t.Errorf("%s: %v, seen %v", r["place"], c.Geometry, c.Seen)
		}
		// Printed to 0.001, and made with l1 of k1 beside l2 of k2, the discs of no one
		// Moon, which by itself is up to 0.0007 off in obscuration.
		if want := r.Number(t, "magnitude"); !(math.Abs(c.Magnitude-want) <= 0.001) {
			t.Errorf("%s: magnitude %.4f, want %.3f", r["place"], c.Magnitude, want)
		}
		if want := r.Number(t, "obscuration"); !(math.Abs(c.Obscuration-want) <= 0.0007+0.0005) {
			t.Errorf("%s: obscuration %.4f, want %.3f", r["place"], c.Obscuration, want)
		}
	}
	if n != 13 {
		t.Fatalf("%d rows, want 13", n)
	}
	t.Logf("worst instant %.3f s", worst)
}

// The almanac service uses one lunar radius for all contacts and its own Delta T.
func TestAlmanacService(t *testing.T) {
	const k = 0.272399
	n, worst := 0, 0.0
	for _, r := range references.Table(t, "local_circumstances.csv") {
		if r["source"] != "USNO_AA_API" {
			continue
		}
		n++
		e := published(t, "canon5m", r["eclipse"]).WithRadii(k, k)
		c := watch(t, e, site(t, r), r.Number(t, "delta_t_s")).Circumstances()
		for name, contact := range map[string]Contact{"c1": c.C1, "c2": c.C2, "c3": c.C3, "c4": c.C4} {
			worst = math.Max(worst, math.Abs(check(t, r, name, contact, 0.31, 1))) // 0.3 s, printed to 0.1
		}
		if r["max_flag"] == "" { // its maximum runs a second early (SOURCES)
			check(t, r, "max", c.Max, 1.5, 1)
		}
		want := map[string]Kind{"P": Partial, "A": Annular, "T": Total}[r["kind"]]
		if c.Geometry != want {
			t.Errorf("%s: %v, want %v", r["place"], c.Geometry, want)
		}
		if s := r["central_duration_s"]; s != "" {
			if d := r.Number(t, "central_duration_s"); !(math.Abs(c.Duration-d) <= 0.4) {
				t.Errorf("%s: duration %.2f s, want %.1f", r["place"], c.Duration, d)
			}
		}
		// Where the site sees maximum. Inside the path it prints (L1-m)/(L1+L2).
		if m := r["magnitude"]; m != "" && c.Geometry == Partial && c.Max.Above {
			if want := r.Number(t, "magnitude"); !(math.Abs(c.Magnitude-want) <= 0.001) {
				t.Errorf("%s: magnitude %.4f, want %.3f", r["place"], c.Magnitude, want)
			}
			if want := r.Number(t, "obscuration"); !(math.Abs(c.Obscuration-want) <= 0.001) {
				t.Errorf("%s: obscuration %.4f, want %.3f", r["place"], c.Obscuration, want)
			}
		}
	}
	if n < 10 {
		t.Fatalf("%d rows", n)
	}
	t.Logf("%d rows, worst contact %.3f s", n, worst)
}

// NASA RP 1369, table 11a: most places see the maximum at sunrise, given to the
// minute with the magnitude then; printed rounding of the time moves that by up
// to 0.01.
func TestBulletinRP1369(t *testing.T) {
	e := published(t, "canon5m", "1997-03-09")
	n, sum := 0, 0.0
	for _, r := range references.Table(t, "local_circumstances.csv") {
		if r["source"] != "NASA_RP1369_T11a" {
			continue
		}
		n++
		// Its sunrise is that of the centre, with refraction.
		o, err := NewObserver(e, site(t, r), Options{Scale: timescale.FixedDeltaT(62.4), Horizon: RefractedCentre})
		require.NoError(t, err)
		c := o.Circumstances()
		want := r.Number(t, "magnitude")
		if r["kind"] == "P" {
			check(t, r, "max", o.Instant(o.LeastAxisDistance()), 0.5, 1)
			if !(math.Abs(c.Magnitude-want) <= 0.002) {
				t.Errorf("%s: magnitude %.4f, want %.3f", r["place"], c.Magnitude, want)
			}
			continue
		}
		if !c.Rise.Exists || c.MaxSeen.TT != c.Rise.TT || c.Max.Above {
			t.Errorf("%s: maximum seen %+v, want it at sunrise", r["place"], c.MaxSeen)
			continue
		}
		// A place above the sea sees over its edge (dip 1.76 arcmin per root metre,
		// common practice); the Sun climbs 13.5 arcmin a minute here.
		dip := 1.76 * math.Sqrt(r.Number(t, "elev_m")) / 13.5 // minutes
		off := c.Rise.UT.Sub(instant(t, r["ut_date"], r["sunrise_ut"]+":00", c.Rise.UT)).Seconds()
		if !(math.Abs(off-30*dip) <= 60+30*dip) {
			t.Errorf("%s: sunrise %s, want %s", r["place"], c.Rise.UT, r["sunrise_ut"])
		}
		sum += math.Abs(c.SeenMagnitude - want)
		if !(math.Abs(c.SeenMagnitude-want) <= 0.012+0.017*dip) {
			t.Errorf("%s: magnitude at sunrise %.4f, want %.3f", r["place"], c.SeenMagnitude, want)
		}
	}
	if n != 25 {
		t.Fatalf("%d rows, want 25", n)
	}
	if mean := sum / 23; !(mean <= 0.006) {
		t.Errorf("mean difference of the magnitudes %.4f", mean)
	}
}

// Greatest eclipse of every published row: gamma to its last digit, the instant,
// the magnitude and the type.
func TestGreatestOfPublishedElements(t *testing.T) {
	types := map[byte]Type{'P': TypePartial, 'A': TypeAnnular, 'T': TypeTotal, 'H': TypeHybrid}
	for _, r := range references.Table(t, "elements.csv") {
		g := elements(t, r).Greatest()
		if want := r.Number(t, "gamma"); !(math.Abs(g.Gamma-want) <= 1.1e-4) {
			t.Errorf("%s %s: gamma %.5f, want %.4f", r["version"], r["date"], g.Gamma, want)
		}
		if want := types[r["type"][0]]; g.Type != want {
			t.Errorf("%s %s: %v, want %v", r["version"], r["date"], g.Type, want)
		}
		if want := r.Number(t, "magnitude"); !(math.Abs(g.Magnitude-want) <= 5e-4) {
			t.Errorf("%s %s: magnitude %.5f, want %.4f", r["version"], r["date"], g.Magnitude, want)
		}
		at := timescale.UT1(g.TT).Time()
		want := instant(t, r["date"], r["ge_tdt"], at)
		if off := at.Sub(want).Seconds(); !(math.Abs(off) <= 0.7) { // printed to the second
			t.Errorf("%s %s: greatest at %s TT, want %s", r["version"], r["date"], at.Format("15:04:05.0"), r["ge_tdt"])
		}
	}
}
