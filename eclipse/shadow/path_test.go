package shadow

import (
	"errors"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
)

func august2027(t testing.TB) *Shadow {
	e := published(t, "sebeselm", "2027-08-02")
	return cast(t, e, e.DeltaT)
}

func TestPathRefusesOptions(t *testing.T) {
	s := august2027(t)
	for _, opt := range []PathOptions{
		{Every: time.Minute, Km: 100}, {Every: time.Millisecond}, {Every: 2 * time.Hour}, {Every: -1},
		{Km: 0.5}, {Km: -1}, {Km: math.NaN()}, {Km: math.Inf(1)},
	} {
		_, err := s.Path(opt)
		var bad *PathError
		if !errors.As(err, &bad) || err.Error() == "" {
			t.Errorf("%+v: %v, want a *PathError", opt, err)
		}
	}
}

// Whole minutes of UT, in order, between the two ends.
func TestPathByTheClock(t *testing.T) {
	s := august2027(t)
	path, err := s.Path(PathOptions{})
	require.NoError(t, err)
	if n := len(path); n < 90 || n > 110 { // 3 h 20 min
		t.Errorf("%d sections", n)
	}
	for i, sec := range path {
		first := i == 0 || i == len(path)-1
		if sec.Ends != first {
			t.Errorf("section %d: Ends is %v", i, sec.Ends)
		}
		if !first && sec.UT.Sub(sec.UT.Round(2*time.Minute)).Abs() > time.Microsecond {
			t.Errorf("section at %s UT", sec.UT)
		}
		// The limits may begin before the line: a row then has no center.
		if i > 1 && i < len(path)-2 && !(sec.TT > path[i-1].TT) {
			t.Errorf("section %d is not after the one before", i)
		}
		if sec.Ends && !(math.Abs(sec.Alt) <= 0.01 && sec.North.Exists && sec.South.Exists && sec.Center.Exists) {
			t.Errorf("end %+v, want the Sun in the horizon and all three places", sec)
		}
	}
}

// Sections at a spacing: each as far from the next along the line, which here is
// measured over a hundred short steps.
func TestPathByTheKilometre(t *testing.T) {
	s := august2027(t)
	const km = 500.0
	path, err := s.Path(PathOptions{Km: km})
	require.NoError(t, err)
	if n := len(path); n < 25 || n > 40 { // 15,000 km, as such paths go
		t.Errorf("%d sections", n)
	}
	for i := 1; i+1 < len(path); i++ {
		a, b := path[i-1], path[i]
		var sum float64
		last := a.Center.Site
		for k := 1; k <= 400; k++ {
			part := float64(k) / 400
			if i == 1 {
				part *= part // the line leaves the horizon as the root of time
			}
			m := s.at(s.hours(a.TT) + (s.hours(b.TT)-s.hours(a.TT))*part)
			here := m.place(m.lift(m.x, m.y))
			sum += distance(last, here)
			last = here
		}
		if !(math.Abs(sum-km) <= 0.05) {
			t.Errorf("section %d: %.3f km along the line, want %g", i, sum, km)
		}
	}
	// Half as many sections at twice the spacing, at the same places.
	double, err := s.Path(PathOptions{Km: 2 * km})
	require.NoError(t, err)
	for i := 1; i+1 < len(double); i++ {
		if d := distance(double[i].Center.Site, path[2*i].Center.Site); !(d <= 0.01) {
			t.Errorf("section %d stands %.3f km from the one at half the spacing", i, d)
		}
	}
}

// The difficult ones: no path, one limit, no central line, a hybrid, over a pole.
func TestPathsOfAllForms(t *testing.T) {
	for _, tt := range []struct {
		date         string
		line         bool
		north, south bool
	}{
		{"2025-03-29", false, false, false},
		{"2003-05-31", true, false, true},
		{"2014-04-29", false, true, false},
		{"2043-04-09", false, false, true},
		{"2013-11-03", true, true, true},
		{"2026-08-12", true, true, true},
		{"2021-12-04", true, true, true},
	} {
		e := published(t, "canon5m", tt.date)
		s := cast(t, e, e.DeltaT)
		for _, opt := range []PathOptions{{}, {Km: 100}, {Every: time.Second}} {
			path, err := s.Path(opt)
			require.NoError(t, err)
			line, north, south := false, false, false
			for _, sec := range path {
				line, north, south = line || sec.Center.Exists, north || sec.North.Exists, south || sec.South.Exists
				if sec.Center.Exists && (!(sec.Duration > 0) || !(sec.Width > 0) || sec.Kind < eclipse.Annular) {
					// A hybrid's tip has neither for an instant.
					if s.global.Type != eclipse.TypeHybrid {
						t.Errorf("%s: %+v", tt.date, sec)
					}
				}
			}
			if line != tt.line || north != tt.north || south != tt.south {
				t.Errorf("%s %+v: line %v, limits %v %v", tt.date, opt, line, north, south)
			}
			if s.global.Type != eclipse.TypePartial && len(path) < 3 {
				t.Errorf("%s %+v: %d sections", tt.date, opt, len(path))
			}
		}
	}
}
