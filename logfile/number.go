package logfile

import (
	"bytes"
	"math"
	"strconv"
)

var powers = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}

// scanNumber reads a plain decimal number that begins at b[i] and ends with the
// delimiter or the line. Up to fifteen digits without exponent are exact in a
// float64 and divided once by a power of ten that is exact too, which rounds
// correctly (W. D. Clinger, PLDI 1990). Anything else is left to parseNumber.
func scanNumber(b []byte, i int, mark, delimiter byte) (v float64, next int, ok bool) {
	negative := false
	if i < len(b) && b[i] == '-' {
		negative = true
		i++
	}
	var m uint64
	from := i
	for i < len(b) && b[i]-'0' <= 9 {
		m = 10*m + uint64(b[i]-'0')
		i++
	}
	digits := i - from
	decimals := 0
	if i < len(b) && b[i] == mark {
		i++
		from = i
		for i < len(b) && b[i]-'0' <= 9 {
			m = 10*m + uint64(b[i]-'0')
			i++
		}
		decimals = i - from
		digits += decimals
	}
	if digits == 0 || digits > 15 || i < len(b) && b[i] != delimiter {
		return 0, i, false
	}
	v = float64(m)
	if decimals > 0 {
		v /= powers[decimals]
	}
	if negative {
		v = -v
	}
	return v, i, true
}

// parseNumber reads a decimal number with its decimal mark. NaN and infinities
// are no numbers here: a sensor that prints them has failed.
func parseNumber(b []byte, mark byte) (float64, bool) {
	b = trim(b)
	if v, _, ok := scanNumber(b, 0, mark, 0); ok {
		return v, true
	}
	if len(b) == 0 || len(b) > 64 {
		return 0, false
	}
	var plain [64]byte
	for _, c := range b { // so that no word, hexadecimal or underscore gets by
		if (c < '0' || c > '9') && c != '-' && c != '+' && c != mark && c|0x20 != 'e' {
			var ok bool
			if b, ok = ungroup(plain[:0], b, mark); !ok {
				return 0, false
			}
			break
		}
	}
	if mark != '.' {
		b = bytes.Replace(b, []byte{mark}, []byte("."), 1)
	}
	v, err := strconv.ParseFloat(string(b), 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, false
	}
	return v, true
}

// lastDecimals counts the digits behind the decimal mark of the number that ends a
// line; 0 where none does.
func lastDecimals(b []byte, mark byte) int {
	i := len(b)
	for i > 0 && b[i-1]-'0' <= 9 {
		i--
	}
	if i == 0 || b[i-1] != mark {
		return 0
	}
	return len(b) - i
}

// failures are what sensors and their libraries print instead of a number
// (common practice, no source).
var failures = []string{"nan", "inf", "-inf", "+inf", "na", "n/a", "null", "none", "nil", "err", "error", "fail", "failed", "-", "--", "---", "?", "ovf", "ovl", "overflow", "infinity", "-nan"}

// lastDecimals is that of a line under this layout. Where the mark is the delimiter
// too, numbers with decimals stand in quotes, and what ends a line bare has none.
func (l *Layout) lastDecimals(b []byte) int {
	if l.mark() == l.Delimiter {
		return 0
	}
	return lastDecimals(b, l.mark())
}

// isFailure says that a cell is empty or holds such a word.
func isFailure(b []byte) bool {
	b = trim(b)
	if len(b) == 0 {
		return true
	}
	for _, f := range failures {
		if len(b) == len(f) && bytes.EqualFold(b, []byte(f)) {
			return true
		}
	}
	return false
}

// plausible says that a number can be what its column holds. The bounds are no
// physics: they catch the values by which sensors say that they failed, -127,
// -999, -9999 (common practice, no source). The 85 degrees that one kind of
// thermometer shows after power-on may be true and stay.
func plausible(r Role, v float64) bool {
	switch r {
	case Temp:
		return v > -100
	case Humidity:
		return v >= 0
	case Pressure:
		return v > 0
	case Lat:
		return v >= -90 && v <= 90
	case Lon:
		return v >= -180 && v <= 360
	case Light, Light2:
		return v != -999 && v != -9999
	}
	return true
}
