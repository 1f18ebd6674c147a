package fit_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/testdata/study"
)

// The stamps of the contacts seen against the truth: under skies in which they can be
// seen, the 95 % interval of each holds it. Bound: 95 % less three standard deviations of
// the count. NOONFALL_LOGS sets how many logs of each class.
func TestContactsSeen(t *testing.T) {
	n, first := study.Size(t, 10, 0, 0)
	eclipses := study.Eclipses(t)
	type count struct {
		seen, held int
		u          []float64
		missed     []string
		why        map[string]int
	}
	all := map[string]*count{}
	for kind, c := range []rehearsal.Class{
		{Depth: rehearsal.Total}, {Depth: rehearsal.Deep}, {Depth: rehearsal.Annular}, {Depth: rehearsal.Total, Weather: rehearsal.Cumulus}, {Depth: rehearsal.Deep, Weather: rehearsal.Cumulus},
	} {
		for i := range n {
			p, err := c.Draw(eclipses, uint64(first+i+10000*kind)) // no two classes share a seed
			require.NoError(t, err)
			l, err := rehearsal.Make(context.Background(), p)
			require.NoError(t, err)
			r, err := fit.Clock(context.Background(), samples(t, l, p.Chain), l.Curve, fit.Options{})
			if errors.As(err, new(*fit.Refusal)) {
				continue
			}
			require.NoError(t, err)
			get := func(name string) *count {
				if all[name] == nil {
					all[name] = &count{why: map[string]int{}}
				}
				return all[name]
			}
			for _, u := range r.Unseen {
				get(u.Name).why[u.Reason]++
			}
			for _, s := range r.Contacts {
				k := get(s.Name)
				off := s.Stamp.Sub(trueContact(l, s.Name)).Seconds()
				k.seen++
				k.u = append(k.u, s.StampU)
				if math.Abs(off) <= 1.96*s.StampU {
					k.held++
				} else {
					k.missed = append(k.missed, fmt.Sprintf("%v %d: %.2f of %.2f", c, i, off, s.StampU))
				}
				if got := s.Stamp.Sub(s.UTC).Seconds(); !(math.Abs(got-r.Offset) < 0.002) {
					t.Errorf("%s: stamp less UTC is %.3f s, the offset %.3f", s.Name, got, r.Offset)
				}
			}
		}
	}
	for _, name := range []string{"C1", "C2", "C3", "C4"} {
		k := all[name]
		require.NotNil(t, k)
		t.Logf("%s: %d seen, %d hold the truth, median uncertainty %.2f s; not seen %v; missed %s", name, k.seen, k.held, middle(k.u), k.why, strings.Join(k.missed, ", "))
		if least := study.Least(k.seen, 0.95, 3); !(float64(k.held) >= least) || k.seen == 0 {
			t.Errorf("%s: %d of %d hold the truth, at least %.1f are wanted", name, k.held, k.seen, least)
		}
	}
}

// trueContact is what the logger's clock showed when the light of a contact came: on the
// Moon as it is, not as it is known.
func trueContact(l *rehearsal.Log, name string) (stamp time.Time) {
	c, k := l.Curve.Circumstances(), l.Curve.Contacts()
	at, late := map[string]time.Time{"C1": c.C1.UTC, "C2": k.LimbC2.UTC, "C3": k.LimbC3.UTC, "C4": c.C4.UTC}[name], l.Truth.MoonLate
	switch name {
	case "C2":
		late += l.Truth.C2Late
	case "C3":
		late += l.Truth.C3Late
	}
	late += l.Truth.Offset + l.Truth.DriftPPM*1e-6*at.Sub(l.Truth.Max).Seconds()
	return at.Add(time.Duration(late * 1e9))
}

func middle(x []float64) float64 {
	if len(x) == 0 {
		return math.NaN()
	}
	y := slices.Sorted(slices.Values(x))
	return y[len(y)/2]
}
