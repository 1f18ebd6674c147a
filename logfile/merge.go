package logfile

import (
	"math"
	"slices"
	"time"
)

// Merge joins the records of several files, in any order, ascending or newest
// first, into one ascending series. A record that says the same as another of the
// same instant in a different file, or in the same one, is a duplicate: it is
// left out and counted. Records of one instant that differ all stay, in the order
// of the files. The slices passed in are not changed.
//
// Line and Offset stay those of the record's own file; [Events] sees by them where one
// file ends. What the clock did inside a file is to be asked of that file: in the merged
// series its steps back are sorted away.
func Merge(files ...[]Record) (merged []Record, duplicates int) {
	n := 0
	for _, f := range files {
		n += len(f)
	}
	merged = make([]Record, 0, n)
	for _, f := range files {
		from := len(merged)
		merged = append(merged, f...)
		if len(f) > 1 && f[0].Time.After(f[len(f)-1].Time) {
			slices.Reverse(merged[from:])
		}
	}
	if inOrder(merged) {
		return merged, 0
	}
	slices.SortStableFunc(merged, func(a, b Record) int { return a.Time.Compare(b.Time) })
	kept := merged[:0]
	for from := 0; from < len(merged); {
		to := from + 1
		for to < len(merged) && merged[to].Time.Equal(merged[from].Time) {
			to++
		}
		if to == from+1 {
			kept = append(kept, merged[from])
		} else {
			kept = appendDifferent(kept, merged[from:to])
		}
		from = to
	}
	return kept, n - len(kept)
}

// inOrder says that each record comes after the one before, as in most logs.
func inOrder(records []Record) bool {
	for i := 1; i < len(records); i++ {
		if !records[i].Time.After(records[i-1].Time) {
			return false
		}
	}
	return true
}

// few records of one instant are compared each with each; a clock that stands still
// makes thousands.
const few = 8

// appendDifferent appends those records of one instant that differ from each other,
// which may lie in the same array further on.
func appendDifferent(kept, instant []Record) []Record {
	if len(instant) > few {
		seen := make(map[saying]bool, len(instant))
		for _, r := range instant {
			if s := r.says(); !seen[s] {
				seen[s] = true
				kept = append(kept, r)
			}
		}
		return kept
	}
	first := len(kept)
	for _, r := range instant {
		if !slices.ContainsFunc(kept[first:], func(k Record) bool { return k.saysTheSame(r) }) {
			kept = append(kept, r)
		}
	}
	return kept
}

// saysTheSame compares what was measured, not where it stood; two values that are
// missing are the same.
func (r Record) saysTheSame(o Record) bool {
	same := func(a, b float64) bool { return a == b || a != a && b != b }
	return r.Time.Equal(o.Time) && r.Leap == o.Leap && same(r.Light, o.Light) && same(r.Light2, o.Light2) && same(r.Temp, o.Temp) &&
		same(r.Pressure, o.Pressure) && same(r.Humidity, o.Humidity) && same(r.Lat, o.Lat) && same(r.Lon, o.Lon)
}

// A saying is what saysTheSame compares among the records of one instant, to be looked
// up.
type saying struct {
	leap   bool
	values [7]uint64
}

func (r Record) says() saying {
	s := saying{leap: r.Leap}
	for i, v := range [...]float64{r.Light, r.Light2, r.Temp, r.Pressure, r.Humidity, r.Lat, r.Lon} {
		if v != v {
			v = math.NaN() // of many
		}
		s.values[i] = math.Float64bits(v + 0) // -0 is 0
	}
	return s
}

// MissingDays are the calendar days between the first and the last record on which there
// is none, as their midnights in the zone; nil is UTC. Stamps of a clock that was not
// set, of the first year after one of its epochs (see [EventKind]), do not count.
func MissingDays(records []Record, zone *time.Location) []time.Time {
	if zone == nil {
		zone = time.UTC
	}
	seen := map[time.Time]bool{}
	var first, last time.Time // days, as if UTC
	for _, r := range records {
		if sinceEpoch(r.Time, unsetSpan) {
			continue
		}
		y, m, d := r.Time.In(zone).Date()
		at := time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
		if len(seen) == 0 || at.Before(first) {
			first = at
		}
		if at.After(last) {
			last = at
		}
		seen[at] = true
	}
	var out []time.Time
	for at := first; at.Before(last); at = at.AddDate(0, 0, 1) {
		if !seen[at] {
			out = append(out, time.Date(at.Year(), at.Month(), at.Day(), 0, 0, 0, 0, zone))
		}
	}
	return out
}
