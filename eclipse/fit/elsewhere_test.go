package fit

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun"
)

// Under a bank of cloud the fit ends elsewhere from another start; what is kept is the account
// that explains the log best, together with what the others said.
func TestContestKeepsTheBestAccount(t *testing.T) {
	_, l := realLight(t, time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 36.3, Lon: -5.6})
	contested, moved, apart := 0, 0, 0
	for seed := range uint64(64) {
		s := banked(l, seed)
		p, shift, err := l.near(context.Background(), s, 0)
		if errors.As(err, new(*Refusal)) {
			continue
		}
		require.NoError(t, err)
		before := p.total(shift)
		q, at, err := l.contest(context.Background(), s, p, shift)
		require.NoError(t, err)
		if len(q.accounts) == 0 {
			continue
		}
		contested++
		best := slices.MinFunc(q.accounts, func(a, b account) int { return cmp.Compare(a.deviance, b.deviance) })
		if best.shift != at {
			t.Errorf("log %d: %v, and the one at %.1f s is kept", seed, q.accounts, at)
		}
		if q != p {
			moved++
			if !(best.deviance < before) {
				t.Errorf("log %d: %.1f was %.1f before", seed, best.deviance, before)
			}
		}
		if q.discord(at) > 0.5 {
			apart++
		}
	}
	t.Logf("%d contested, %d moved, %d apart", contested, moved, apart)
	if contested < 32 || moved < 8 || apart < 2 {
		t.Errorf("%d logs contested, %d of them moved, %d with accounts half a second apart: the test shows nothing", contested, moved, apart)
	}
}

// A sky without cloud is not contested.
func TestClearSkyIsNotContested(t *testing.T) {
	_, l := realLight(t, time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 50})
	s := hazy(l, 0.001, 60, 1)
	p, shift, err := l.near(context.Background(), s, 0)
	require.NoError(t, err)
	q, at, err := l.contest(context.Background(), s, p, shift)
	require.NoError(t, err)
	if q != p || at != shift || p.discord(at) != 0 {
		t.Errorf("contested: %v, moved by %g s, accounts %g s apart", p.accounts, at-shift, p.discord(at))
	}
}

// The bottom of a valley is no higher than where one comes from, and whoever is there stays; a ring
// has no residual light that would go along.
func TestBottomIsStayedAt(t *testing.T) {
	_, total := realLight(t, time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 36.3, Lon: -5.6})
	p, shift, err := total.near(context.Background(), banked(total, 3), 0)
	require.NoError(t, err)
	for _, away := range []float64{-4, 0, 4} { // s
		from := p.deviance(shift + away)
		at := p.bottom(shift + away)
		if least := p.deviance(at); !(least <= from) {
			t.Errorf("from %+g s: %.3f at the bottom, %.3f before", away, least, from)
		}
		if again := p.bottom(at); !(math.Abs(again-at) <= 0.05) {
			t.Errorf("from %+g s: the bottom is at %.3f s, and then at %.3f", away, at, again)
		}
	}
	_, ring := realLight(t, time.Date(2028, 1, 26, 0, 0, 0, 0, time.UTC), sun.Site{Lat: -3, Lon: -60})
	p, shift, err = ring.near(context.Background(), hazy(ring, 1e-3, 60, 1), 0)
	require.NoError(t, err)
	if at := p.bottom(shift + 4); at != shift+4 {
		t.Errorf("of a ring: moved by %g s", at-shift-4)
	}
}

// Accounts as good as the best count in full, those that are far worse not at all.
func TestDiscord(t *testing.T) {
	for _, tt := range []struct {
		accounts []account
		want     float64
	}{
		{nil, 0},
		{[]account{{0, 100}}, 0},
		{[]account{{0, 100}, {30, 100}}, 30 / math.Sqrt2},
		{[]account{{0, 100}, {30, 1000}}, 0},
		{[]account{{0, 100}, {-30, 120}}, 30 * math.Sqrt(math.Exp(-1)/(1+math.Exp(-1)))}, // twenty squared deviations: one e-fold
	} {
		p := problem{accounts: tt.accounts}
		if got := p.discord(0); !(math.Abs(got-tt.want) <= 1e-6) {
			t.Errorf("%v: %g s, want %g", tt.accounts, got, tt.want)
		}
	}
}

// An error that is added widens the interval as errors add, in squares.
func TestBlurAddsInSquares(t *testing.T) {
	p := bell(100, 3)
	p.summarise()
	was := p
	p.blur(4)
	if !(math.Abs(p.sd-5*was.sd/3) <= 1e-2) || !(math.Abs((p.hi-p.lo)*3-(was.hi-was.lo)*5) <= 0.1) || p.mean != was.mean {
		t.Errorf("3 s and 4 s: %.3f s, %.2f to %.2f; was %.3f s, %.2f to %.2f", p.sd, p.lo, p.hi, was.sd, was.lo, was.hi)
	}
}
