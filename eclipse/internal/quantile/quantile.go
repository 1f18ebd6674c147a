// Package quantile takes medians and quantiles of unsorted slices, and sorts those of a log,
// whose values have few decimals, by counting them.
package quantile

import (
	"slices"

	"gonum.org/v1/gonum/stat"
)

// Of returns the p-quantile, 0 for an empty slice. The slice is left as it was.
func Of(p float64, x []float64) float64 {
	if len(x) == 0 {
		return 0
	}
	return stat.Quantile(p, stat.LinInterp, sorted(x), nil)
}

// Median is the middle value.
func Median(x []float64) float64 { return Of(0.5, x) }

// MedianOf is the middle value as well, or the mean of the two in the middle, and puts the
// slice in another order: a tenth of the work where it is wanted thousands of times.
func MedianOf(x []float64) float64 {
	if len(x) == 0 {
		return 0
	}
	k := len(x) / 2
	Split(x, k)
	if len(x)%2 == 1 {
		return x[k]
	}
	return (slices.Max(x[:k]) + x[k]) / 2
}

// Split moves the value that would stand at k in a sorted slice there, smaller ones before it
// and greater ones after it (C. A. R. Hoare, Communications of the ACM 4 (1961) 321). None
// of them is NaN.
func Split(x []float64, k int) {
	for lo, hi := 0, len(x)-1; lo < hi; {
		pivot := x[(lo+hi)/2]
		i, j := lo, hi
		for i <= j {
			for x[i] < pivot {
				i++
			}
			for x[j] > pivot {
				j--
			}
			if i <= j {
				x[i], x[j] = x[j], x[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return
		}
	}
}

// Distinct is the different values of a slice in ascending order, none of them NaN, and how
// often each of them is there. -0 may become 0.
func Distinct(x []float64) (values []float64, times []int) {
	if t, ok := tallied(x); ok {
		return t.distinct()
	}
	values = sorted(x)
	last := -1 // of those kept, in the same memory
	for _, v := range values {
		if last < 0 || v != values[last] {
			last++
			values[last], times = v, append(times, 0)
		}
		times[last]++
	}
	return values[:last+1], times
}

// Repeated is what Distinct was made of, sorted: each value as often as it was there.
func Repeated(values []float64, times []int) []float64 {
	n := 0
	for _, k := range times {
		n += k
	}
	out := make([]float64, 0, n)
	for i, v := range values {
		for range times[i] {
			out = append(out, v)
		}
	}
	return out
}

func sorted(x []float64) []float64 {
	out := slices.Clone(x)
	slices.Sort(out)
	return out
}
