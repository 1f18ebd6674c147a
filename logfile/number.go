package logfile

import (
	"bytes"
	"math"
	"strconv"
)

// trim takes blanks and one pair of quotes off a field.
func trim(b []byte) []byte {
	for len(b) > 0 && (b[0] == ' ' || b[0] == '\t') {
		b = b[1:]
	}
	for len(b) > 0 && (b[len(b)-1] == ' ' || b[len(b)-1] == '\t') {
		b = b[:len(b)-1]
	}
	return b
}

var powers = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18}

// parseNumber reads a decimal number; comma says that its decimal mark is one.
// Up to fifteen digits without exponent are exact in a float64 and divided once,
// which rounds correctly (W. D. Clinger, PLDI 1990); the rest goes to strconv.
// NaN and infinities are no numbers here: a sensor that prints them has failed.
func parseNumber(b []byte, comma bool) (float64, bool) {
	b = trim(b)
	mark := byte('.')
	if comma {
		mark = ','
	}
	var v uint64
	digits, decimals, i := 0, -1, 0
	negative := false
	if len(b) > 0 && (b[0] == '-' || b[0] == '+') {
		negative = b[0] == '-'
		i++
	}
	for ; i < len(b); i++ {
		c := b[i]
		switch {
		case c >= '0' && c <= '9':
			v = 10*v + uint64(c-'0')
			digits++
			if decimals >= 0 {
				decimals++
			}
		case c == mark && decimals < 0:
			decimals = 0
		default:
			return slowNumber(b, comma)
		}
		if digits > 15 {
			return slowNumber(b, comma)
		}
	}
	if digits == 0 {
		return 0, false
	}
	f := float64(v)
	if decimals > 0 {
		f /= powers[decimals]
	}
	if negative {
		f = -f
	}
	return f, true
}

func slowNumber(b []byte, comma bool) (float64, bool) {
	if len(b) == 0 || len(b) > 64 || bytes.ContainsAny(b, "_xXpPnN") {
		return 0, false
	}
	if comma {
		if bytes.IndexByte(b, '.') >= 0 {
			return 0, false
		}
		b = bytes.Replace(b, []byte(","), []byte("."), 1)
	}
	f, err := strconv.ParseFloat(string(b), 64)
	if err != nil || math.IsInf(f, 0) || math.IsNaN(f) {
		return 0, false
	}
	return f, true
}
