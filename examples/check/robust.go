package main

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// middle is the median of what is not NaN, NaN of nothing.
func middle(v []float64) float64 {
	v = slices.DeleteFunc(slices.Clone(v), math.IsNaN)
	if len(v) == 0 {
		return math.NaN()
	}
	slices.Sort(v)
	n := len(v)
	return (stat.Quantile(0.5, stat.Empirical, v, nil) + v[n/2]) / 2 // the mean of the two in the middle where n is even
}

// normalMAD makes the median absolute deviation a standard deviation where differences are
// normal: one over the normal distribution's third quartile, 0.67449.
const normalMAD = 1.4826

// scatter is a standard deviation that a few strays do not move: the median absolute
// deviation from the median, times normalMAD.
func scatter(v []float64) float64 {
	m := middle(v)
	away := make([]float64, len(v))
	for i, x := range v {
		away[i] = math.Abs(x - m)
	}
	return normalMAD * middle(away)
}
