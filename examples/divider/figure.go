package main

import (
	"math"
	"strconv"
	"strings"
)

// figure writes a number with so many digits and no exponent.
func figure(v float64, digits int) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) { // exactly 0 has no logarithm
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	unit := math.Pow(10, math.Floor(math.Log10(math.Abs(v)))+1-float64(digits))
	v = math.Round(v/unit) * unit
	places := int(math.Max(0, math.Round(-math.Log10(unit))))
	text := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// ohms writes a resistance as people say it.
func ohms(v float64) string {
	switch {
	case v >= 1e6:
		return figure(v/1e6, 3) + " Mohm"
	case v >= 1e3:
		return figure(v/1e3, 3) + " kohm"
	}
	return figure(v, 3) + " ohm"
}

func percent(v float64) string { return figure(100*v, 2) + " %" }

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

func isOneOf(v float64, list []float64) bool {
	for _, x := range list {
		if x == v {
			return true
		}
	}
	return false
}
