package eclipse

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// edgeOfDay draws a site where the Sun just dips below the horizon at midnight, or
// just shows at noon, about the middle of an eclipse, and now and then any other
// site far north or south.
func edgeOfDay(e *Elements, i int, rng *rand.Rand) sun.Site {
	h := 3*rng.Float64() - 1.5
	δ := e.D.At(h)
	var lat, at float64
	switch i % 3 {
	case 0: // the altitude at midnight is |lat| + |declination| - 90
		lat, at = math.Copysign(90-math.Abs(δ)-1.5*rng.Float64(), δ), 180
	case 1: // and at noon 90 - |lat| - |declination|
		lat, at = math.Copysign(90-math.Abs(δ)+1.5*rng.Float64(), -δ), 0
	case 2:
		return sun.Site{Lat: math.Copysign(55+35*rng.Float64(), rng.Float64()-0.5), Lon: 360*rng.Float64() - 180}
	}
	lon := math.Remainder(at-e.Mu.At(h)+70*earthTurn, 360)
	if lon == 180 {
		lon = -180
	}
	return sun.Site{Lat: max(-90, min(90, lat)), Lon: lon}
}

// What is seen, rise and set, against a scan of altitudes by the second method:
// among them eclipses that begin and end in daylight with midnight between, and
// such whose first and last contact are both below the horizon while the middle is
// not.
func TestSeenAgainstScan(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	elements := all(t)
	night, noon := 0, 0
	for i := range 4000 {
		e := elements[i%len(elements)]
		s := edgeOfDay(e, i/len(elements), rng)
		o, err := NewObserver(e, s, Options{Scale: timescale.FixedDeltaT(70), Horizon: Horizon(i % 4)})
		require.NoError(t, err)
		c := o.Circumstances()
		if c.Geometry == None {
			if c.Seen != None || c.MaxSeen.Exists || c.C1.Exists {
				t.Errorf("%s %+v: no eclipse, but %+v", e.Date, s, c)
			}
			continue
		}
		want := scanUp(o, direct{e, s, 70}, &c)
		if c.C1.Above && c.C4.Above && want.sets > 0 {
			night++
		}
		if !c.C1.Above && !c.C4.Above && want.rises > 0 {
			noon++
		}
		want.check(t, o, &c)
	}
	if night < 5 || noon < 5 {
		t.Errorf("only %d eclipses with midnight between and %d with noon", night, noon)
	}
	t.Logf("%d with midnight between, %d with noon only", night, noon)
}

// An up is what a scan finds, hours from T0.
type up struct {
	seen        Kind
	rise, set   float64
	rises, sets int
	deepest     float64 // greatest magnitude
	closest     float64 // least distance of the Sun from the horizon, degrees
}

const scanStep = 10.0 / 3600

func scanUp(o *Observer, d direct, c *Circumstances) (w up) {
	horizon := [...]struct{ refraction, limb float64 }{{34, 1}, {34, 0}, {0, 1}, {0, 0}}[o.Options().Horizon]
	k := d.e.K1
	if c.Geometry > Partial {
		k = d.e.K2
	}
	w.deepest, w.closest = math.Inf(-1), math.Inf(1)
	before := false
	for h := o.hours(c.C1.TT); h <= o.hours(c.C4.TT); h += scanStep {
		p := d.pair(h, k)
		height := d.altitude(h) + horizon.refraction/60 + horizon.limb*p.sun/deg
		now := height > 0
		w.closest = math.Min(w.closest, math.Abs(height))
		if h > o.hours(c.C1.TT) && now != before {
			if now {
				w.rise, w.rises = h, w.rises+1
			} else {
				w.set, w.sets = h, w.sets+1
			}
		}
		before = now
		if !now {
			continue
		}
		w.seen = max(w.seen, Partial)
		if c.Geometry > Partial && h > o.hours(c.C2.TT) && h < o.hours(c.C3.TT) {
			w.seen = c.Geometry
		}
		if m := p.magnitude(); m > w.deepest {
			w.deepest = m
		}
	}
	return w
}

func (w up) check(t *testing.T, o *Observer, c *Circumstances) {
	t.Helper()
	where := o.Elements().Date
	// The scan misses what happens within a step: a Sun up for seconds at an end or
	// at its turning, a central phase that rises or sets within a step.
	fine := w.closest < 0.001 || math.Abs(w.rise-o.hours(c.C3.TT)) < scanStep || math.Abs(w.set-o.hours(c.C2.TT)) < scanStep
	if c.Seen != w.seen && !fine {
		t.Errorf("%s %+v: seen %v, scan says %v", where, o.Site(), c.Seen, w.seen)
	}
	if c.Rise.Exists != (w.rises > 0) && !fine || c.Set.Exists != (w.sets > 0) && !fine {
		t.Errorf("%s %+v: rise %v, set %v, scan says %d and %d", where, o.Site(), c.Rise.Exists, c.Set.Exists, w.rises, w.sets)
		return
	}
	for _, k := range []struct {
		name string
		c    Contact
		at   float64
	}{{"rise", c.Rise, w.rise}, {"set", c.Set, w.set}} {
		if off := k.at - o.hours(k.c.TT); k.c.Exists && k.at != 0 && !(off >= 0 && off <= scanStep) {
			t.Errorf("%s %+v: %s is %.2f s from the scan's", where, o.Site(), k.name, off*3600)
		}
	}
	if w.seen == None {
		return
	}
	// The scan stops short of the horizon by a step, in which the magnitude gains
	// 1.3 an hour at most (0.65 degrees of motion over the Sun's diameter).
	if gain := c.SeenMagnitude - w.deepest; c.Geometry == Partial && !(gain >= -1e-9 && gain <= 1.3*scanStep) {
		t.Errorf("%s %+v: deepest seen %.4f, scan says %.4f", where, o.Site(), c.SeenMagnitude, w.deepest)
	}
	if c.Max.Above != (c.MaxSeen.TT == c.Max.TT) {
		t.Errorf("%s %+v: maximum above %v, but the deepest seen is %v from it", where, o.Site(), c.Max.Above, c.MaxSeen.TT-c.Max.TT)
	}
	if !(c.SeenObscuration <= c.Obscuration+1e-12) {
		t.Errorf("%s %+v: %.6f obscured seen, %.6f at maximum", where, o.Site(), c.SeenObscuration, c.Obscuration)
	}
}
