package rehearsal_test

import (
	"errors"
	"math"
	"reflect"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/rehearsal"
)

// The mixture of drawn plans is the documented one. Shares of 600 plans; bounds
// are four standard errors of a count.
func TestDrawKeepsItsMixture(t *testing.T) {
	eclipses := years(t, "2001", "2060")
	const plans = 600
	found := map[string]float64{}
	cadences, dates := map[time.Duration]int{}, map[string]bool{}
	for seed := range uint64(plans) {
		p, err := rehearsal.Class{Weather: rehearsal.Clear}.Draw(eclipses, seed)
		require.NoError(t, err)
		o, err := eclipse.NewObserver(p.Elements, p.Site, eclipse.Options{})
		require.NoError(t, err)
		c := o.Circumstances()
		if !(c.Max.Alt >= 10) {
			t.Errorf("seed %d: the Sun is %.1f degrees up", seed, c.Max.Alt)
		}
		if !(math.Abs(p.Offset) <= 120 && math.Abs(p.DriftPPM) <= 20 && p.Noise >= 0.001 && p.Noise <= 0.01) {
			t.Errorf("seed %d: clock %g s %g ppm, noise %g", seed, p.Offset, p.DriftPPM, p.Noise)
		}
		kind := c.Geometry.String()
		if c.Geometry == eclipse.Partial {
			if kind = "deep"; c.Magnitude < 0.6 {
				kind = "shallow"
			}
		}
		found[kind]++
		cadences[p.Cadence]++
		dates[p.Elements.Date] = true
	}
	for kind, share := range map[string]float64{"total": 0.3, "annular": 0.2, "deep": 0.3, "shallow": 0.2} {
		if want := share * plans; !(math.Abs(found[kind]-want) <= 4*math.Sqrt(want*(1-share))) {
			t.Errorf("%v plans are %s, want %.0f", found[kind], kind, want)
		}
	}
	if len(cadences) != 4 || len(dates) < 80 {
		t.Errorf("%d cadences and %d eclipses, want 4 and nearly all of the 134", len(cadences), len(dates))
	}
}

func TestDrawIsRepeatable(t *testing.T) {
	eclipses := years(t, "2020", "2030")
	a, err := rehearsal.Class{Weather: rehearsal.Haze}.Draw(eclipses, 11)
	require.NoError(t, err)
	b, err := rehearsal.Class{Weather: rehearsal.Haze}.Draw(eclipses, 11)
	require.NoError(t, err)
	if !reflect.DeepEqual(a, b) {
		t.Errorf("one seed gave %+v and %+v", a, b)
	}
	if a.Chain != nil && a.Chain == b.Chain {
		t.Error("two plans share a chain, so that one owner could change the other's")
	}
}

func TestDrawFromNothing(t *testing.T) {
	if _, err := (rehearsal.Class{Weather: rehearsal.Clear}).Draw(nil, 1); !errors.Is(err, rehearsal.ErrPlan) {
		t.Errorf("error %v, want %v", err, rehearsal.ErrPlan)
	}
}

// Plans are of the class that was asked for.
func TestDrawKeepsItsClass(t *testing.T) {
	eclipses := years(t, "2001", "2060")
	kinds := map[rehearsal.Depth]eclipse.Kind{
		rehearsal.Total: eclipse.Total, rehearsal.Annular: eclipse.Annular, rehearsal.Deep: eclipse.Partial, rehearsal.Shallow: eclipse.Partial,
	}
	for depth, kind := range kinds {
		for _, low := range []bool{false, true} {
			class := rehearsal.Class{Depth: depth, Horizon: low}
			rising := 0
			for seed := range uint64(20) {
				p, err := class.Draw(eclipses, seed)
				require.NoError(t, err)
				o, err := eclipse.NewObserver(p.Elements, p.Site, eclipse.Options{})
				require.NoError(t, err)
				c := o.Circumstances()
				if c.Geometry != kind || (depth == rehearsal.Shallow) != (kind == eclipse.Partial && c.Magnitude < 0.6) {
					t.Errorf("%v, seed %d: %v of magnitude %.2f", class, seed, c.Geometry, c.Magnitude)
				}
				if low && (c.C1.Alt < 0) == (c.C4.Alt < 0) || !low && c.Max.Alt < 10 {
					t.Errorf("%v, seed %d: the Sun at %.1f, %.1f and %.1f degrees", class, seed, c.C1.Alt, c.Max.Alt, c.C4.Alt)
				}
				if c.C1.Alt < 0 {
					rising++
				}
			}
			if low && (rising == 0 || rising == 20) {
				t.Errorf("%v: the Sun rises in %d of 20", class, rising)
			}
		}
	}
	if _, err := (rehearsal.Class{Depth: 77}).Draw(eclipses, 1); !errors.Is(err, rehearsal.ErrPlan) {
		t.Errorf("a depth that there is not: %v", err)
	}
}
