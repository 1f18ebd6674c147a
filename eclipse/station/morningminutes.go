package station

import (
	"cmp"
	"errors"
	"maps"
	"math"
	"slices"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/sensor"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// A morning is the minutes of one day with the Sun high enough and not past noon.
type morning struct {
	opt      MorningOptions
	observer *sun.Observer
	minutes  []minute
	total    int     // minutes of the log
	days     []int64 // of which it has a morning, in order
	middle   time.Time
	white    float64 // standard deviation of ln Value of a minute
}

// A minute is the samples of one, and where the Sun stood.
type minute struct {
	sight
	ln       float64 // mean of ln Value
	lnU      float64 // by noise and rounding, as the samples say
	least    float64
	greatest float64
	fate     Fate
}

// newMorning sorts the samples into minutes and the minutes into fates.
func newMorning(samples []MorningSample, site sun.Site, o MorningOptions) (*morning, error) {
	observer, err := sun.NewObserver(site, timescale.Scale{})
	if err != nil {
		return nil, err
	}
	m := &morning{opt: o, observer: observer}
	byDay := map[int64][]minute{}
	for _, group := range byMinute(samples) {
		m.total++
		q := gather(group)
		q.sight = m.sightAt(q.at)
		if !m.climbing(&q.sight) {
			continue
		}
		day := m.solarDay(q.at)
		byDay[day] = append(byDay[day], q)
	}
	m.days = slices.Sorted(maps.Keys(byDay))
	m.minutes = byDay[m.chosen(byDay)]
	if len(m.minutes) == 0 {
		return m, nil
	}
	m.middle = m.minutes[0].at.Add(m.minutes[len(m.minutes)-1].at.Sub(m.minutes[0].at) / 2)
	for i := range m.minutes {
		m.minutes[i].hours = m.minutes[i].at.Sub(m.middle).Hours()
	}
	return m, m.cutEclipse()
}

// climbing says whether it is morning: east of the meridian the Sun climbs, in either
// hemisphere.
func (m *morning) climbing(s *sight) bool {
	return s.alt >= m.opt.MinAlt && s.sun.Az > 0 && s.sun.Az < 180
}

// sightAt is where the Sun stands at an instant.
func (m *morning) sightAt(at time.Time) sight {
	s := m.opt.see(m.observer.Position(timescale.Scale{}.TT(at)))
	s.at = at
	return s
}

// solarDay counts the days of the site's own Sun.
func (m *morning) solarDay(t time.Time) int64 {
	return int64(math.Floor((float64(t.Unix()) + 240*m.observer.Site().Lon) / 86400))
}

// chosen is the day asked for, or the one with most minutes, the earlier of two.
func (m *morning) chosen(byDay map[int64][]minute) int64 {
	if !m.opt.Day.IsZero() {
		y, month, d := m.opt.Day.Date()
		return time.Date(y, month, d, 0, 0, 0, 0, time.UTC).Unix() / 86400
	}
	best, most := int64(0), 0
	for _, day := range m.days {
		if n := len(byDay[day]); n > most {
			best, most = day, n
		}
	}
	return best
}

// byMinute groups the samples by the minute of UTC, in order.
func byMinute(samples []MorningSample) [][]MorningSample {
	sorted := slices.SortedStableFunc(slices.Values(samples), func(a, b MorningSample) int { return cmp.Compare(a.Time.UnixNano(), b.Time.UnixNano()) })
	var out [][]MorningSample
	for i, s := range sorted {
		if i == 0 || sorted[i-1].Time.Unix()/60 != s.Time.Unix()/60 {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], s)
	}
	return out
}

// gather takes the mean of a minute's samples. One bound among them spoils it.
func gather(samples []MorningSample) minute {
	q := minute{least: math.Inf(1)}
	var seconds, variance float64
	n := float64(len(samples))
	for _, s := range samples {
		seconds += s.Time.Sub(samples[0].Time).Seconds() / n
		switch {
		case s.Status == sensor.Saturated:
			q.fate = SaturatedMinute
			continue
		case s.Status != sensor.OK || !(s.Value > 0 && s.Value <= math.MaxFloat64):
			q.fate = max(q.fate, DarkMinute)
			continue
		}
		q.ln += math.Log(s.Value) / n
		variance += s.ValueLnU * s.ValueLnU / n
		q.least, q.greatest = math.Min(q.least, s.Value), math.Max(q.greatest, s.Value)
	}
	q.at = samples[0].Time.Add(time.Duration(seconds * 1e9)).UTC()
	q.lnU = math.Sqrt(variance / n)
	return q
}

// cutEclipse marks the minutes between first and fourth contact.
func (m *morning) cutEclipse() error {
	e := m.opt.Elements
	if e == nil {
		catalogue, err := canon.Load()
		if err != nil {
			return err
		}
		e, err = catalogue.On(m.middle)
		if none := (*canon.NoEclipseError)(nil); errors.As(err, &none) {
			return nil
		} else if err != nil {
			return err
		}
	}
	o, err := eclipse.NewObserver(e, m.observer.Site(), eclipse.Options{})
	if err != nil {
		return err
	}
	c := o.Circumstances()
	if c.Geometry == eclipse.None {
		return nil
	}
	for i := range m.minutes {
		if at := m.minutes[i].at; at.After(c.C1.UTC) && at.Before(c.C4.UTC) {
			m.minutes[i].fate = EclipsedMinute
		}
	}
	return nil
}

// climb is the number of minutes in use and their least and greatest air mass.
func (m *morning) climb() (used int, low, high float64) {
	low = math.Inf(1)
	for _, q := range m.minutes {
		if q.fate == UsedMinute {
			used++
			low, high = math.Min(low, q.mass), math.Max(high, q.mass)
		}
	}
	return used, low, high
}

// values are the least and the greatest of each minute in use, sorted.
func (m *morning) values() []float64 {
	var out []float64
	for _, q := range m.minutes {
		if q.fate == UsedMinute {
			out = append(out, q.least, q.greatest)
		}
	}
	slices.Sort(out)
	return out
}

// pinned finds a ceiling that nobody told of: an end of the readings at which the
// sensor stood still while the light changed.
func (m *morning) pinned(values []float64) {
	if len(values) == 0 {
		return
	}
	for _, end := range []float64{values[0], values[len(values)-1]} {
		low, high := math.Inf(1), math.Inf(-1)
		for _, q := range m.minutes {
			if q.fate == UsedMinute && q.least == end && q.greatest == end {
				ln := math.Log(q.light(usualAir()).lux)
				low, high = math.Min(low, ln), math.Max(high, ln)
			}
		}
		for i, q := range m.minutes {
			if high-low > pinnedLn && q.fate == UsedMinute && (q.least == end || q.greatest == end) {
				m.minutes[i].fate = SaturatedMinute
			}
		}
	}
}
