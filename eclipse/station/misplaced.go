package station

import (
	"context"
	"errors"
	"fmt"
	"math"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/fit"
)

// A Misplaced is a mistake in the station's description or in the log's dates that would
// explain the light better than what is written. It is named and never acted on.
type Misplaced struct {
	What string // "the sign of the longitude", "latitude and longitude exchanged", ...
	Site Site   // that the light fits
	Days int    // by which the log's dates are ahead of what the light fits
	// Eclipse is the day of the eclipse that the log is of, YYYY-MM-DD, where it is another
	// than the station's; else empty.
	Eclipse string
	// Clock is what the fit finds then; nil where dawn and dusk alone tell it.
	Clock *fit.Result

	zoneH float64 // of stamps in another zone, while mistakes are weighed
}

// String is a sentence for people.
func (m *Misplaced) String() string {
	if m.Clock == nil {
		return fmt.Sprintf("dawn and dusk fit the Sun at %.4f, %.4f (%s?), and not at the site that is written", m.Site.Lat, m.Site.Lon, m.What)
	}
	if m.Eclipse != "" {
		return fmt.Sprintf("the light fits the eclipse of %s (%s?): its clock would be off by %.0f s", m.Eclipse, m.What, m.Clock.Offset)
	}
	if m.Days != 0 {
		return fmt.Sprintf("the light fits the eclipse if the log's dates are put back by %d days (%s?): its clock would be off by %.0f s", m.Days, m.What, m.Clock.Offset)
	}
	return fmt.Sprintf("the light fits the eclipse at %.4f, %.4f (%s?): the clock would be off by %.0f s there", m.Site.Lat, m.Site.Lon, m.What, m.Clock.Offset)
}

// swaps are the mistakes with a site that people make, the simple ones first.
var swaps = []swap{
	{"the sign of the longitude", 1, func(lat, lon float64) (float64, float64) { return lat, -lon }},
	{"the sign of the latitude", 1, func(lat, lon float64) (float64, float64) { return -lat, lon }},
	{"latitude and longitude exchanged", 1, func(lat, lon float64) (float64, float64) { return lon, lat }},
	{"latitude and longitude exchanged, and a sign", 2, func(lat, lon float64) (float64, float64) { return -lon, lat }},
	{"latitude and longitude exchanged, and a sign", 2, func(lat, lon float64) (float64, float64) { return lon, -lat }},
}

type swap struct {
	what   string
	demand float64 // times the evidence that another mistake needs to give way to this one
	turn   func(lat, lon float64) (float64, float64)
}

// of is the site with the mistake put right; false where there is no such place, or it is
// nearer than so many degrees.
func (s swap) of(site Site, least float64) (Site, bool) {
	lon := math.Remainder(site.Lon, 360)
	to := site
	to.Lat, to.Lon = s.turn(site.Lat, lon)
	east := math.Abs(math.Remainder(to.Lon-lon, 360)) * math.Cos(site.Lat*math.Pi/180)
	return to, math.Abs(to.Lat) <= 90 && math.Hypot(to.Lat-site.Lat, east) > least
}

// What a mistake must do to be named. Common practice, no source.
const (
	misplacedSearch = 10 * time.Minute // a clock that is right to minutes there
	misplacedMore   = 60.0             // squared deviations above what is written explains
	misplacedVague  = 120.0            // s; what cannot tell the time cannot tell one eclipse from the next site's
	misplacedLeast  = 5.0              // degrees from the site that is written; nearer, light alone cannot tell
	mostDays        = 400              // of a wrong date: a year, and some days
)

// misplaced tries the usual mistakes: by the eclipse where its light does not fit, or fits
// only with a clock that is wrong by hours, since a place further along the path looks like
// another hour; and by dawn and dusk, where they are in the log.
func (r *Report) misplaced(ctx context.Context, opt Options) error {
	minutes := minuteMeans(r.Samples)
	ends := dayEnds(minutes, false)
	if turned := dayEnds(minutes, true); len(turned) > 0 {
		if is, _ := sunAt(turned, r.Station.Site, 0, r.scale()); is == fits {
			ends = turned // a sensor upside down, where it stands
		}
	}
	if err := r.byEclipse(ctx, opt, ends); err != nil {
		return err
	}
	r.byDaylight(ends)
	if err := r.byTrust(ctx, opt); err != nil {
		return err
	}
	if r.Misplaced != nil {
		r.warn("%v", r.Misplaced)
	}
	if r.Zone != nil {
		r.warn("%v", r.Zone)
	}
	return nil
}

