package ephemeris

import (
	"errors"
	"fmt"
	"math"

	"example.org/noonfall/sun/timescale"
)

// Find reduces the eclipse at the new Moon nearest to an instant. T0 of the
// elements is the whole TT hour nearest to greatest eclipse.
//
// Errors: [ErrNoEclipse] when the penumbra misses the Earth at that new Moon,
// and those of [Reduce]. The source must cover the way from near to the new
// Moon, up to 15 days, and Span hours (and at least 2.5 h) either side of T0.
func Find(src Source, near timescale.TT, opt Options) (*Reduction, error) {
	if err := opt.filled().validate(); err != nil {
		return nil, err
	}
	conjunction, err := newMoon(src, near)
	if err != nil {
		return nil, err
	}
	closest, γ, err := leastDistance(src, conjunction, opt.filled())
	if err != nil {
		return nil, err
	}
	return eclipseAt(src, closest, γ, opt)
}

// eclipseAt reduces the eclipse whose axis comes nearest, to γ, at the instant
// closest, or returns an ErrNoEclipse.
func eclipseAt(src Source, closest timescale.TT, γ float64, opt Options) (*Reduction, error) {
	if γ > farthestAxis {
		return nil, noEclipse(closest, γ)
	}
	const hour = 3600
	r, err := Reduce(src, timescale.TT(hour*math.Round(float64(closest)/hour)), opt)
	if err != nil {
		return nil, err
	}
	if g := r.Elements.Greatest(); !(g.Magnitude > 0) {
		return nil, noEclipse(closest, γ)
	}
	return r, nil
}

// farthestAxis is beyond any axis of an eclipse: one Earth radius and the
// widest penumbra, 0.573 (J. Meeus, Astronomical Algorithms, 1998, p. 381:
// 1.5433 + u, u at most 0.0325).
const farthestAxis = 1.6

func noEclipse(t timescale.TT, γ float64) error {
	return fmt.Errorf("%w: on %s the axis passes %.3f Earth radii from the Earth's centre", ErrNoEclipse, calendarDay(t), γ)
}

// errNoNewMoon cannot come from real positions.
var errNoNewMoon = errors.New("ephemeris: Sun and Moon never come to the same right ascension")

// newMoon returns the instant nearest to t at which Sun and Moon have the same
// right ascension, to a second.
func newMoon(src Source, t timescale.TT) (timescale.TT, error) {
	const gain = 360 / 29.530589 / 86400 // degrees a second: the mean synodic month, Meeus 1998, p. 349
	for range 50 {
		sky, err := skyAt(src, t)
		if err != nil {
			return 0, err
		}
		step := math.Remainder(sky.Sun.RA-sky.Moon.RA, 360) / gain
		t += timescale.TT(step)
		if math.Abs(step) < 1 {
			return t, nil
		}
	}
	return 0, errNoNewMoon
}

// skyAt asks the source and does not believe it blindly.
func skyAt(src Source, t timescale.TT) (Sky, error) {
	sky, err := src.Sky(t)
	if err != nil {
		return Sky{}, err
	}
	return sky, sky.validate()
}

// leastDistance returns the instant, to a second, at which the axis comes
// nearest to the Earth's centre, and how near, Earth radii, by golden section
// over 2.5 h either side of the conjunction: the axis crosses the meridian of
// its least distance within 1.4 h of the conjunction, at 0.5 Earth radii an
// hour along a path tilted by up to 27 degrees and 1.6 Earth radii off.
func leastDistance(src Source, conjunction timescale.TT, opt Options) (timescale.TT, float64, error) {
	golden := (math.Sqrt(5) - 1) / 2
	var failed error
	distance := func(hours float64) float64 {
		s, err := castAt(src, conjunction, hours, opt.K1, opt.K2)
		if err != nil {
			failed = err
		}
		return math.Hypot(s.X, s.Y)
	}
	a, b := -2.5, 2.5
	p, q := b-golden*(b-a), a+golden*(b-a)
	dp, dq := distance(p), distance(q)
	for b-a > 1.0/3600 && failed == nil {
		if dp < dq {
			b, q, dq = q, p, dp
			p = b - golden*(b-a)
			dp = distance(p)
		} else {
			a, p, dp = p, q, dq
			q = a + golden*(b-a)
			dq = distance(q)
		}
	}
	return conjunction + timescale.TT((a+b)/2*3600), math.Min(dp, dq), failed
}
