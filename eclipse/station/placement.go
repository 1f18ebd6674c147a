package station

import "time"

// undated is the day on which the reader lays times of day that have no date, in
// the lines or in the file's name. The reader takes no date before 1900, so that the
// station knows them again and gives them their day.
var undated = time.Date(1850, 1, 1, 0, 0, 0, 0, time.UTC)

// A placement moves the times of day of one file to the days they are of.
type placement struct {
	seen  bool
	days  int       // to be added; 0 where the file has dates of its own
	first time.Time // the first stamp, moved
}

// place puts a stamp on its day. The first file is laid on the eclipse's day, a
// later one where its first stamp comes nearest to the end of those before: it
// goes on, or overlaps by less than half a day.
func (p *placement) place(t *time.Time, r *Report, zone *time.Location) {
	if zone == nil {
		zone = time.UTC
	}
	if !p.seen {
		p.seen = true
		if t.Year() >= 1900-1 { // a zone may set the year back
			return
		}
		p.days = wholeDays(undated, r.day)
		if !r.end.IsZero() {
			p.days += wholeDays(moved(*t, p.days, zone), r.end)
		}
		p.first = moved(*t, p.days, zone).In(zone)
	}
	if p.days != 0 {
		*t = moved(*t, p.days, zone)
	}
}

// wholeDays is the number of days from a to b, to the nearest.
func wholeDays(a, b time.Time) int {
	return int(b.Sub(a).Round(24*time.Hour) / (24 * time.Hour))
}

// moved is the same reading of a wall clock so many days later.
func moved(t time.Time, days int, zone *time.Location) time.Time {
	t = t.In(zone)
	y, m, d := t.Date()
	return time.Date(y, m, d+days, t.Hour(), t.Minute(), t.Second(), t.Nanosecond(), zone).UTC()
}
