package station

import (
	"fmt"
	"math"
	"strings"
	"time"

	"example.org/noonfall/sun"
)

// What a climb must have: common practice, no source. Langley plots run from two to
// six air masses.
const (
	leastMinutes   = 40
	leastMassRatio = 2.0
	pinnedLn       = 0.05 // change of the light that a sensor must not miss at its ceiling
)

// enough refuses a morning of which too little is left, by the name of what took
// most of it.
func (m *morning) enough() error {
	if len(m.minutes) == 0 {
		return m.noMorning()
	}
	values := m.values()
	if n := len(values); n > 1 && values[0] == values[n-1] {
		return refuse(FlatSensor, "the reading is %g in all of %d minutes while the Sun climbed", values[0], n)
	}
	m.pinned(values)
	used, low, high := m.climb()
	if used >= leastMinutes && high >= leastMassRatio*low {
		return nil
	}
	lost := map[Fate]int{}
	for _, q := range m.minutes {
		lost[q.fate]++
	}
	most := SaturatedMinute
	for _, f := range []Fate{DarkMinute, EclipsedMinute} {
		if lost[f] > lost[most] {
			most = f
		}
	}
	left := fmt.Sprintf("%d minutes from air mass %.2f to %.2f are left; a Langley line wants %d and a ratio of %g", used, high, low, leastMinutes, leastMassRatio)
	if used == 0 {
		left = "nothing is left"
	}
	if lost[most] < used {
		return refuse(ShortClimb, "%s: %s", left, m.longer(low, high))
	}
	return refuse(map[Fate]string{SaturatedMinute: SaturatedLight, DarkMinute: NoUsableLight, EclipsedMinute: EclipseGoingOn}[most],
		"%d of %d minutes are %v; %s", lost[most], len(m.minutes), most, left)
}

// noMorning says what the log has instead.
func (m *morning) noMorning() error {
	switch {
	case m.total == 0:
		return refuse(SunTooLow, "the log has no reading with an instant")
	case len(m.days) > 0:
		const day = 86400
		date := func(n int64) string { return time.Unix(n*day, 0).UTC().Format("2 January 2006") }
		return refuse(SunTooLow, "the log has no morning of %s, but of %s", m.opt.Day.Format("2 January 2006"), list(m.days, date))
	}
	return refuse(SunTooLow, "none of the %d minutes of the log is of a morning with the Sun above %g degrees: look at the clock's zone and at the site, if it should be", m.total, m.opt.MinAlt)
}

// list names the first three of some days, and the last.
func list(days []int64, name func(int64) string) string {
	var out []string
	for i, d := range days {
		switch {
		case i < 3:
			out = append(out, name(d))
		case i == len(days)-1:
			out = append(out, "and more until "+name(d))
		}
	}
	return strings.Join(out, ", ")
}

// longer says what a climb lacks: minutes, hours, or a Sun that climbs.
func (m *morning) longer(low, high float64) string {
	if high >= leastMassRatio*low {
		return "read at least once in five minutes, without gaps"
	}
	lowest, highest := math.Inf(1), math.Inf(-1) // altitudes of that day's morning
	for k := -72; k <= 72; k++ {
		if s := m.sightAt(m.middle.Add(time.Duration(k) * 10 * time.Minute)); m.climbing(&s) {
			lowest, highest = math.Min(lowest, s.alt), math.Max(highest, s.alt)
		}
	}
	if sun.AirMass(lowest) < leastMassRatio*sun.AirMass(highest) {
		return fmt.Sprintf("the Sun only climbs from %.0f to %.0f degrees on that day: wait for another season", lowest, highest)
	}
	return "log from an hour after sunrise to noon"
}
