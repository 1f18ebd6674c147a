package logfile

import (
	"math"
	"slices"
)

// liveliest is the column whose numbers change by far the most in proportion, or
// -1 where none stands out: light changes by more in an hour than air does in a day.
func (d *draft) liveliest(columns []int) int {
	// Times the next, by itself, and by itself where nothing else changes at all; common
	// practice, no source. A battery's volts stay within the last.
	const far, least, alone = 3, 0.1, 0.005
	best, first, second := -1, 0.0, 0.0
	changing := 0
	for _, i := range columns {
		if v := d.shapes[i].values; slices.ContainsFunc(v, func(x float64) bool { return x != v[0] }) {
			changing++
		}
		switch v := d.shapes[i].swing(); {
		case v > first:
			best, first, second = i, v, first
		case v > second:
			second = v
		}
	}
	if best < 0 || first <= far*second {
		return -1
	}
	if first >= least || changing == 1 && first >= alone && len(d.shapes[best].values) >= bareRows {
		return best
	}
	return -1
}

// swing is how far a column's numbers change in proportion. The outermost eighth at
// either end, one number at least, says nothing, so that no thermometer is lively for
// the 85 degrees of its power-on; nor do two numbers, which are those of a switch or
// of two devices.
func (s *shape) swing() float64 {
	v := slices.Sorted(slices.Values(s.values))
	if n := len(slices.Compact(slices.Clone(v))); n < 2 || n == 2 && len(v) >= bareRows {
		return 0
	}
	n := len(v) / 8
	if len(v) > sureRows {
		n = max(n, 1)
	}
	low, high := v[n], v[len(v)-1-n]
	return (high - low) / math.Max(1e-9, math.Max(math.Abs(high), math.Abs(low)))
}
