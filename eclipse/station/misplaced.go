package station

import (
	"context"
	"errors"
	"fmt"
	"math"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/fit"
)

// A Misplaced is a mistake in the station's description or in the log's dates that would
// explain the light better than what is written. It is named and never acted on.
type Misplaced struct {
	What string // "the sign of the longitude", "latitude and longitude exchanged", ...
	Site Site   // that the light fits
	Days int    // by which the log's dates are ahead of what the light fits
	// Clock is what the fit finds then.
	Clock *fit.Result
}

// String is a sentence for people.
func (m *Misplaced) String() string {
	if m.Days != 0 {
		return fmt.Sprintf("the light fits the eclipse if the log's dates are put back by %d days (%s?): its clock would be off by %.0f s", m.Days, m.What, m.Clock.Offset)
	}
	return fmt.Sprintf("the light fits the eclipse at %.4f, %.4f (%s?): the clock would be off by %.0f s there", m.Site.Lat, m.Site.Lon, m.What, m.Clock.Offset)
}

// swaps are the mistakes with a site that people make.
var swaps = []struct {
	what string
	swap func(Site) Site
}{
	{"the sign of the longitude", func(s Site) Site { s.Lon = -math.Remainder(s.Lon, 360); return s }},
	{"the sign of the latitude", func(s Site) Site { s.Lat = -s.Lat; return s }},
	{"latitude and longitude exchanged", func(s Site) Site { s.Lat, s.Lon = math.Remainder(s.Lon, 360), s.Lat; return s }},
	{"latitude and longitude exchanged, and a sign", func(s Site) Site { s.Lat, s.Lon = -math.Remainder(s.Lon, 360), s.Lat; return s }},
	{"latitude and longitude exchanged, and a sign", func(s Site) Site { s.Lat, s.Lon = math.Remainder(s.Lon, 360), -s.Lat; return s }},
}

// What a mistake must do to be named. Common practice, no source.
const (
	misplacedSearch = 10 * time.Minute // a clock that is right to minutes there
	misplacedMore   = 60.0             // squared deviations above what is written explains
	mostDays        = 400              // of a wrong date: a year, and some days
)

// misplaced tries the usual mistakes where the light does not fit, or fits only with a
// clock that is wrong by hours: a place further along the path looks like another hour.
func (r *Report) misplaced(ctx context.Context, opt Options) error {
	if r.Elements == nil || r.Clock != nil && math.Abs(r.Clock.Offset) <= misplacedSearch.Seconds() {
		return nil
	}
	best := misplacedMore
	if r.Clock != nil {
		best += r.Clock.Evidence
	}
	try := func(m Misplaced, samples []fit.Sample) error {
		c, err := r.at(ctx, m.Site, samples, opt)
		if err != nil || c == nil || c.Evidence <= best {
			return err
		}
		best, m.Clock = c.Evidence, c
		r.Misplaced = &m
		return nil
	}
	for _, s := range swaps {
		site := s.swap(r.Station.Site)
		if site == r.Station.Site || !(math.Abs(site.Lat) <= 90) {
			continue
		}
		if err := try(Misplaced{What: s.what, Site: site}, r.Samples); err != nil {
			return err
		}
	}
	if days := r.daysOff(); days != 0 {
		moved := make([]fit.Sample, len(r.Samples))
		for i, s := range r.Samples {
			moved[i] = s
			moved[i].Time = s.Time.AddDate(0, 0, -days)
		}
		if err := try(Misplaced{What: "a wrong date, or day and month exchanged", Site: r.Station.Site, Days: days}, moved); err != nil {
			return err
		}
	}
	if r.Misplaced != nil {
		r.warn("%v", r.Misplaced)
	}
	return nil
}

// at fits a log as if it had been written at another site; nil where nothing fits.
func (r *Report) at(ctx context.Context, site Site, samples []fit.Sample, opt Options) (*fit.Result, error) {
	o, err := eclipse.NewObserver(r.Elements, site.Sun(), eclipse.Options{Scale: r.scale()})
	if err != nil {
		return nil, err
	}
	if o.Circumstances().Seen == eclipse.None {
		return nil, nil
	}
	c, err := newCurve(o, opt)
	if err != nil {
		return nil, err
	}
	f := opt.Fit
	f.Search = misplacedSearch
	clock, err := fit.Clock(ctx, samples, c, f)
	if errors.As(err, new(*fit.Refusal)) {
		return nil, nil
	}
	return clock, err
}

// daysOff is by how many whole days the middle of the log lies from the eclipse, 0 where
// the log reaches the eclipse's day or is more than a year from it.
func (r *Report) daysOff() int {
	if len(r.Samples) == 0 {
		return 0
	}
	first, last := r.Samples[0].Time, r.Samples[len(r.Samples)-1].Time
	max := r.day.Add(12 * time.Hour)
	if k := r.Circumstances.Max; k.Exists {
		max = k.UTC
	}
	const half = 12 * time.Hour
	if first.Before(max.Add(half)) && last.After(max.Add(-half)) {
		return 0
	}
	days := int(math.Round(first.Add(last.Sub(first)/2).Sub(max).Hours() / 24))
	if days > mostDays || days < -mostDays {
		return 0
	}
	return days
}
