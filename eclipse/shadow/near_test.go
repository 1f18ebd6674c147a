package shadow

import (
	"context"
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/sun"
)

// Against every line of two centuries, walked in short steps.
func TestNearAgainstAWalkOfAllLines(t *testing.T) {
	c, err := canon.Load()
	require.NoError(t, err)
	site := sun.Site{Lat: 36, Lon: -5.6, Height: 100}
	const km = 500
	want := map[string]float64{}
	for _, s := range every(t) {
		e := s.global.Line
		if !e.Exists() {
			continue
		}
		from, to := s.hours(e.Begin.TT), s.hours(e.End.TT)
		const n = 4000
		for i := range n + 1 {
			m := s.at(from + (to-from)*(1-math.Cos(math.Pi*float64(i)/n))/2)
			d := distance(site, m.place(m.lift(m.x, m.y)))
			if old, ok := want[s.elements.Date]; d <= km && (!ok || d < old) {
				want[s.elements.Date] = d
			}
		}
	}
	require.NotEmpty(t, want)
	got := map[string]bool{}
	for p, err := range Near(context.Background(), c.All(), site, km, eclipse.Options{}) {
		require.NoError(t, err)
		got[p.Elements.Date] = true
		if d, ok := want[p.Elements.Date]; !ok || !(math.Abs(d-p.Km) <= 0.2) {
			t.Errorf("%s: %.2f km, the walk says %.2f (%v)", p.Elements.Date, p.Km, d, ok)
		}
		if d := distance(site, p.Nearest); !(math.Abs(d-p.Km) <= 0.01) {
			t.Errorf("%s: nearest point %.3f km away, Km %.3f", p.Elements.Date, d, p.Km)
		}
	}
	for date := range want {
		if !got[date] {
			t.Errorf("%s is missing", date)
		}
	}
	t.Logf("%d lines within %d km", len(got), km)
}

func TestNearSaysWhatIsWrong(t *testing.T) {
	c, err := canon.Load()
	require.NoError(t, err)
	first := func(ctx context.Context, site sun.Site, km float64) error {
		for _, err := range Near(ctx, c.All(), site, km, eclipse.Options{}) {
			return err
		}
		return nil
	}
	var bad *sun.RangeError
	if err := first(context.Background(), sun.Site{Lat: 91}, 10); !errors.As(err, &bad) {
		t.Errorf("latitude 91: %v", err)
	}
	for _, km := range []float64{-1, math.NaN(), 30000} {
		if err := first(context.Background(), sun.Site{}, km); !errors.As(err, &bad) {
			t.Errorf("%g km: %v", km, err)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if err := first(ctx, sun.Site{}, 1000); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	if _, err := New(&eclipse.Elements{}, eclipse.Options{}); err == nil {
		t.Error("empty elements: no error")
	}
	if _, err := New(nil, eclipse.Options{}); err == nil {
		t.Error("no elements: no error")
	}
}
