package fit

import (
	"context"
	"errors"
	"fmt"
	"math"
)

// A ChannelClock is what one light channel of a logger says of its clock.
type ChannelClock struct {
	// Clock is nil where the channel cannot tell; Refusal says why.
	Clock   *Result
	Refusal *Refusal
}

// Channels fits the light channels of one logger: sensors of other ranges or colours that
// share a clock, a card and a sky. Since the sky's noise is the same in all, two channels
// are not twice the evidence: the result is that of the channel that tells the offset best,
// and the others vouch for it. Where the next best is further off than their intervals
// allow, the result's interval is stretched over both and a warning says so. The error is
// the refusal of the first channel where none tells anything.
func Channels(ctx context.Context, channels [][]Sample, c Curve, opt Options) (*Result, []ChannelClock, error) {
	out := make([]ChannelClock, len(channels))
	var best *Result
	var first error = &Refusal{Reason: NoSamples, Detail: "there is no channel"}
	for i, s := range channels {
		r, err := Clock(ctx, s, c, opt)
		switch {
		case errors.As(err, &out[i].Refusal):
			if i == 0 {
				first = err
			}
			continue
		case err != nil:
			return nil, nil, err
		}
		out[i].Clock = r
		if best == nil || halfWidth(r.CI95) < halfWidth(best.CI95) {
			best = r
		}
	}
	if best == nil {
		return nil, out, first
	}
	kept := *best
	for i := range out {
		if other := out[i].Clock; other != nil && other != best {
			kept.vouch(i, other)
		}
	}
	return &kept, out, nil
}

// vouch stretches the interval over that of another channel which contradicts it.
func (r *Result) vouch(channel int, other *Result) {
	apart := other.Offset - r.Offset
	if math.Abs(apart) <= halfWidth(r.CI95)+halfWidth(other.CI95) {
		return
	}
	r.CI95[0], r.CI95[1] = math.Min(r.CI95[0], other.CI95[0]), math.Max(r.CI95[1], other.CI95[1])
	r.LightCI95[0], r.LightCI95[1] = math.Min(r.LightCI95[0], other.LightCI95[0]), math.Max(r.LightCI95[1], other.LightCI95[1])
	r.OffsetU, r.LightU = math.Hypot(r.OffsetU, apart/2), math.Hypot(r.LightU, apart/2)
	r.Warnings = append(r.Warnings, fmt.Sprintf("light channel %d has the clock %+.1f s from this, which the two intervals do not allow: both are in the one given", channel+1, apart))
}
