package crystal

import (
	"errors"
	"fmt"
	"sort"
	"time"
)

// A Point is a temperature at an instant.
type Point struct {
	Time time.Time // when
	C    float64   // of the crystal, degrees Celsius, [-100, 150]
}

// A History is the temperature that the clock lives in: recorded, or foreseen.
// Between points it is a straight line. A single point stands for a constant
// temperature at all times. No points are refused.
type History struct {
	Points []Point // in order of time, no two at one instant
	// U is the standard uncertainty, kelvin, [0, 50], that all points share: the
	// thermometer's error, or how far the crystal is from it. Noise that is new with
	// every point averages out and does not belong here.
	U float64
}

// Constant is the history of a temperature in degrees Celsius that never changes.
func Constant(tempC float64) History { return History{Points: []Point{{C: tempC}}} }

// ErrNoHistory means that a History had no points. Use Constant for a guess.
var ErrNoHistory = errors.New("crystal: the history has no points; use Constant for a constant temperature")

// An OrderError says which point of a History is not later than the one before it.
type OrderError struct {
	Index int // of the later point, from 0
}

// Error names the point and what to do.
func (e *OrderError) Error() string {
	return fmt.Sprintf("crystal: point %d of the history is not later than the one before it: sort the points and drop repeats", e.Index)
}

// A SpanError says that an instant is not covered by the history. Give more
// points, or Constant: nothing is extrapolated.
type SpanError struct {
	At          time.Time // the instant that was asked for
	First, Last time.Time // what is covered
}

// Error names the instant and what the history covers.
func (e *SpanError) Error() string {
	return fmt.Sprintf("crystal: %s is outside what the history covers, %s to %s", e.At.Format(time.RFC3339),
		e.First.Format(time.RFC3339), e.Last.Format(time.RFC3339))
}

// century bounds every span, s, so that no time.Duration overflows.
const century = 36525 * 86400.0

// A path is a checked history with its integrals from the first point on.
type path struct {
	points []Point
	ts     []float64 // s after the first point
	sum    []moments
	least  float64 // degrees Celsius less the turnover
	most   float64
}

// moments are the integrals over time of d = T - turnover: of 1, d and d², in s, K s and K² s.
type moments struct{ one, d, dd float64 }

func (m moments) minus(o moments) moments { return moments{m.one - o.one, m.d - o.d, m.dd - o.dd} }
func (m moments) plus(o moments) moments  { return moments{m.one + o.one, m.d + o.d, m.dd + o.dd} }

// line is the moments of a straight line from d0 to d1 that takes h seconds.
func line(h, d0, d1 float64) moments {
	return moments{h, h * (d0 + d1) / 2, h * (d0*d0 + d0*d1 + d1*d1) / 3}
}

func newPath(h History, turnover float64) (*path, error) {
	if len(h.Points) == 0 {
		return nil, ErrNoHistory
	}
	if err := checked(row{"History.U", h.U, 0, 50}); err != nil {
		return nil, err
	}
	n := len(h.Points)
	p := &path{points: make([]Point, n), ts: make([]float64, n), sum: make([]moments, n)}
	for i, q := range h.Points {
		if err := checked(row{"Point.C", q.C, -100, 150}); err != nil {
			return nil, err
		}
		q.C -= turnover
		p.points[i] = q
		p.ts[i] = q.Time.Sub(h.Points[0].Time).Seconds()
		if i == 0 {
			p.least, p.most = q.C, q.C
			continue
		}
		if !(p.ts[i] > p.ts[i-1]) {
			return nil, &OrderError{Index: i}
		}
		p.least, p.most = min(p.least, q.C), max(p.most, q.C)
		p.sum[i] = p.sum[i-1].plus(line(p.ts[i]-p.ts[i-1], p.points[i-1].C, q.C))
	}
	return p, checked(row{"length of the history, s", p.ts[n-1], 0, century})
}

// covers returns a *SpanError unless the history says something about t.
func (p *path) covers(t time.Time) error {
	first, last := p.points[0].Time, p.points[len(p.points)-1].Time
	if len(p.points) > 1 && (t.Before(first) || t.After(last)) {
		return &SpanError{At: t, First: first, Last: last}
	}
	return nil
}

// between is the moments from instant a to b, both covered. The difference of two
// long sums keeps ten digits and more, which is microseconds in a century.
func (p *path) between(a, b time.Time) moments {
	if len(p.points) == 1 {
		d := p.points[0].C
		return line(b.Sub(a).Seconds(), d, d)
	}
	return p.upTo(b).minus(p.upTo(a))
}

func (p *path) upTo(t time.Time) moments {
	x := t.Sub(p.points[0].Time).Seconds()
	i := max(1, min(sort.SearchFloat64s(p.ts, x), len(p.ts)-1))
	h, part := p.ts[i]-p.ts[i-1], x-p.ts[i-1]
	d0 := p.points[i-1].C
	d1 := d0 + (p.points[i].C-d0)*part/h
	return p.sum[i-1].plus(line(part, d0, d1))
}
