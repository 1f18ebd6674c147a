package sun

import (
	"errors"
	"testing"
	"time"
	_ "time/tzdata" // the zones below, whatever the machine has

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun/timescale"
)

func zone(t testing.TB, name string) *time.Location {
	t.Helper()
	loc, err := time.LoadLocation(name)
	require.NoError(t, err)
	return loc
}

// The tz database (IANA, 2024 or later) on days that begin or last unusually.
func TestCivilDays(t *testing.T) {
	for _, c := range []struct {
		zone       string
		y, m, d    int
		start, end string // UTC
		why        string
	}{
		{"UTC", 2027, 8, 2, "2027-08-02T00:00:00Z", "2027-08-03T00:00:00Z", "an even day"},
		{"Europe/Madrid", 2027, 8, 2, "2027-08-01T22:00:00Z", "2027-08-02T22:00:00Z", "summer time"},
		{"Europe/Madrid", 2026, 3, 29, "2026-03-28T23:00:00Z", "2026-03-29T22:00:00Z", "23 hours"},
		{"Europe/Madrid", 2026, 10, 25, "2026-10-24T22:00:00Z", "2026-10-25T23:00:00Z", "25 hours"},
		{"America/Sao_Paulo", 2017, 10, 15, "2017-10-15T03:00:00Z", "2017-10-16T02:00:00Z", "no midnight: begins at 01:00"},
		{"America/Havana", 2023, 11, 5, "2023-11-05T04:00:00Z", "2023-11-06T05:00:00Z", "00:00 to 01:00 twice"},
		{"America/Sao_Paulo", 2018, 2, 17, "2018-02-17T02:00:00Z", "2018-02-18T03:00:00Z", "23:00 to 24:00 twice"},
		{"Pacific/Kiritimati", 2026, 1, 1, "2025-12-31T10:00:00Z", "2026-01-01T10:00:00Z", "14 hours ahead"},
		{"Asia/Kathmandu", 2026, 1, 1, "2025-12-31T18:15:00Z", "2026-01-01T18:15:00Z", "a quarter hour"},
		{"UTC", 2024, 2, 29, "2024-02-29T00:00:00Z", "2024-03-01T00:00:00Z", "a leap day"},
		{"UTC", 2026, 12, 31, "2026-12-31T00:00:00Z", "2027-01-01T00:00:00Z", "the year's last"},
	} {
		loc := zone(t, c.zone)
		for _, hour := range []int{4, 12, 22} {
			start, end := civilDay(time.Date(c.y, time.Month(c.m), c.d, hour, 30, 0, 5, loc))
			if s, e := start.UTC().Format(time.RFC3339Nano), end.UTC().Format(time.RFC3339Nano); s != c.start || e != c.end {
				t.Errorf("%s %d-%d-%d at %d h, %s: from %s to %s, want %s to %s", c.zone, c.y, c.m, c.d, hour, c.why, s, e, c.start, c.end)
			}
		}
	}
}

// Days leave no gap and no overlap, whatever a zone does at midnight.
func TestDaysJoin(t *testing.T) {
	for _, name := range []string{"Pacific/Apia", "America/St_Johns", "Africa/Cairo", "Asia/Beirut", "America/Asuncion"} {
		loc := zone(t, name)
		for _, year := range []int{1988, 2006, 2011} {
			for day := 1; day <= 366; day++ {
				noon := time.Date(year, 1, day, 12, 0, 0, 0, loc)
				start, end := civilDay(noon)
				next, _ := civilDay(time.Date(year, 1, day+1, 12, 0, 0, 0, loc))
				missing := name == "Pacific/Apia" && next.Day() == 31 && next.Month() == 12 && year == 2011
				if !end.Equal(next) && !missing {
					t.Errorf("%s %s ends %v, the next begins %v", name, noon.Format(time.DateOnly), end, next)
				}
				if noon.Before(start) || !noon.Before(end) {
					t.Errorf("%s: noon %v is not in its day, %v to %v", name, noon, start, end)
				}
			}
		}
	}
}

func TestDayRefusals(t *testing.T) {
	o, err := NewObserver(Site{Lat: -13.8, Lon: -171.8}, timescale.Scale{})
	require.NoError(t, err)
	for _, year := range []int{-2001, 6001, 20000} {
		var e *RangeError
		if _, err := o.Day(time.Date(year, 1, 1, 0, 0, 0, 0, time.UTC)); !errors.As(err, &e) {
			t.Errorf("the year %d was taken: %v", year, err)
		}
	}
	var e *RangeError
	if _, err := o.Day(time.Date(2027, 8, 2, 0, 0, 0, 0, time.FixedZone("far", 25*3600))); !errors.As(err, &e) {
		t.Errorf("a zone 25 hours from UTC was taken: %v", err)
	}
}
