package ephemeris

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun/timescale"
)

// The forms in which elements are printed, and what each costs. Positions are
// half-hourly, elements are looked at every tenth of an hour.
func TestReduceFollowsPositions(t *testing.T) {
	for _, form := range []struct {
		name     string
		deg      degrees
		min, max float64 // metres: the worst of 452 eclipses lies between; measured, and rounded outwards
	}{
		{"ours", standard, 0.04, 0.06},
		{"the almanacs', cubics and cones of one angle", degrees{xy: 3, d: 3, l: 3, mu: 2, tan: 0}, 1.3, 1.5},
		{"as printed in the Canon", degrees{xy: 3, d: 2, l: 2, mu: 1, tan: 0}, 2.5, 2.6},
	} {
		t.Run(form.name, func(t *testing.T) {
			var worst Residual
			condition := 0.0
			for _, p := range passages(t) {
				r, err := reduce(p.table(t), p.t0, Options{}, form.deg)
				require.NoError(t, err)
				res, err := Compare(r.Elements, p.table(t), 0.1)
				require.NoError(t, err)
				worst = worst.wider(res)
				condition = max(condition, r.Condition)
				if r.Elements.Date != p.date {
					t.Errorf("greatest eclipse on %s, want %s (the file of positions)", r.Elements.Date, p.date)
				}
			}
			t.Logf("%+v, condition %.2f", worst, condition)
			if got := worst.Largest(); !(got >= form.min && got <= form.max) {
				t.Errorf("worst of 452 is %.3f m from the positions, want %g to %g", got, form.min, form.max)
			}
			if !(worst.Edge >= worst.Largest()) {
				t.Errorf("the bound %.3f m on an edge is below its part %.3f m", worst.Edge, worst.Largest())
			}
			if !(condition < 3) {
				t.Errorf("condition number %.2f, want below 3", condition)
			}
		})
	}
}

func (r Residual) wider(s Residual) Residual {
	return Residual{
		Axis: max(r.Axis, s.Axis), Direction: max(r.Direction, s.Direction),
		Penumbra: max(r.Penumbra, s.Penumbra), Umbra: max(r.Umbra, s.Umbra), Edge: max(r.Edge, s.Edge),
	}
}

// Elements that miss by a known amount must be reported to miss by that amount:
// a check on the check.
func TestCompareSeesWhatIsWrong(t *testing.T) {
	p := passages(t)[300]
	table := p.table(t)
	const metre = 1 / (EarthRadius * 1000)
	for _, c := range []struct {
		name  string
		spoil func(r *Reduction)
		of    func(Residual) float64
	}{
		{"x", func(r *Reduction) { r.Elements.X[0] += 50 * metre }, func(r Residual) float64 { return r.Axis }},
		{"y", func(r *Reduction) { r.Elements.Y[0] -= 50 * metre }, func(r Residual) float64 { return r.Axis }},
		{"d", func(r *Reduction) { r.Elements.D[0] += 50 * metre / deg }, func(r Residual) float64 { return r.Direction }},
		{"mu", func(r *Reduction) { r.Elements.Mu[0] += 360 - 50*metre/deg }, func(r Residual) float64 { return r.Direction }},
		{"l1", func(r *Reduction) { r.Elements.L1[0] += 50 * metre }, func(r Residual) float64 { return r.Penumbra }},
		{"tan f2", func(r *Reduction) { r.Elements.TanF2[0] += 50 * metre }, func(r Residual) float64 { return r.Umbra }},
	} {
		r, err := Reduce(table, p.t0, Options{})
		require.NoError(t, err)
		c.spoil(r)
		res, err := Compare(r.Elements, table, 0.5)
		require.NoError(t, err)
		if got := c.of(res); !(math.Abs(got-50) <= 0.5) { // its own residual on top
			t.Errorf("%s moved by 50 m: reported as %.2f m", c.name, got)
		}
	}
}

func TestReduceOptions(t *testing.T) {
	p := passages(t)[300]
	table := p.table(t)
	whole, err := Reduce(table, p.t0, Options{})
	require.NoError(t, err)
	narrow, err := Reduce(table, p.t0, Options{Span: 2, Step: 0.25, K1: 0.272399, K2: 0.272399})
	require.NoError(t, err)
	if !(narrow.Residual.Largest() < whole.Residual.Largest()) {
		t.Errorf("over 2 h %.3f m, over 3.5 h %.3f m: a shorter span must fit better",
			narrow.Residual.Largest(), whole.Residual.Largest())
	}
	// the same shadow by the elements' own change of radius; its formula keeps
	// 1e-5 of the change
	other := whole.Elements.WithRadii(0.272399, 0.272399)
	for _, tt := range []float64{-2, 0, 2} {
		if !(math.Abs(narrow.Elements.L1.At(tt)-other.L1.At(tt)) <= 2e-8 && math.Abs(narrow.Elements.L2.At(tt)-other.L2.At(tt)) <= 2e-8) {
			t.Errorf("%+g h: l1, l2 = %.9f, %.9f, want %.9f, %.9f (WithRadii)", tt,
				narrow.Elements.L1.At(tt), narrow.Elements.L2.At(tt), other.L1.At(tt), other.L2.At(tt))
		}
	}
	for _, opt := range []Options{
		{Span: -1}, {Span: 7}, {Span: math.NaN()}, {Step: 3}, {Step: -0.5}, {K1: 0.3}, {K2: math.Inf(1)},
	} {
		if _, err := Reduce(table, p.t0, opt); !isRange(err) {
			t.Errorf("%+v: error %v, want a RangeError", opt, err)
		}
	}
	if _, err := Reduce(table, p.t0+3600, Options{}); !isRange(err) {
		t.Errorf("span past the end of the table: error %v, want a RangeError", err)
	}
}

func TestFindAgreesWithTheTable(t *testing.T) {
	for i, p := range passages(t) {
		if i%10 != 0 {
			continue
		}
		r, err := Find(p.table(t), p.t0, Options{})
		require.NoError(t, err, p.date)
		if r.Elements.T0 != p.t0 { // whole hours, exact
			t.Errorf("%s: T0 is %v, the file of positions has %v", p.date, r.Elements.T0, p.t0)
		}
	}
}

func TestFindNoEclipse(t *testing.T) {
	// 2027 has solar eclipses on 6 February and 2 August only (NASA/TP-2006-214141)
	eclipses := 0
	for month := range 12 {
		january := timescale.FromJulianDate(2461413, 0) // 2027 January 7, new Moon
		r, err := Find(LowPrecision{}, january+timescale.TT(29.53*86400*float64(month)), Options{})
		switch {
		case err == nil:
			eclipses++
			if d := r.Elements.Date; d != "2027-02-06" && d != "2027-08-02" {
				t.Errorf("an eclipse on %s", d)
			}
		case !errors.Is(err, ErrNoEclipse):
			t.Error(err)
		}
	}
	if eclipses != 2 {
		t.Errorf("%d eclipses in 2027, want 2", eclipses)
	}
}
