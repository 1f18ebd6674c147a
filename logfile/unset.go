package logfile

import "time"

// epochs are the instants from which clocks count when nobody has set them, in
// seconds since 1970.
var epochs = []struct {
	at     int64
	source string
}{
	{time.Date(1900, 1, 1, 0, 0, 0, 0, time.UTC).Unix(), "RFC 5905: the prime epoch of network time"},
	{time.Date(1970, 1, 1, 0, 0, 0, 0, time.UTC).Unix(), "IEEE Std 1003.1-2017, 4.16: seconds since the epoch"},
	{time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC).Unix(), "ECMA-107: the first year of a file's date; satellite time counts from 6 January (IS-GPS-200)"},
	{time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC).Unix(), "clock chips with a year of two digits; common practice, no source"},
}

const (
	day       = 24 * time.Hour
	farthest  = 14 * 3600     // s: no zone is farther from UTC
	unsetSpan = 366 * 86400   // s that a clock may run unset
	yearLeast = 365 * day     // no gap of a log
	firstSpan = 86400 + 43200 // s: the first day, in any zone
)

// sinceEpoch says that a stamp is less than so many seconds after one of the epochs,
// or before it by no more than a zone may be.
func sinceEpoch(t time.Time, span int64) bool {
	at := t.Unix()
	for i := range epochs {
		if since := at - epochs[i].at; since >= -farthest && since < span {
			return true
		}
	}
	return false
}
