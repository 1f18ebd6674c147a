package station

import (
	"math"
	"time"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// An almanac tells the Sun's altitude at the site for the stamps of a log, from a
// table a minute fine for each solar day that the log has samples of.
type almanac struct {
	observer *sun.Observer
	scale    timescale.Scale
	zone     *time.Location // the site's mean solar time, so that noon is in mid-day
	offset   int64          // of that zone, seconds east of UTC
	days     map[int64]*sunDay
}

// A sunDay is one day's course, of the Sun's centre without refraction.
type sunDay struct {
	alt  [minutes + 1]float64 // degrees, from the day's start
	top  float64              // the greatest
	high float64              // above which the Sun is about its noon
	noon time.Time
}

const minutes = 24 * 60

// almanac is nil for a station whose site was not given.
func (r *Report) almanac() (*almanac, error) {
	if !r.Station.sited() {
		return nil, nil
	}
	site := r.Station.Site.Sun()
	observer, err := sun.NewObserver(site, r.scale())
	if err != nil {
		return nil, err
	}
	seconds := math.Round(240 * math.Remainder(site.Lon, 360)) // a degree in four minutes
	return &almanac{observer: observer, scale: r.scale(), zone: time.FixedZone("mean solar time", int(seconds)), offset: int64(seconds), days: map[int64]*sunDay{}}, nil
}

// dayOf numbers the solar days.
func (a *almanac) dayOf(t time.Time) (number int64, into time.Duration) {
	local := t.Unix() + a.offset
	number = floored(local, 86400)
	return number, time.Duration(local-86400*number)*time.Second + time.Duration(t.Nanosecond())
}

// floored is a/b rounded down, also before 1970.
func floored(a, b int64) int64 {
	q := a / b
	if a < q*b {
		q--
	}
	return q
}

// altitude is the Sun's at an instant of the day, within 0.001 degrees of package sun;
// NaN on a day that is not known.
func (d *sunDay) altitude(into time.Duration) float64 {
	if d == nil {
		return math.NaN()
	}
	m := into.Minutes()
	i := min(int(m), minutes-1)
	return d.alt[i] + (m-float64(i))*(d.alt[i+1]-d.alt[i])
}

// about says that the Sun stands at more than half its height of noon, and not low.
func (d *sunDay) about(alt float64) bool { return d != nil && alt > d.high }

// day is nil for a date of which the Sun's place is not known.
func (a *almanac) day(number int64) *sunDay {
	d, ok := a.days[number]
	if !ok {
		d = a.prepare(number)
		a.days[number] = d
	}
	return d
}

// upS is how long the Sun is up that day, s.
func (d *sunDay) upS() float64 {
	up := 0
	for _, alt := range d.alt[:minutes] {
		if alt > 0 {
			up++
		}
	}
	return 60 * float64(up)
}

func (a *almanac) prepare(number int64) *sunDay {
	start := time.Unix(86400*number-a.offset, 0).In(a.zone)
	course, err := a.observer.Day(start)
	if err != nil {
		return nil
	}
	d := &sunDay{top: math.Inf(-1)}
	for i := range d.alt {
		t := start.Add(time.Duration(i) * time.Minute)
		d.alt[i] = course.Position(a.scale.TT(t)).Alt
		if d.alt[i] > d.top {
			d.top, d.noon = d.alt[i], t.UTC()
		}
	}
	d.high = math.Max(lowestSun, d.top/2)
	if transits := course.Transits(); len(transits) > 0 {
		d.noon = transits[0].Time.UTC()
	}
	return d
}

// clearSky is the clear sky's light on the horizontal for the Sun at an altitude
// and a mean distance, lx.
func clearSky(alt float64) float64 { return sun.Sky{}.Illuminance(alt, 1).Global }
