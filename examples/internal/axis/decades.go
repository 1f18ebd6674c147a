// Package axis marks the axes of the examples' pictures for people who have not met a
// power of ten: with plain numbers.
package axis

import (
	"math"
	"strconv"

	"gonum.org/v1/plot"
)

// Decades marks a logarithmic axis with plain numbers: the decades, and what lies
// between where there are few of them.
type Decades struct{}

// Ticks is for [plot.Axis]; low and high are above 0.
func (Decades) Ticks(low, high float64) []plot.Tick {
	wide := math.Log10(high / low)
	var out []plot.Tick
	for d := math.Floor(math.Log10(low)); d <= math.Log10(high); d++ {
		for k := 1.0; k < 10; k++ {
			v := k * math.Pow(10, d)
			if v < low || v > high {
				continue
			}
			label := ""
			if k == 1 || wide < 2.5 && (k == 2 || k == 5) || wide < 1.2 && k != 7 && k != 9 {
				label = strconv.FormatFloat(v, 'f', max(0, -int(d)), 64)
			}
			out = append(out, plot.Tick{Value: v, Label: label})
		}
	}
	return out
}
