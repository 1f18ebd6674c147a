package logfile

import (
	"slices"
	"strings"
)

// Codes of UCUM, case-sensitive, version 2.2 (2024-06-17): those that logs need.
// The metric ones take a prefix. From the published list, but [degF], mol, J, N, C,
// F, Hz, g, rad, cd and L from memory.
var (
	metricUnits = []string{"lx", "lm", "cd", "Cel", "K", "V", "Ohm", "A", "Pa", "bar", "m", "s", "W", "J", "N", "C", "F", "Hz", "g", "mol", "rad", "L"}
	plainUnits  = []string{"%", "[ppm]", "deg", "min", "h", "d", "[degF]", "1", "'", "''"}
	prefixes    = []string{"da", "Y", "Z", "E", "P", "T", "G", "M", "k", "h", "d", "c", "m", "u", "n", "p", "f", "a", "z", "y"}
)

// validUnit says that a code is made of known units: W/m2, umol.m-2.s-1, {count}.
func validUnit(code string) bool {
	if code == "" {
		return false
	}
	code = strings.TrimPrefix(code, "/") // UCUM lets a term begin so
	for _, part := range strings.FieldsFunc(code+" ", func(r rune) bool { return r == '.' || r == '/' }) {
		if !validFactor(strings.TrimSuffix(part, " ")) {
			return false
		}
	}
	return !strings.Contains(code, "..") && !strings.Contains(code, "//")
}

// validFactor is one unit with its prefix, exponent and annotation.
func validFactor(part string) bool {
	if i := strings.IndexByte(part, '{'); i >= 0 {
		if !strings.HasSuffix(part, "}") || strings.ContainsAny(part[i+1:len(part)-1], "{} ") || len(part) < i+3 {
			return false
		}
		if part = part[:i]; part == "" {
			return true
		}
	}
	if slices.Contains(plainUnits, part) {
		return true
	}
	unit := strings.TrimRight(part, "0123456789")
	if unit != part {
		unit = strings.TrimRight(unit, "+-")
	}
	if slices.Contains(metricUnits, unit) || unit != "1" && slices.Contains(plainUnits, unit) {
		return true
	}
	for _, p := range prefixes {
		if rest, ok := strings.CutPrefix(unit, p); ok && slices.Contains(metricUnits, rest) {
			return true
		}
	}
	return false
}
