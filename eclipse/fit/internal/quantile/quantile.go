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
