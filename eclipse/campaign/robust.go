package campaign

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// A Figure is a number of the whole campaign: its standard uncertainty and how many
// stations carry it. With none it does not exist.
type Figure struct {
	Value float64 // in the unit that the field of this type says
	U     float64 // standard uncertainty, same unit
	N     int     // stations; 0 where there is no figure
}

// quantile is the p-quantile of what is in any order, NaN of nothing.
func quantile(p float64, x []float64) float64 {
	if len(x) == 0 {
		return math.NaN()
	}
	s := slices.Sorted(slices.Values(x))
	return stat.Quantile(p, stat.LinInterp, s, nil)
}

func median(x []float64) float64 { return quantile(0.5, x) }

// spread is 1.4826 times the median distance from the middle: the standard deviation
// where all is normal, and deaf to what is not.
func spread(x []float64, middle float64) float64 {
	d := make([]float64, len(x))
	for i := range x {
		d[i] = math.Abs(x[i] - middle)
	}
	return 1.4826 * median(d)
}

// far is the score above which a station is an outlier: B. Iglewicz & D. C. Hoaglin, How to
// Detect and Handle Outliers (1993), 3.5 of a score that is made of median and spread.
const far = 3.5

// A measurement is one station's word on a number that all share.
type measurement struct{ value, u float64 }

// scores are how far each is from the median of all, in units of its own uncertainty and
// the spread of the others together: a station that says itself that it does not know is no outlier.
func scores(all []measurement) []float64 {
	values := make([]float64, len(all))
	for i, m := range all {
		values[i] = m.value
	}
	// Of two or three the sharper ones decide: the weighted median is where half of the weight lies.
	middle := weightedMedian(all)
	wide := spread(values, middle)
	out := make([]float64, len(all))
	for i, m := range all {
		if d := m.value - middle; d != 0 {
			out[i] = d / math.Hypot(m.u, wide)
		}
	}
	return out
}

// weightedMedian is where half of the weight, one over the uncertainty, lies on either side.
func weightedMedian(all []measurement) float64 {
	order := slices.Clone(all)
	slices.SortStableFunc(order, func(a, b measurement) int {
		switch {
		case a.value < b.value:
			return -1
		case a.value > b.value:
			return 1
		}
		return 0
	})
	var total, sum float64
	for _, m := range order {
		total += 1 / m.u
	}
	for i, m := range order {
		w := 1 / m.u
		switch {
		case sum+w > total/2:
			return m.value
		case sum+w == total/2 && i+1 < len(order): // exactly half: between the two
			return (m.value + order[i+1].value) / 2
		}
		sum += w
	}
	return math.NaN()
}

// pooled is the mean of measurements that may differ by more than their own uncertainties
// say: a common value, and a spread between stations that is estimated along (R.
// DerSimonian & N. Laird, Controlled Clinical Trials 7 (1986) 177).
func pooled(all []measurement) (mean Figure, between float64) {
	if len(all) == 0 {
		return Figure{}, 0
	}
	weigh := func(tau2 float64) (mean, total, squares, q float64) {
		for _, m := range all {
			w := 1 / (m.u*m.u + tau2)
			mean += w * m.value
			total += w
			squares += w * w
		}
		mean /= total
		for _, m := range all {
			q += (m.value - mean) * (m.value - mean) / (m.u*m.u + tau2)
		}
		return mean, total, squares, q
	}
	_, total, squares, q := weigh(0)
	var tau2 float64
	if c := total - squares/total; c > 0 {
		tau2 = math.Max(0, (q-float64(len(all)-1))/c)
	}
	value, total, _, _ := weigh(tau2)
	return Figure{Value: value, U: 1 / math.Sqrt(total), N: len(all)}, math.Sqrt(tau2)
}
