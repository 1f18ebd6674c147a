package fit

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"
)

// halves fits the log with the stamps after the step moved back, and gives the offsets before
// and after. The result's is that at the predicted maximum.
func (l *light) halves(ctx context.Context, samples []Sample, s *series, st *step, opt Options) (*Result, error) {
	even := *s
	even.samples, even.judged = slices.Clone(s.samples), slices.Clone(s.judged)
	for i := range even.samples {
		if even.samples[i].t > st.at {
			even.samples[i].t -= st.excess
		}
	}
	p, shift, err := l.near(ctx, &even, st.shift)
	if err != nil {
		return nil, err
	}
	r, err := p.report(&even, shift, opt)
	if err != nil {
		return nil, err
	}
	r.putBack(st)
	before, after := *r, *r
	u := st.unknown()
	before.widen((1 - st.middle()) * u)
	after.widen(st.middle() * u)
	after.move(st.excess)
	given := &before
	if st.at < r.Offset {
		given = &after
	}
	out := *given
	first, last := span(samples)
	out.Segments = []SegmentClock{{From: first, To: st.from, Clock: &before}, {From: st.to, To: last, Clock: &after}}
	way := "forward"
	if st.excess < 0 {
		way = "back"
	}
	out.Warnings = append(slices.Clone(r.Warnings), fmt.Sprintf("by the light the clock was set %s by %.0f s at %s UTC, where the stamps pause: the offset is that at the predicted maximum, and those before and after are given apart",
		way, math.Abs(st.excess), before.utc(st.from)))
	return &out, nil
}

// span is the first stamp and the last.
func span(samples []Sample) (first, last time.Time) {
	first, last = samples[0].Time, samples[0].Time
	for i := range samples {
		if t := samples[i].Time; t.Before(first) {
			first = t
		} else if t.After(last) {
			last = t
		}
	}
	return first, last
}

// unknown is the standard uncertainty of by how much the clock was moved, s. Besides what the
// intervals beside it differ by: where the stamps lie elsewhere in the cadence than before, the
// logger ran on by itself, and only the rounding of two stamps to whole seconds is in doubt
// (JCGM 100, 4.3.7). Where they do not, it may be one that writes at full minutes, which has it
// to an interval either way, the less the likelier (a triangle, 4.3.9).
func (q *pause) unknown() float64 {
	const stamps, near = 0.41, 0.1
	if n := q.excess / q.usual; math.Abs(n-math.Round(n)) > near {
		return math.Hypot(q.spread, stamps)
	}
	return math.Hypot(q.spread, q.usual/math.Sqrt(6))
}

// putBack gives the stamps after a step back what was taken from them.
func (r *Result) putBack(st *step) {
	by := time.Duration(math.Round(st.excess * float64(time.Second)))
	later := func(t *time.Time) {
		if t.After(st.from) {
			*t = t.Add(by)
		}
	}
	for i := range r.Points {
		later(&r.Points[i].Stamp)
	}
	for i := range r.Contacts {
		later(&r.Contacts[i].Stamp)
	}
}

// move is the same clock, so many seconds further ahead.
func (r *Result) move(by float64) {
	r.Offset += by
	for _, ci := range []*[2]float64{&r.CI95, &r.LightCI95} {
		ci[0], ci[1] = ci[0]+by, ci[1]+by
	}
	r.ZoneH = zone(r.Offset)
}

// widen adds a standard uncertainty to that of the offset, s.
func (r *Result) widen(u float64) {
	r.OffsetU, r.LightU = math.Hypot(r.OffsetU, u), math.Hypot(r.LightU, u)
	for _, ci := range []*[2]float64{&r.CI95, &r.LightCI95} {
		ci[0] = r.Offset - math.Hypot(r.Offset-ci[0], normal95*u)
		ci[1] = r.Offset + math.Hypot(ci[1]-r.Offset, normal95*u)
	}
}

// stretch widens the interval to what would hold before and after a pause, and says why where
// that is much.
func (r *Result) stretch(q *pause, lo, hi float64) {
	const much = 1.25
	was := halfWidth(r.CI95)
	for _, ci := range []*[2]float64{&r.CI95, &r.LightCI95} {
		ci[0], ci[1] = math.Min(ci[0], lo), math.Max(ci[1], hi)
	}
	by := halfWidth(r.CI95) / was
	r.OffsetU, r.LightU = by*r.OffsetU, by*r.LightU
	if by < much {
		return
	}
	odd := "further apart"
	if q.excess < 0 {
		odd = "closer together"
	}
	r.Warnings = append(r.Warnings, fmt.Sprintf("at %s UTC two stamps are %.0f s %s than usual, and the light does not rule out that the clock was set then: the interval covers the offsets before and after",
		r.utc(q.from), math.Abs(q.excess), odd))
}

// utc is the time of day of a stamp, by the offset.
func (r *Result) utc(stamp time.Time) string {
	return stamp.Add(-time.Duration(math.Round(r.Offset)) * time.Second).UTC().Format(time.TimeOnly)
}
