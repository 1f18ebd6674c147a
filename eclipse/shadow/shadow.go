package shadow

import (
	"math"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun/timescale"
)

const deg = math.Pi / 180 // radians in a degree

// A Shadow is the shadow of one eclipse on the ground. Make one with New; it is
// safe for concurrent use.
type Shadow struct {
	prep     *eclipse.Prepared
	elements eclipse.Elements
	rates    eclipse.Elements // the polynomials' derivatives, per hour
	lag      float64          // the Earth's turn in Delta T, degrees
	greatest eclipse.Greatest
	global   Global
}

// earthTurn is the Earth's turn in degrees a second of UT1 (IAU 2000 Resolution B1.8).
const earthTurn = 1.00273781191135448 * 360 / 86400

// New makes the shadow of an eclipse ready. Options.Scale gives Delta T, which
// decides on which meridians the shadow falls; Options.Horizon is left unused,
// since paths end where the Sun's centre stands in the horizon. The error is an
// *eclipse.ElementsError, or says what is wrong with the options.
func New(e *eclipse.Elements, opt eclipse.Options) (*Shadow, error) {
	p, err := eclipse.Prepare(e, opt)
	if err != nil {
		return nil, err
	}
	s := prepare(p)
	s.global = s.circumstances()
	return s, nil
}

// prepare does without what takes long.
func prepare(p *eclipse.Prepared) *Shadow {
	s := &Shadow{prep: p, elements: *p.Elements(), greatest: p.Elements().Greatest()}
	s.lag = earthTurn * p.Options().Scale.DeltaT(s.elements.T0).Seconds
	for _, q := range []struct{ from, to *eclipse.Poly }{
		{&s.elements.X, &s.rates.X}, {&s.elements.Y, &s.rates.Y}, {&s.elements.D, &s.rates.D}, {&s.elements.Mu, &s.rates.Mu},
		{&s.elements.L1, &s.rates.L1}, {&s.elements.L2, &s.rates.L2},
		{&s.elements.TanF1, &s.rates.TanF1}, {&s.elements.TanF2, &s.rates.TanF2},
	} {
		*q.from = append(eclipse.Poly(nil), *q.from...) // the caller may change his
		for i, c := range *q.from {
			if i > 0 {
				*q.to = append(*q.to, float64(i)*c)
			}
		}
	}
	return s
}

// hours from T0.
func (s *Shadow) hours(t timescale.TT) float64 { return float64(t-s.elements.T0) / 3600 }

// instant is the inverse of hours.
func (s *Shadow) instant(h float64) timescale.TT { return s.elements.T0 + timescale.TT(h*3600) }

// A moment is axis and Earth at an instant: Earth equatorial radii, radians, hours.
type moment struct {
	t            float64
	x, y, dx, dy float64
	sind, cosd   float64
	dd           float64 // rate of the declination
	μ, dμ        float64 // Greenwich hour angle of the axis on the real Earth, and its rate
	a, κ         float64 // of the quadric, see below
	pole         float64 // half axis of the Earth's outline along y
	l1, l2       float64
	f1, f2       float64
	dl1, dl2     float64
	df1, df2     float64
}

// at evaluates the elements at t hours from T0.
func (s *Shadow) at(t float64) (m moment) {
	e, r := &s.elements, &s.rates
	m.t = t
	m.x, m.y, m.dx, m.dy = e.X.At(t), e.Y.At(t), r.X.At(t), r.Y.At(t)
	m.sind, m.cosd = math.Sincos(e.D.At(t) * deg)
	m.dd = r.D.At(t) * deg
	m.μ, m.dμ = (e.Mu.At(t)-s.lag)*deg, r.Mu.At(t)*deg
	m.l1, m.l2, m.dl1, m.dl2 = e.L1.At(t), e.L2.At(t), r.L1.At(t), r.L2.At(t)
	m.f1, m.f2, m.df1, m.df2 = e.TanF1.At(t), e.TanF2.At(t), r.TanF1.At(t), r.TanF2.At(t)
	m.outline()
	return m
}
