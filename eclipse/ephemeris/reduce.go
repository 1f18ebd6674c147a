package ephemeris

import (
	"errors"
	"fmt"
	"math"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun/timescale"
)

// Lunar radii of the Five Millennium Canon (NASA/TP-2006-214141, section 1.4),
// Earth radii. The first is the IAU's mean radius of 1982, hills included; the
// second lets the deepest valleys count, so that totality is not promised where
// a bead still shines.
const (
	DefaultK1 = 0.272488
	DefaultK2 = 0.272281
)

// Options tunes a reduction. The zero value is the recommended setting.
type Options struct {
	// Span is how many hours either side of T0 the polynomials are to hold, [0.5, 6].
	// Zero means 3.5: in 1901-2100 the penumbra never touches the Earth farther
	// than 3.50 h from the whole hour nearest to greatest eclipse.
	Span float64
	// Step is the time between samples, hours, [0.01, Span/2]. Zero means 0.5.
	Step float64
	// K1 and K2 are the lunar radii for penumbra and umbra, Earth radii,
	// [0.265, 0.28]. Zero means DefaultK1 and DefaultK2.
	K1, K2 float64
}

// filled returns the options with recommended settings in place of zeros.
func (o Options) filled() Options {
	for _, d := range []struct {
		field *float64
		value float64
	}{{&o.Span, 3.5}, {&o.Step, 0.5}, {&o.K1, DefaultK1}, {&o.K2, DefaultK2}} {
		if *d.field == 0 { // exactly: never set
			*d.field = d.value
		}
	}
	return o
}

func (o Options) validate() error {
	return errors.Join(
		within("Options.Span, hours", o.Span, 0.5, 6),
		within("Options.Step, hours", o.Step, 0.01, o.Span/2),
		validRadius("Options.K1", o.K1),
		validRadius("Options.K2", o.K2),
	)
}

// degrees of the polynomials.
type degrees struct{ xy, d, l, mu, tan int }

// standard keeps every polynomial within 0.06 m of positions over 3.5 h, and the
// edges of the shadow within 0.1 m: three degrees more in x and y than the almanacs
// print, since a graze of a few metres' depth asks for it, and cones that may open.
var standard = degrees{xy: 6, d: 3, l: 3, mu: 2, tan: 1}

// A Reduction is a set of elements and how well it follows the positions.
type Reduction struct {
	Elements  *eclipse.Elements // ready for eclipse.NewObserver
	Residual  Residual          // against the source that they were made from
	Condition float64           // largest condition number of the fits; 1 is perfect
}

// Reduce makes elements from positions: it samples the source over Span hours
// either side of t0, casts the shadow at each sample and draws least-squares
// polynomials through the results, of degree 6 in x and y, 3 in d, l1 and l2, 2 in mu
// and 1 in the tangents. It does not ask whether the shadow meets the Earth.
//
// Choose t0 near greatest eclipse; a whole hour is the custom. [Find] chooses.
// Elements.DeltaT, for information, is the library's own at t0.
//
// Errors: a [*RangeError] for options, for an instant that the source does not
// cover and for places that belong to no Sun or Moon; an [*eclipse.ElementsError]
// where the axis is more than three Earth radii off at t0.
func Reduce(src Source, t0 timescale.TT, opt Options) (*Reduction, error) {
	return reduce(src, t0, opt, standard)
}

func reduce(src Source, t0 timescale.TT, opt Options, deg degrees) (*Reduction, error) {
	opt = opt.filled()
	if err := opt.validate(); err != nil {
		return nil, err
	}
	s, err := sample(src, t0, opt)
	if err != nil {
		return nil, err
	}
	fit := fitter{span: opt.Span, hours: s.hours}
	origin := src.Origin(t0)
	e := &eclipse.Elements{
		T0: t0, Span: opt.Span,
		K1: opt.K1, K2: opt.K2,
		DeltaT: timescale.Scale{}.DeltaT(t0).Seconds,
		Source: origin.Name, TimeU: origin.TimeU,
	}
	for _, c := range []struct {
		poly   *eclipse.Poly
		degree int
		of     func(Shadow) float64
	}{
		{&e.X, deg.xy, func(s Shadow) float64 { return s.X }},
		{&e.Y, deg.xy, func(s Shadow) float64 { return s.Y }},
		{&e.D, deg.d, func(s Shadow) float64 { return s.D }},
		{&e.Mu, deg.mu, func(s Shadow) float64 { return s.Mu }},
		{&e.L1, deg.l, func(s Shadow) float64 { return s.L1 }},
		{&e.L2, deg.l, func(s Shadow) float64 { return s.L2 }},
		{&e.TanF1, deg.tan, func(s Shadow) float64 { return s.TanF1 }},
		{&e.TanF2, deg.tan, func(s Shadow) float64 { return s.TanF2 }},
	} {
		if *c.poly, err = fit.fit(c.degree, s.column(c.of)); err != nil {
			return nil, err
		}
	}
	e.Mu[0] = circle(e.Mu[0])
	e.Date = calendarDay(e.Greatest().TT)
	residual, err := Compare(e, src, opt.Step/2)
	if err != nil {
		return nil, err
	}
	return &Reduction{Elements: e, Residual: residual, Condition: fit.worst}, nil
}

// samples are shadows at hours from t0, with mu freed of its jumps at 360 degrees.
type samples struct {
	hours   []float64
	shadows []Shadow
}

// sample casts shadows every step from -span to +span, ends included.
func sample(src Source, t0 timescale.TT, opt Options) (*samples, error) {
	s := new(samples)
	n := int(math.Ceil(opt.Span/opt.Step - 1e-9)) // 3.5/0.1 must not become 36
	for i := -n; i <= n; i++ {
		t := opt.Span * float64(i) / float64(n)
		sh, err := castAt(src, t0, t, opt.K1, opt.K2)
		if err != nil {
			return nil, err
		}
		s.hours = append(s.hours, t)
		s.shadows = append(s.shadows, sh)
	}
	mu := s.column(func(s Shadow) float64 { return s.Mu })
	unwrap(mu)
	for i := range mu {
		s.shadows[i].Mu = mu[i]
	}
	return s, nil
}

func castAt(src Source, t0 timescale.TT, hours, k1, k2 float64) (Shadow, error) {
	sky, err := src.Sky(t0 + timescale.TT(hours*3600))
	if err != nil {
		return Shadow{}, fmt.Errorf("positions %+.2f h from T0: %w", hours, err)
	}
	sh, err := Cast(sky, k1, k2)
	if err != nil {
		return Shadow{}, fmt.Errorf("positions %+.2f h from T0: %w", hours, err)
	}
	return sh, nil
}

func (s *samples) column(of func(Shadow) float64) []float64 {
	c := make([]float64, len(s.shadows))
	for i, sh := range s.shadows {
		c[i] = of(sh)
	}
	return c
}

// calendarDay returns the day that a clock keeping TT shows.
func calendarDay(t timescale.TT) string {
	return timescale.UT1(t).Time().Format("2006-01-02") // both count from the same reading
}
