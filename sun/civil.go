package sun

import "time"

// civilDay returns the first instant of the civil day of a time's own calendar
// and zone, and the first of the next. Between them lie 24 hours, 23 or 25 where
// clocks are put forward or back.
func civilDay(date time.Time) (start, end time.Time) {
	year, month, day := date.Date()
	loc := date.Location()
	return startOfDay(year, month, day, loc), startOfDay(year, month, day+1, loc)
}

// farthestZone bounds the offsets from UTC that a day is looked for in, hours: no
// zone of the tz database reaches 16, local mean times included.
const farthestZone = 24

// startOfDay finds the first instant whose date in a zone is a given one or
// later. time.Date will not do: where midnight does not exist it may answer with
// either neighbour. Where clocks go back over midnight itself the day has two
// beginnings, and one of them is taken for both this day and the last.
func startOfDay(year int, month time.Month, day int, loc *time.Location) time.Time {
	midnight := time.Date(year, month, day, 0, 0, 0, 0, time.UTC)
	year, month, day = midnight.Date() // 32 January is 1 February
	reached := func(unix int64) bool {
		y, m, d := time.Unix(unix, 0).In(loc).Date()
		if y != year {
			return y > year
		}
		if m != month {
			return m > month
		}
		return d >= day
	}
	// A zone that moved over the date line left a day out, which adds 24 hours.
	const farthest = (farthestZone + 25) * 3600
	before, after := midnight.Unix()-farthest, midnight.Unix()+farthest
	for after-before > 1 {
		if middle := before + (after-before)/2; reached(middle) {
			after = middle
		} else {
			before = middle
		}
	}
	return time.Unix(after, 0).In(loc)
}
