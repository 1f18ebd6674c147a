package shadow

import (
	"context"
	"errors"
	"math"
	"os"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// gridDays are eclipses of every kind.
var gridDays = []struct{ date, kind string }{
	{"2003-11-23", "total, at the southern pole"},
	{"2005-04-08", "hybrid"},
	{"2008-08-01", "total, over the northern pole's side"},
	{"2011-01-04", "partial, deep"},
	{"2013-11-03", "hybrid"},
	{"2014-04-29", "annular, the axis misses the Earth"},
	{"2015-03-20", "total, ends at the northern pole"},
	{"2021-06-10", "annular, over the northern pole"},
	{"2022-10-25", "partial"},
	{"2023-10-14", "annular"},
	{"2027-08-02", "total"},
	{"2031-11-14", "hybrid, across the antimeridian"},
	{"2036-02-27", "partial"},
	{"2043-04-09", "total, the axis misses the Earth"},
}

func gridElements(t testing.TB, date string) *eclipse.Elements {
	t.Helper()
	c, err := canon.Load()
	require.NoError(t, err)
	day, err := time.Parse(time.DateOnly, date)
	require.NoError(t, err)
	e, err := c.On(day)
	require.NoError(t, err)
	require.Equal(t, date, e.Date)
	return e
}

func mustGrid(t testing.TB, e *eclipse.Elements, a Area, q Quantity, opt GridOptions) *Grid {
	t.Helper()
	g, err := NewGrid(context.Background(), e, a, q, opt)
	require.NoError(t, err)
	return g
}

// fromCircumstances is what each quantity has to be, and how close it comes. The
// largest tolerance promised for obscuration is 2e-5; 3e-8 is what there is.
var fromCircumstances = [...]struct {
	of  func(c *eclipse.Circumstances, t0 float64) float64
	tol float64
}{
	SeenObscuration: {func(c *eclipse.Circumstances, _ float64) float64 { return c.SeenObscuration }, 3e-8},
	SeenMagnitude:   {func(c *eclipse.Circumstances, _ float64) float64 { return c.SeenMagnitude }, 3e-8},
	Obscuration:     {func(c *eclipse.Circumstances, _ float64) float64 { return c.Obscuration }, 3e-8},
	Magnitude:       {func(c *eclipse.Circumstances, _ float64) float64 { return c.Magnitude }, 3e-8},
	CentralDuration: {func(c *eclipse.Circumstances, _ float64) float64 { return c.Duration }, 0},
	SunAltitude:     {func(c *eclipse.Circumstances, _ float64) float64 { return orNaN(c.Max, c.Max.Alt) }, 1e-4},
	Maximum:         {func(c *eclipse.Circumstances, t0 float64) float64 { return orNaN(c.Max, float64(c.Max.TT)-t0) }, 0.02},
	FirstContact:    {func(c *eclipse.Circumstances, t0 float64) float64 { return orNaN(c.C1, float64(c.C1.TT)-t0) }, 0},
	LastContact:     {func(c *eclipse.Circumstances, t0 float64) float64 { return orNaN(c.C4, float64(c.C4.TT)-t0) }, 0},
}

func orNaN(c eclipse.Contact, v float64) float64 {
	if !c.Exists {
		return math.NaN()
	}
	return v
}

// cold asks an Observer, who knows no neighbour, at each site of a grid and returns the
// worst difference.
func cold(t *testing.T, e *eclipse.Elements, g *Grid, q Quantity, all []eclipse.Circumstances) (worst float64) {
	t.Helper()
	want := fromCircumstances[q]
	for i, got := range g.Values {
		w := want.of(&all[i], float64(e.T0))
		if math.IsNaN(w) && math.IsNaN(got) {
			continue
		}
		off := math.Abs(got - w)
		if !(off <= want.tol) {
			t.Errorf("%s %v at %+v: %.9g, want %.9g +- %g", e.Date, q, g.Site(i/g.Cols, i%g.Cols), got, w, want.tol)
		}
		worst = math.Max(worst, off)
	}
	return worst
}

func circumstances(t *testing.T, e *eclipse.Elements, a Area) (all []eclipse.Circumstances) {
	t.Helper()
	p, err := eclipse.Prepare(e, eclipse.Options{})
	require.NoError(t, err)
	g := &Grid{Area: a}
	g.Rows, g.Cols = a.size()
	for i := range g.Rows * g.Cols {
		o, err := p.Observer(g.Site(i/g.Cols, i%g.Cols))
		require.NoError(t, err)
		all = append(all, o.Circumstances())
	}
	return all
}

// Every quantity over all of the Earth, poles included, is that of Circumstances at
// each site: nothing is lost, and nothing shows up outside the penumbra.
func TestGridIsCircumstances(t *testing.T) {
	area := Earth(2)
	area.LatStep = 15
	for _, d := range gridDays {
		e := gridElements(t, d.date)
		all := circumstances(t, e, area)
		for q := range Quantity(len(quantities)) {
			cold(t, e, mustGrid(t, e, area, q, GridOptions{}), q, all)
		}
	}
}

// The same for all eclipses of the catalogue and steps as in use; .ci/long asks for it,
// and it takes minutes.
func TestGridStudy(t *testing.T) {
	if os.Getenv("NOONFALL_GRIDS") == "" {
		t.Skip("set NOONFALL_GRIDS=1 to compare all grids of the catalogue")
	}
	c, err := canon.Load()
	require.NoError(t, err)
	worst := make([]float64, len(quantities))
	for e := range c.All() {
		area := Earth(0.5)
		area.LatStep = 7.5
		all := circumstances(t, e, area)
		for q := range Quantity(len(quantities)) {
			worst[q] = math.Max(worst[q], cold(t, e, mustGrid(t, e, area, q, GridOptions{}), q, all))
		}
	}
	for q, w := range worst {
		t.Logf("%v: worst %.2g %s", Quantity(q), w, Quantity(q).Unit())
	}
}

// Where a grid says nothing, nobody sees a thing at any time: a second witness that has
// neither derivative nor contact.
func TestGridNothingOutside(t *testing.T) {
	zero := 0
	for _, d := range gridDays {
		e := gridElements(t, d.date)
		g := mustGrid(t, e, Earth(20), Obscuration, GridOptions{})
		p, err := eclipse.Prepare(e, eclipse.Options{})
		require.NoError(t, err)
		for i, got := range g.Values {
			o, err := p.Observer(g.Site(i/g.Cols, i%g.Cols))
			require.NoError(t, err)
			deepest := 0.0
			const step = 150 // s: between two looks an obscuration changes by 0.06 at most
			for h := -e.Span * 3600; h <= e.Span*3600; h += step {
				deepest = math.Max(deepest, o.Aspect(e.T0+timescale.TT(h)).Obscuration)
			}
			if got == 0 {
				zero++
			}
			// Maximum is that of magnitude: a ring's obscuration, the square of the ratio of
			// radii, may go on growing by some 1e-5.
			if (got == 0) != (deepest == 0) || !(deepest <= got+1e-4 && got-deepest < 0.06) {
				t.Errorf("%s at %+v: %.6f, but the deepest look is %.6f", e.Date, o.Site(), got, deepest)
			}
		}
	}
	if zero < 500 {
		t.Errorf("%d sites outside, want enough to tell", zero)
	}
}

func TestGridSameBitsForAnyWorkers(t *testing.T) {
	e := gridElements(t, "2031-11-14")
	for _, q := range []Quantity{SeenObscuration, Maximum} {
		want := mustGrid(t, e, Earth(3), q, GridOptions{Workers: 1})
		for _, n := range []int{0, 2, 3, 7, 1000} {
			got := mustGrid(t, e, Earth(3), q, GridOptions{Workers: n})
			for i := range want.Values {
				if math.Float64bits(got.Values[i]) != math.Float64bits(want.Values[i]) {
					t.Fatalf("%v, %d workers: value %d is %v, alone %v", q, n, i, got.Values[i], want.Values[i])
				}
			}
		}
	}
}

// A part of the Earth, begun elsewhere and in other steps, is the same Earth.
func TestGridPartAgreesWithWhole(t *testing.T) {
	e := gridElements(t, "2031-11-14")
	whole := mustGrid(t, e, Earth(1), Obscuration, GridOptions{})
	part := mustGrid(t, e, Area{South: -20, North: 50, West: 150, East: -120, LatStep: 5, LonStep: 3}, Obscuration, GridOptions{})
	require.Equal(t, 15, part.Rows)
	require.Equal(t, 31, part.Cols)
	most := 0.0
	for i := range part.Rows {
		for j := range part.Cols {
			s := part.Site(i, j)
			want := whole.At(int(s.Lat)+90, int(math.Remainder(s.Lon, 360)+180+360)%360)
			most = math.Max(most, want)
			if !(math.Abs(part.At(i, j)-want) <= 1e-9) {
				t.Errorf("%+v: %.12f, in the whole %.12f", s, part.At(i, j), want)
			}
		}
	}
	if !(most > 0.9) {
		t.Errorf("greatest obscuration %.2f, want a part worth comparing", most)
	}
}

// All longitudes of a pole are one place.
func TestGridPoles(t *testing.T) {
	for _, date := range []string{"2003-11-23", "2015-03-20", "2021-06-10"} {
		e := gridElements(t, date)
		for _, q := range []Quantity{SeenObscuration, Obscuration, Magnitude} {
			g := mustGrid(t, e, Area{South: -90, North: 90, West: -180, East: 180, LatStep: 180, LonStep: 7}, q, GridOptions{})
			for i := range g.Rows {
				for j := range g.Cols {
					if !(math.Abs(g.At(i, j)-g.At(i, 0)) <= 3e-8) {
						t.Errorf("%s %v at %+v: %.10f, at the first %.10f", date, q, g.Site(i, j), g.At(i, j), g.At(i, 0))
					}
				}
			}
		}
	}
}

// The horizon is the caller's, and only what is seen depends on it.
func TestGridHorizon(t *testing.T) {
	e := gridElements(t, "2027-08-02")
	area := Area{South: -60, North: 60, West: -180, East: 179, LatStep: 10, LonStep: 1}
	sum := func(q Quantity, h eclipse.Horizon) (s float64) {
		for _, v := range mustGrid(t, e, area, q, GridOptions{Options: eclipse.Options{Horizon: h}}).Values {
			s += v
		}
		return s
	}
	lifted, bare := sum(SeenObscuration, eclipse.RefractedUpperLimb), sum(SeenObscuration, eclipse.Centre)
	under := sum(Obscuration, eclipse.RefractedUpperLimb)
	if !(bare < lifted && lifted < under) {
		t.Errorf("seen %.2f without and %.2f with refraction, %.2f without a horizon: want them to grow", bare, lifted, under)
	}
	if got := sum(Obscuration, eclipse.Centre); got != under {
		t.Errorf("obscuration without a horizon goes from %v to %v with the horizon", under, got)
	}
}

func TestGridOf(t *testing.T) {
	e := gridElements(t, "2027-08-02")
	area := Area{South: 20, North: 50, West: -20, East: 60, LatStep: 5, LonStep: 5}
	var calls atomic.Int64
	g, err := GridOf(context.Background(), e, area, func(c *eclipse.Circumstances) float64 {
		calls.Add(1)
		return float64(c.C4.TT - c.C1.TT)
	}, GridOptions{Workers: 3})
	require.NoError(t, err)
	if n := calls.Load(); n != int64(g.Rows*g.Cols) || g.Name != "" {
		t.Errorf("%d calls for %d sites, name %q", n, g.Rows*g.Cols, g.Name)
	}
	for i, c := range circumstances(t, e, area) {
		if want := float64(c.C4.TT - c.C1.TT); g.Values[i] != want {
			t.Errorf("site %d: %v, want %v", i, g.Values[i], want)
		}
	}
}

func TestGridStops(t *testing.T) {
	e := gridElements(t, "2027-08-02")
	tired := errors.New("tired")
	for _, workers := range []int{1, 3} {
		ctx, cancel := context.WithCancelCause(context.Background())
		var calls atomic.Int64
		g, err := GridOf(ctx, e, Earth(2), func(*eclipse.Circumstances) float64 {
			if calls.Add(1) == 100 {
				cancel(tired)
			}
			return 0
		}, GridOptions{Workers: workers})
		if g != nil || !errors.Is(err, tired) {
			t.Errorf("%d workers: %v %v, want the cause", workers, g, err)
		}
		if n := calls.Load(); n > int64(180*(workers+1)) {
			t.Errorf("%d workers: %d sites after the end, want a row each", workers, n)
		}
		_, err = NewGrid(ctx, e, Earth(2), Obscuration, GridOptions{Workers: workers})
		if !errors.Is(err, tired) {
			t.Errorf("%d workers, at the start: %v, want the cause", workers, err)
		}
	}
}

func TestGridRefuses(t *testing.T) {
	e := gridElements(t, "2027-08-02")
	ctx := context.Background()
	if _, err := NewGrid(ctx, e, Earth(10), Quantity(99), GridOptions{}); err == nil {
		t.Error("a quantity that does not exist")
	}
	if _, err := GridOf(ctx, e, Earth(10), nil, GridOptions{}); err == nil {
		t.Error("no function")
	}
	if _, err := NewGrid(ctx, e, Earth(10), Obscuration, GridOptions{Options: eclipse.Options{Horizon: 99}}); err == nil {
		t.Error("no such horizon")
	}
	var bad *eclipse.ElementsError
	if _, err := NewGrid(ctx, nil, Earth(10), Obscuration, GridOptions{}); !errors.As(err, &bad) {
		t.Errorf("no elements: %v", err)
	}
	var wrong *sun.RangeError
	if _, err := NewGrid(ctx, e, Area{}, Obscuration, GridOptions{}); !errors.As(err, &wrong) || wrong.Field != "Area.LatStep" {
		t.Errorf("no steps: %v", err)
	}
}
