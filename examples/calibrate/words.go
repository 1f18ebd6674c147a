package main

import (
	"fmt"
	"math"
	"strconv"

	"example.org/noonfall/sensor"
)

// measured writes a value with its standard uncertainty as GUM 7.2.6 has it: two
// digits of the uncertainty, and the value to the same place.
func measured(v, u float64) string {
	if !(u > 0 && u <= math.MaxFloat64) {
		return strconv.FormatFloat(v, 'g', 4, 64)
	}
	places := 1 - int(math.Floor(math.Log10(u)))
	if rounded := decimals(u, places); rounded >= math.Pow(10, float64(2-places)) { // 0.0996 is 0.10
		places--
	}
	return plain(v, places) + " +- " + plain(u, places)
}

// plain writes a number to a decimal place, or to a power of ten where places is
// negative.
func plain(v float64, places int) string {
	return strconv.FormatFloat(decimals(v, places)+0, 'f', max(0, places), 64)
}

// decimals rounds to a decimal place.
func decimals(v float64, places int) float64 {
	if places < 0 {
		tens := math.Pow(10, float64(-places))
		return math.Round(v/tens) * tens
	}
	scale := math.Pow(10, float64(places))
	return math.Round(v*scale) / scale
}

// figures rounds to significant digits.
func figures(v float64, n int) float64 {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return v
	}
	return decimals(v, n-1-int(math.Floor(math.Log10(math.Abs(v)))))
}

// grouped writes a light in round figures for a sentence: three of them, and commas
// between thousands.
func grouped(v float64) string {
	if v < 1 {
		return strconv.FormatFloat(figures(v, 1), 'f', -1, 64)
	}
	s := strconv.FormatFloat(figures(v, 3), 'f', -1, 64)
	for i := len(s) - 3; i > 0 && v >= 1000; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// percent of a standard uncertainty of a logarithm.
func percent(lnU float64) string {
	if lnU >= 0.095 {
		return fmt.Sprintf("%.0f %%", 100*lnU)
	}
	if lnU < 0.0005 {
		return "less than 0.1 %"
	}
	return fmt.Sprintf("%.1f %%", 100*lnU)
}

// judged says in words whether residuals are as large as they ought to be: chi-square
// has about Freedom, give or take sqrt(2 Freedom).
func judged(c sensor.Calibration) string {
	n := float64(c.Freedom)
	switch {
	case c.Freedom == 0:
		return "nothing is left to check them by"
	case c.Scattered:
		return "their scatter was taken for their uncertainty"
	case c.ChiSquare > n+2*math.Sqrt(2*n):
		return fmt.Sprintf("more than their uncertainties explain (chi-square %.1f of %d): the law bends, or something was read wrong", c.ChiSquare, c.Freedom)
	case c.ChiSquare < n-2*math.Sqrt(2*n):
		return fmt.Sprintf("less than their uncertainties make one expect (chi-square %.1f of %d)", c.ChiSquare, c.Freedom)
	}
	return fmt.Sprintf("as much as their uncertainties make one expect (chi-square %.1f of %d)", c.ChiSquare, c.Freedom)
}

// rms of residuals, and the place of the largest.
func rms(v []float64) (r float64, worst int) {
	for i, x := range v {
		r += x * x / float64(len(v))
		if math.Abs(x) > math.Abs(v[worst]) {
			worst = i
		}
	}
	return math.Sqrt(r), worst
}
