package station

import "math"

// doubtMin are minutes by which the clock that the fit found and the one that dawn and
// dusk show may differ: hills, walls and cloud shift the light's noon by half an hour
// (common practice, no source).
const doubtMin = 60

// doubtByNoon warns where the fit's offset is not the one that dawn and dusk show. The
// search over zones can take the course of a day for an eclipse.
func (r *Report) doubtByNoon() {
	s := r.Health.Sky
	if s == nil || s.NoonOffsetMin == nil {
		return
	}
	if apart := r.Clock.Offset/60 - *s.NoonOffsetMin; math.Abs(apart) > doubtMin {
		r.warn("the fit's offset is %s from what dawn and dusk show of the clock: do not believe it before the log has been looked at by eye", lasting(60*math.Abs(apart)))
	}
}
