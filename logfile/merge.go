package logfile

import "slices"

// Merge joins the records of several files, in any order, ascending or newest
// first, into one ascending series. A record that says the same as another of the
// same instant in a different file, or in the same one, is a duplicate: it is
// left out and counted. Records of one instant that differ all stay, in the order
// of the files. The slices passed in are not changed.
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
	slices.SortStableFunc(merged, func(a, b Record) int { return a.Time.Compare(b.Time) })
	kept := merged[:0]
	first := 0 // of the records of one instant that are kept
	for _, r := range merged {
		if len(kept) > first && !kept[len(kept)-1].Time.Equal(r.Time) {
			first = len(kept)
		}
		if slices.ContainsFunc(kept[first:], func(k Record) bool { return k.saysTheSame(r) }) {
			duplicates++
			continue
		}
		kept = append(kept, r)
	}
	return kept, duplicates
}

// saysTheSame compares what was measured, not where it stood; two values that are
// missing are the same.
func (r Record) saysTheSame(o Record) bool {
	same := func(a, b float64) bool { return a == b || a != a && b != b }
	return r.Time.Equal(o.Time) && r.Leap == o.Leap && same(r.Light, o.Light) && same(r.Light2, o.Light2) && same(r.Temp, o.Temp) &&
		same(r.Pressure, o.Pressure) && same(r.Humidity, o.Humidity) && same(r.Lat, o.Lat) && same(r.Lon, o.Lon)
}
