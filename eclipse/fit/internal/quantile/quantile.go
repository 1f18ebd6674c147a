// Package quantile takes medians and quantiles of short, unsorted slices.
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
	s := slices.Clone(x)
	slices.Sort(s)
	return stat.Quantile(p, stat.LinInterp, s, nil)
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
	pick(x, k)
	if len(x)%2 == 1 {
		return x[k]
	}
	return (slices.Max(x[:k]) + x[k]) / 2
}

// pick moves the value that would stand at k in a sorted slice there, smaller ones before it
// and greater ones after it (C. A. R. Hoare, Communications of the ACM 4 (1961) 321).
func pick(x []float64, k int) {
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
