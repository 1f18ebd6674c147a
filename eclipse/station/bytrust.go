package station

import (
	"context"
	"math"
)

// doubtful is how far from right a clock that was set in this way can hardly be, s: infinite
// where it may be anywhere. Common practice, no source.
func (c ClockSet) doubtful() float64 {
	const times, least, most = 10, 60, 600
	if d := least + times*c.U(); d <= most {
		return d
	}
	return math.Inf(1)
}

// byTrust looks for a mistake with the site where the light has a clock minutes off that was
// set by a network, a satellite or the like: as dawn and dusk cannot tell a few degrees, and the
// eclipse fits here as well as there, it is the clock's word that tells. A swapped place is named
// where the eclipse fits there nearly as well, and the clock is right.
func (r *Report) byTrust(ctx context.Context, opt Options) error {
	most := r.Station.ClockSet.doubtful()
	if r.Misplaced != nil || r.Clock == nil || math.Abs(r.Clock.Offset-3600*r.Clock.ZoneH) <= most+2*r.Clock.OffsetU {
		return nil
	}
	const nearly = 0.5 // of the evidence; common practice, no source
	best := nearly * r.Clock.Evidence
	for _, s := range swaps {
		site, ok := s.of(r.Station.Site, trustedLeast)
		if !ok {
			continue
		}
		c, err := r.at(ctx, r.Elements, site, r.Samples, opt)
		if err != nil {
			return err
		}
		if c == nil || c.Evidence <= s.demand*best || math.Abs(c.Offset-3600*c.ZoneH) > most {
			continue
		}
		best = c.Evidence
		r.Misplaced = &Misplaced{What: s.what, Site: site, Clock: c}
	}
	return nil
}

// trustedLeast is how far a swapped place must lie from the one that is written, degrees: in
// half a degree the shadow runs for a minute.
const trustedLeast = 0.5
