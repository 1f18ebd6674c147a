package station

import (
	"errors"
	"strings"
	"testing"
	"time"

	"example.org/noonfall/sun"
)

// A refusal says what to do about it: which mornings the log has instead, how often to
// read, or that the season is wrong.
func TestMorningRefusalsSayWhatToDo(t *testing.T) {
	clear := newSham(7)
	whole := clear.samples()
	var days, sparse, circling []MorningSample
	for day := range 5 {
		for _, s := range whole {
			s.Time = s.Time.AddDate(0, 0, day)
			days = append(days, s)
		}
	}
	for i, s := range whole {
		if i%75 == 0 {
			sparse = append(sparse, s)
		}
	}
	for minute := range 12 * 60 {
		at := time.Date(2027, 6, 21, 0, minute, 0, 0, time.UTC)
		circling = append(circling, MorningSample{Time: at, Value: 100 + float64(minute)})
	}
	date := func(day int) string { return clear.day.AddDate(0, 0, day).Format("2 January 2006") }
	for name, tt := range map[string]struct {
		samples []MorningSample
		site    sun.Site
		day     time.Time
		reason  string
		tells   []string
	}{
		"nothing":        {nil, clear.site, time.Time{}, SunTooLow, []string{"no reading"}},
		"another day":    {whole, clear.site, clear.day.AddDate(0, 0, 1), SunTooLow, []string{"no morning of " + date(1), "but of " + date(0)}},
		"a week later":   {days, clear.site, clear.day.AddDate(0, 0, 7), SunTooLow, []string{date(0) + ", " + date(1) + ", " + date(2) + ", and more until " + date(4)}},
		"the other side": {whole, sun.Site{Lat: clear.site.Lat, Lon: clear.site.Lon + 150}, time.Time{}, SunTooLow, []string{"zone", "site"}},
		"every 25 min":   {sparse, clear.site, time.Time{}, ShortClimb, []string{"at least once in five minutes"}},
		"round the pole": {circling, sun.Site{Lat: 89}, time.Time{}, ShortClimb, []string{"only climbs from 22 to 24 degrees", "another season"}},
	} {
		_, err := FitMorning(tt.samples, tt.site, MorningOptions{Day: tt.day})
		var no *Refusal
		if !errors.As(err, &no) || no.Reason != tt.reason {
			t.Errorf("%s: %v, want %q", name, err, tt.reason)
			continue
		}
		for _, words := range tt.tells {
			if !strings.Contains(no.Detail, words) {
				t.Errorf("%s: %q lacks %q", name, no.Detail, words)
			}
		}
	}
}
