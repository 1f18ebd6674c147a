package timescale

import (
	"math"
	"testing"
	"time"
)

// J. Meeus, Astronomical Algorithms, 2nd ed., p. 62: Julian Dates of calendar dates.
func TestJulianDates(t *testing.T) {
	for _, c := range []struct {
		reading string
		jd      float64
	}{
		{"2000-01-01T12:00:00Z", 2451545},
		{"1999-01-01T00:00:00Z", 2451179.5},
		{"1987-01-27T00:00:00Z", 2446822.5},
		{"1987-06-19T12:00:00Z", 2446966},
		{"1900-01-01T00:00:00Z", 2415020.5},
	} {
		clock, err := time.Parse(time.RFC3339, c.reading)
		if err != nil {
			t.Fatal(err)
		}
		tt := FromJulianDate(math.Floor(c.jd), c.jd-math.Floor(c.jd))
		if float64(tt) != secondsOf(clock) {
			t.Errorf("%s is %f s, from its Julian Date %f", c.reading, secondsOf(clock), float64(tt))
		}
		if got := tt.JulianDate(); got != c.jd {
			t.Errorf("%s: Julian Date %f, want %f (Meeus)", c.reading, got, c.jd)
		}
		if got := UT1(tt).Time(); !got.Equal(clock) {
			t.Errorf("reads %v, want %s", got, c.reading)
		}
	}
	if c := FromJulianDate(2488070, 0).Centuries(); c != 1 {
		t.Errorf("36525 days are %g centuries", c)
	}
}
