package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
)

// number reads a decimal number and half the unit of its last digit: 0.98 is good
// to 0.005, 120 to 0.5 and 1e-3 to 0.0005. Hexadecimals, infinities and NaN, which
// Go would take, are no numbers here.
func number(s string) (v, half float64, err error) {
	bad := fmt.Errorf("%q is no number (digits with a point, without a unit)", s)
	mantissa, power := s, 0
	if i := strings.IndexAny(s, "eE"); i >= 0 {
		mantissa = s[:i]
		if power, err = strconv.Atoi(s[i+1:]); err != nil {
			return 0, 0, bad
		}
	}
	mantissa = strings.TrimLeft(mantissa, "+-")
	whole, fraction, _ := strings.Cut(mantissa, ".")
	if whole+fraction == "" || !digits(whole) || !digits(fraction) {
		return 0, 0, bad
	}
	if v, err = strconv.ParseFloat(s, 64); err != nil {
		return 0, 0, bad
	}
	return v, 0.5 * math.Pow10(power-len(fraction)), nil
}

func digits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return true
}

// instant reads an RFC 3339 instant and half the unit of its last digit, s. A space
// may stand for the T, as that standard allows, and the seconds may be missing:
// almanacs give sunrise eclipses to the minute, which is good to half of one.
func instant(s string) (at time.Time, half float64, err error) {
	bad := fmt.Errorf("%q is no instant like 2027-08-02T08:47:28.3Z", s)
	if len(s) < len("2006-01-02T15:04Z") || s[13] != ':' || !strings.Contains("Tt ", s[10:11]) {
		return at, 0, bad
	}
	s = s[:10] + "T" + strings.ToUpper(s[11:])
	if at, err = time.Parse("2006-01-02T15:04Z07:00", s); err == nil {
		return at.UTC(), 30, nil
	}
	if at, err = time.Parse(time.RFC3339, s); err != nil {
		if _, noZone := time.Parse("2006-01-02T15:04:05", s); noZone == nil {
			return at, 0, fmt.Errorf("%q has no zone, write Z behind it for UTC or UT", s)
		}
		return at, 0, bad
	}
	n := 0 // digits of the fraction of a second
	if tail := s[len("2006-01-02T15:04:05"):]; tail[0] == '.' || tail[0] == ',' {
		n = strings.IndexAny(tail, "Z+-") - 1
	}
	return at.UTC(), 0.5 * math.Pow10(-n), nil
}

// A figure is what is claimed or computed: an instant, a number, or nothing.
type figure struct {
	kind figureKind
	at   time.Time // in the claim's scale
	v    float64
}

type figureKind uint8

const (
	nothing figureKind = iota
	anInstant
	aNumber
)

// minus is the difference in the figure's unit, s for instants. Both are of one
// kind. Durations of the time package end after 292 years, and claims need not.
func (f figure) minus(g figure) float64 {
	if f.kind == anInstant {
		return float64(f.at.Unix()-g.at.Unix()) + float64(f.at.Nanosecond()-g.at.Nanosecond())*1e-9
	}
	return f.v - g.v
}
