package timescale

import (
	"math"
	"time"
)

// Civil time has followed UTC with whole leap seconds since 1972-01-01; TT - UTC
// is then 32.184 s plus a whole number that the IERS announces twice a year.

// A leap is the day from which a value of TAI-UTC holds.
type leap struct {
	from   time.Time // 0h UTC
	tai    int       // TAI-UTC from then on, s
	source string
}

// day is 0h UTC of a calendar day.
func day(year int, month time.Month, d int) time.Time {
	return time.Date(year, month, d, 0, 0, 0, 0, time.UTC)
}

// leaps lists every value of TAI-UTC since 1972. To add one, append a row with
// the number of the bulletin that announces it and move leapsKnownTo. Bulletin
// numbers are from memory; days and values are those of the IERS leap second
// list, which a test compares.
var leaps = [...]leap{
	{day(1972, 1, 1), 10, "CCIR Recommendation 460, start of UTC with leap seconds"},
	{day(1972, 7, 1), 11, "BIH circular; IERS leap second list"},
	{day(1973, 1, 1), 12, "BIH circular; IERS leap second list"},
	{day(1974, 1, 1), 13, "BIH circular; IERS leap second list"},
	{day(1975, 1, 1), 14, "BIH circular; IERS leap second list"},
	{day(1976, 1, 1), 15, "BIH circular; IERS leap second list"},
	{day(1977, 1, 1), 16, "BIH circular; IERS leap second list"},
	{day(1978, 1, 1), 17, "BIH circular; IERS leap second list"},
	{day(1979, 1, 1), 18, "BIH circular; IERS leap second list"},
	{day(1980, 1, 1), 19, "BIH circular; IERS leap second list"},
	{day(1981, 7, 1), 20, "BIH circular; IERS leap second list"},
	{day(1982, 7, 1), 21, "BIH circular; IERS leap second list"},
	{day(1983, 7, 1), 22, "BIH circular; IERS leap second list"},
	{day(1985, 7, 1), 23, "BIH circular; IERS leap second list"},
	{day(1988, 1, 1), 24, "BIH circular; IERS leap second list"},
	{day(1990, 1, 1), 25, "IERS Bulletin C, 1989"},
	{day(1991, 1, 1), 26, "IERS Bulletin C, 1990"},
	{day(1992, 7, 1), 27, "IERS Bulletin C, 1992"},
	{day(1993, 7, 1), 28, "IERS Bulletin C, 1993"},
	{day(1994, 7, 1), 29, "IERS Bulletin C, 1994"},
	{day(1996, 1, 1), 30, "IERS Bulletin C, 1995"},
	{day(1997, 7, 1), 31, "IERS Bulletin C, 1997"},
	{day(1999, 1, 1), 32, "IERS Bulletin C 16"},
	{day(2006, 1, 1), 33, "IERS Bulletin C 30"},
	{day(2009, 1, 1), 34, "IERS Bulletin C 36"},
	{day(2012, 7, 1), 35, "IERS Bulletin C 43"},
	{day(2015, 7, 1), 36, "IERS Bulletin C 49"},
	{day(2017, 1, 1), 37, "IERS Bulletin C 52"},
}

// leapsKnownTo ends the span over which no further leap second can come: the
// IERS list as updated through 2026.
var leapsKnownTo = day(2027, 1, 1)

// start is the instant at which the row comes into force.
func (l *leap) start() TT { return l.tt(l.from) }

// tt is the instant of a UTC reading to which the row applies.
func (l *leap) tt(utc time.Time) TT {
	s := float64(utc.Unix() - unixOfJ2000 + int64(l.tai))
	return TT(s + (float64(utc.Nanosecond())*1e-9 + ttMinusTAI))
}

// utc is the reading of an instant to which the row applies. Whole seconds are
// split off first: the sum of all parts would cost a bit at the microsecond.
func (l *leap) utc(t TT) time.Time {
	whole := math.Floor(float64(t))
	µs := math.Round((float64(t) - whole - ttMinusTAI) * 1e6)
	return time.Unix(unixOfJ2000+int64(whole)-int64(l.tai), int64(µs)*1000).UTC()
}

// leapAt is the row in force at an instant, nil before 1972.
func leapAt(t TT) *leap {
	for i := len(leaps) - 1; i >= 0; i-- {
		if t >= leaps[i].start() {
			return &leaps[i]
		}
	}
	return nil
}

// leapOn is the row in force at a UTC reading, nil before 1972.
func leapOn(utc time.Time) *leap {
	for i := len(leaps) - 1; i >= 0; i-- {
		if !utc.Before(leaps[i].from) {
			return &leaps[i]
		}
	}
	return nil
}
