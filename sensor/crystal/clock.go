package crystal

import (
	"math"
	"time"
)

const (
	ppm  = 1e-6
	year = 365.25 * 86400 // s
)

// A Clock is a crystal in a temperature history, checked. Make it with New. It
// keeps a copy of the points, never changes and may be shared.
type Clock struct {
	crystal Crystal
	path    *path
	tempU   float64 // kelvin, of temperature less turnover: the two act as one
}

// New checks a crystal and a history: *RangeError, *OrderError or ErrNoHistory.
func New(c Crystal, h History) (*Clock, error) {
	if err := c.validate(); err != nil {
		return nil, err
	}
	p, err := newPath(h, c.TurnoverC)
	if err != nil {
		return nil, err
	}
	return &Clock{crystal: c, path: p, tempU: math.Hypot(c.TurnoverU, h.U)}, nil
}

// A Drift is what a clock has gained since it was set.
type Drift struct {
	Seconds float64 // gained; negative where the clock has lost and is slow
	// SecondsU is the standard uncertainty of Seconds, all causes. Each part below is
	// one unknown, added up over the whole history before it is squared.
	SecondsU float64
	// OffsetU, CurvatureU, TemperatureU and AgeingU are the parts, seconds. The third is
	// that of turnover and thermometer together.
	OffsetU, CurvatureU, TemperatureU, AgeingU float64
}

// Drift returns the seconds that a clock set right at one instant has gained by
// another. An instant outside the history is a *SpanError, one earlier than the
// setting or a century later a *RangeError.
func (c *Clock) Drift(set, at time.Time) (Drift, error) {
	if err := c.admits(set, at); err != nil {
		return Drift{}, err
	}
	return c.drift(set, at), nil
}

func (c *Clock) admits(set, at time.Time) error {
	if err := c.path.covers(set); err != nil {
		return err
	}
	if err := c.path.covers(at); err != nil {
		return err
	}
	rows := []row{{"time since the setting, s", at.Sub(set).Seconds(), 0, century}}
	if m := c.crystal.Measured; !m.IsZero() {
		rows = append(rows,
			row{"setting less Crystal.Measured, s", set.Sub(m).Seconds(), -century, century},
			row{"instant less Crystal.Measured, s", at.Sub(m).Seconds(), -century, century})
	}
	return checked(rows...)
}

// aged is the integral over the interval of the years since the offset was measured, s.
func (c *Clock) aged(set, at time.Time) float64 {
	from := 0.0
	if m := c.crystal.Measured; !m.IsZero() {
		from = set.Sub(m).Seconds()
	}
	h := at.Sub(set).Seconds()
	return h * (from + h/2) / year
}

// drift works out the interval's moments and combines them. With d the kelvin
// from the turnover, whose unknown error is normal with a standard deviation u,
// the lost k ∫d² has, about its nominal value and exactly,
//
//	turnover:  k² [4 (∫d)² u² + 3 (∫1)² u⁴]
//	curvature: uk² [(∫d² + u² ∫1)² + 4 (∫d)² u² + 2 (∫1)² u⁴]
//
// as mean squares. At the turnover the first-order term is nothing and the second
// is what is left (JCGM 100:2008, 5.1.2, note).
func (c *Clock) drift(set, at time.Time) Drift {
	m, aged := c.path.between(set, at), c.aged(set, at)
	k := c.crystal
	u2 := c.tempU * c.tempU
	first, second := 4*m.d*m.d*u2, m.one*m.one*u2*u2
	d := Drift{
		Seconds:      ppm * (k.OffsetPPM*m.one - k.Curvature*m.dd + k.AgeingPPM*aged),
		OffsetU:      ppm * k.OffsetPPMU * m.one,
		CurvatureU:   ppm * k.CurvatureU * math.Sqrt((m.dd+u2*m.one)*(m.dd+u2*m.one)+first+2*second),
		TemperatureU: ppm * k.Curvature * math.Sqrt(first+3*second),
		AgeingU:      ppm * k.AgeingPPMU * math.Abs(aged),
	}
	d.SecondsU = math.Sqrt(d.OffsetU*d.OffsetU + d.CurvatureU*d.CurvatureU + d.TemperatureU*d.TemperatureU + d.AgeingU*d.AgeingU)
	return d
}
