package fit

import (
	"context"
	"errors"
	"math"
	"time"
)

// A Segment is a stretch of a log between two moves of the clock.
type Segment struct {
	Samples []Sample // those of the stretch, in any order
	// Moved is by how much the clock was moved where the stretch begins, as far as the
	// stamps tell, s, forward positive; NaN where they do not. Zero for the first.
	Moved float64
}

// A SegmentClock is what one stretch of a log says of the clock as it then was.
type SegmentClock struct {
	From, To time.Time // the first stamp and the last
	// Clock is nil where the stretch cannot tell; Refusal says why.
	Clock   *Result
	Refusal *Refusal
}

// Segments fits the stretches of a log between which the clock was moved, each for
// itself: what was before a step and what came after have offsets of their own. A stretch
// that cannot tell by itself is asked once more with the clock of the best one, moved by what
// the stamps show of the steps between, so that its eclipse is looked for within ten
// minutes of there. The result is that of the stretch that tells its offset best, nil where
// none does; then the error is the refusal of the stretch with most samples. A stretch of
// one flank of the eclipse is told less well than the whole would be, and says so by its
// interval.
func Segments(ctx context.Context, segments []Segment, c Curve, opt Options) (*Result, []SegmentClock, error) {
	out := make([]SegmentClock, len(segments))
	best := -1
	var longest error = &Refusal{Reason: NoSamples, Detail: "there is no stretch"}
	most := -1
	for i, s := range segments {
		if n := len(s.Samples); n > 0 {
			out[i].From, out[i].To = s.Samples[0].Time, s.Samples[n-1].Time
		}
		r, err := Clock(ctx, s.Samples, c, opt)
		switch {
		case errors.As(err, &out[i].Refusal):
			if len(s.Samples) > most {
				most, longest = len(s.Samples), err
			}
		case err != nil:
			return nil, nil, err
		default:
			out[i].Clock = r
			if best < 0 || halfWidth(r.CI95) < halfWidth(out[best].Clock.CI95) {
				best = i
			}
		}
	}
	if best < 0 {
		return nil, out, longest
	}
	for i, s := range segments {
		expected := out[best].Clock.Offset + moved(segments, best, i)
		if out[i].Clock != nil || math.IsNaN(expected) {
			continue
		}
		r, err := near(ctx, s.Samples, expected, c, opt)
		switch no := (*Refusal)(nil); {
		case errors.As(err, &no):
		case err != nil:
			return nil, nil, err
		default:
			out[i].Clock, out[i].Refusal = r, nil
		}
	}
	return out[best].Clock, out, nil
}

// moved is by how much the clock of one stretch is ahead of that of another.
func moved(segments []Segment, from, to int) (sum float64) {
	for i := from + 1; i <= to; i++ {
		sum += segments[i].Moved
	}
	for i := to + 1; i <= from; i++ {
		sum -= segments[i].Moved
	}
	return sum
}

// near fits a log whose clock is known to some minutes.
func near(ctx context.Context, samples []Sample, expected float64, c Curve, opt Options) (*Result, error) {
	by := time.Duration(math.Round(expected) * float64(time.Second))
	set := make([]Sample, len(samples))
	for i, s := range samples {
		set[i] = s
		set[i].Time = s.Time.Add(-by)
	}
	opt.Search = rightClock * time.Second
	r, err := Clock(ctx, set, c, opt)
	if err == nil {
		r.ahead(by)
	}
	return r, err
}

// ahead puts back what was taken from the stamps before the fit.
func (r *Result) ahead(by time.Duration) {
	r.move(by.Seconds())
	for i := range r.Points {
		r.Points[i].Stamp = r.Points[i].Stamp.Add(by)
	}
	for i := range r.Contacts {
		r.Contacts[i].Stamp = r.Contacts[i].Stamp.Add(by)
	}
	for i := range r.Segments {
		half := &r.Segments[i]
		half.From, half.To = half.From.Add(by), half.To.Add(by)
		half.Clock.move(by.Seconds())
	}
}

func halfWidth(interval [2]float64) float64 { return math.Abs(interval[1]-interval[0]) / 2 }
