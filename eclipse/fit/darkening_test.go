package fit_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/testdata/study"
)

// The brightness at half against the truth of rehearsed logs under a clear sky, made with
// laws of other colours and kinds: 95 % intervals, less three standard deviations of the
// count. The rehearsed response bends by up to 8 % in full light.
func TestDarkening(t *testing.T) {
	n, first := study.Size(t, 12, 0, 0)
	eclipses := study.Eclipses(t)
	var told, held int
	var errs, us []float64
	why := map[string]int{}
	for _, depth := range []rehearsal.Depth{rehearsal.Total, rehearsal.Annular, rehearsal.Deep} {
		for i := range n {
			p, err := rehearsal.Class{Depth: depth}.Draw(eclipses, uint64(first+i))
			require.NoError(t, err)
			p.Chain = nil
			l, err := rehearsal.Make(context.Background(), p)
			require.NoError(t, err)
			r, err := fit.Clock(context.Background(), samples(t, l, p.Chain), l.Curve, fit.Options{ResponseU: 0.1})
			if errors.As(err, new(*fit.Refusal)) {
				continue
			}
			require.NoError(t, err)
			if r.Darkening == nil {
				why[r.Undarkened]++
				continue
			}
			var truth, centre float64
			for _, c := range l.Truth.Limb {
				truth += c.Part * c.Law.Intensity(0.5) / c.Law.Mean()
				centre += c.Part * c.Law.Intensity(1) / c.Law.Mean()
			}
			truth /= centre
			told++
			if math.Abs(r.Darkening.Half-truth) <= 1.96*r.Darkening.HalfU {
				held++
			} else {
				t.Logf("%v, seed %d: %.3f +- %.3f, truth %.3f", depth, first+i, r.Darkening.Half, r.Darkening.HalfU, truth)
			}
			errs, us = append(errs, math.Abs(r.Darkening.Half-truth)), append(us, r.Darkening.HalfU)
		}
	}
	t.Logf("%d told, %d hold the truth; median error %.3f, median uncertainty %.3f; not told: %v", told, held, middle(errs), middle(us), why)
	if least := study.Least(told, 0.95, 3); !(float64(held) >= least) || told == 0 {
		t.Errorf("%d of %d hold the truth, at least %.1f are wanted", held, told, least)
	}
}
