package quantile

import "math"

// A tally is how often each value of a slice is there, where all are whole multiples of one
// decimal step. Readings that were written down are; to count a day of them takes a third of
// the time of a sort.
type tally struct {
	parts float64 // that make one: the step is 1/parts
	least float64 // value, in steps
	times []int32 // of it and of each above it, a step apart
}

const (
	finest = 1000    // parts that are tried: three decimals
	exact  = 1 << 50 // steps to which v*parts is sure to be off its whole number by less than a half
)

// tallied is false where values have more decimals, or lie so far apart that the table would take
// more memory than they do.
func tallied(x []float64) (t tally, ok bool) {
	if len(x) == 0 {
		return t, false
	}
	low, high, last := x[0], x[0], math.NaN()
	t.parts = 1
	for _, v := range x {
		if v == last {
			continue
		}
		for t.steps(v)/t.parts != v {
			if t.parts *= 10; t.parts > finest {
				return t, false
			}
		}
		if v < low {
			low = v
		}
		if v > high {
			high = v
		}
		last = v
	}
	t.least = t.steps(low)
	span := t.steps(high) - t.least
	if !(span < 2*float64(len(x)) && math.Abs(t.least) < exact) {
		return t, false
	}
	t.times = make([]int32, int(span)+1)
	for i := 0; i < len(x); {
		from, v := i, x[i]
		for i < len(x) && x[i] == v { // exactly: a run of one value
			i++
		}
		t.times[int(t.steps(v)-t.least)] += int32(i - from)
	}
	return t, true
}

// steps is a whole number.
func (t *tally) steps(v float64) float64 { return math.Floor(v*t.parts + 0.5) }

// value is the one that times[i] counts.
func (t *tally) value(i int) float64 { return (t.least + float64(i)) / t.parts }

// distinct is what Distinct returns.
func (t *tally) distinct() (values []float64, times []int) {
	many := 0
	for _, n := range t.times {
		if n > 0 {
			many++
		}
	}
	values, times = make([]float64, 0, many), make([]int, 0, many)
	for i, n := range t.times {
		if n > 0 {
			values, times = append(values, t.value(i)), append(times, int(n))
		}
	}
	return values, times
}
