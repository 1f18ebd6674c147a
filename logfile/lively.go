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
		if d.shapes[i].noSensor() {
			continue
		}
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

// noSensor says that numbers are a switch's, 0 and 1, or count the rows.
func (s *shape) noSensor() bool {
	v := s.values
	if len(v) < sureRows {
		return false
	}
	steady := v[1]-v[0] == 1 // a counter of rows, whatever it begins with
	zeros, ones := 0, 0
	for i, x := range v {
		steady = steady && (i == 0 || x-v[i-1] == 1)
		switch x {
		case 0:
			zeros++
		case 1:
			ones++
		}
	}
	return steady || zeros > 0 && ones > 0 && zeros+ones == len(v)
}

// mayBeAir says that numbers could be those of a thermometer or a hygrometer: within
// what air has, in degrees of either kind or per cent. A cell's volts, and shares of one,
// stay below (common practice, no source).
func (s *shape) mayBeAir() bool {
	const volts, warm = 5.5, 125
	low, high, ok := s.bounds()
	return ok && high <= warm && low >= -warm && (low < 0 || high > volts)
}

// swing is how far a column's numbers change in proportion. Two numbers say nothing:
// they are those of a switch or of two devices.
func (s *shape) swing() float64 {
	low, high, ok := s.bounds()
	if !ok {
		return 0
	}
	return (high - low) / math.Max(1e-9, math.Max(math.Abs(high), math.Abs(low)))
}

// bounds are the least and the greatest number, but for the outermost eighth at either
// end, one at least: those of sensors that failed or had just been switched on, at 85
// degrees, make no thermometer lively. False where too few numbers differ.
func (s *shape) bounds() (low, high float64, ok bool) {
	v := slices.Sorted(slices.Values(s.values))
	if n := len(slices.Compact(slices.Clone(v))); n < 2 || n == 2 && len(v) >= bareRows {
		return 0, 0, false
	}
	n := len(v) / 8
	if len(v) > sureRows {
		n = max(n, 1)
	}
	return v[n], v[len(v)-1-n], true
}