// byEclipse looks for a mistake with which the light shows the eclipse.
func (r *Report) byEclipse(ctx context.Context, opt Options, ends []dayEnd) error {
	if r.Elements == nil || r.Clock != nil && math.Abs(r.Clock.Offset) <= misplacedSearch.Seconds() {
		return nil
	}
	best := misplacedMore
	if r.Clock != nil {
		best += r.Clock.Evidence
	}
	seen := r.Curve != nil // an eclipse that much alike where the site is written
	try := func(m Misplaced, demand float64, e *eclipse.Elements, samples []fit.Sample) error {
		c, err := r.at(ctx, e, m.Site, samples, opt)
		if err != nil || c == nil || c.Evidence <= demand*best || seen && m.Days == 0 && m.Eclipse == "" && !(c.OffsetU <= misplacedVague) {
			return err
		}
		best, m.Clock = c.Evidence, c
		r.Misplaced = &m
		return nil
	}
	for _, s := range swaps {
		site, ok := s.of(r.Station.Site, misplacedLeast)
		if !ok {
			continue
		}
		if is, _ := sunAt(ends, site, 0, r.scale()); is == misfits {
			continue // its Sun rises and sets at other hours
		}
		if err := try(Misplaced{What: s.what, Site: site}, s.demand, r.Elements, r.Samples); err != nil {
			return err
		}
	}
	for hours := -localHours; r.Clock == nil && hours <= localHours; hours++ {
		zone := math.Round(r.Station.Site.Lon/15-float64(r.readIn())/3600) + hours
		if zone = math.Remainder(zone, 24); zone == 0 {
			continue
		}
		if err := try(Misplaced{What: "the zone", Site: r.Station.Site, zoneH: zone}, 1, r.Elements, r.earlier(time.Duration(zone)*time.Hour)); err != nil {
			return err
		}
	}
	if err := r.onAnotherDay(opt, try); err != nil {
		return err
	}
	if m := r.Misplaced; m != nil && m.zoneH != 0 {
		r.Misplaced, r.Zone = nil, r.zoneOf(m.zoneH, false)
	}
	return nil
}

// localHours are the whole hours either side of the Sun's own zone that are tried.
const localHours = 2.0

// earlier are the samples with their stamps put back.
func (r *Report) earlier(by time.Duration) []fit.Sample {
	moved := make([]fit.Sample, len(r.Samples))
	for i, s := range r.Samples {
		moved[i] = s
		moved[i].Time = s.Time.Add(-by)
	}
	return moved
}

// onAnotherDay tries the log on the eclipse's day, and the eclipse of the log's day.
func (r *Report) onAnotherDay(opt Options, try func(Misplaced, float64, *eclipse.Elements, []fit.Sample) error) error {
	days := r.daysOff()
	if days == 0 {
		return nil
	}
	moved := r.earlier(time.Duration(days) * 24 * time.Hour)
	if days <= mostDays && days >= -mostDays {
		if err := try(Misplaced{What: "a wrong date, or day and month exchanged", Site: r.Station.Site, Days: days}, 1, r.Elements, moved); err != nil {
			return err
		}
	}
	if e := r.other(opt, days); e != nil {
		return try(Misplaced{What: "another eclipse than the station's", Site: r.Station.Site, Eclipse: e.Date}, 1, e, r.Samples)
	}
	return nil
}

// other is the eclipse of the log's own day, nil where there is none.
func (r *Report) other(opt Options, days int) *eclipse.Elements {
	if opt.Elements != nil {
		return nil
	}
	catalogue, err := canon.Load()
	if err != nil {
		return nil
	}
	e, err := catalogue.On(r.day.AddDate(0, 0, days))
	if err != nil || e == r.Elements {
		return nil
	}
	return e
}

// at fits a log as if it had been written at another site; nil where nothing fits.
func (r *Report) at(ctx context.Context, e *eclipse.Elements, site Site, samples []fit.Sample, opt Options) (*fit.Result, error) {
	o, err := eclipse.NewObserver(e, site.Sun(), eclipse.Options{Scale: r.scale()})
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
// the log reaches the eclipse's day.
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
	return int(math.Round(first.Add(last.Sub(first)/2).Sub(max).Hours() / 24))
}
