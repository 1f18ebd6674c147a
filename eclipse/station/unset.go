package station

import "time"

// An unsetClock counts the records of a clock that was never set, how often it fell
// back to that, and how many of them were put right.
type unsetClock struct {
	Records, Spells, Mended int

	within bool
}

func (u *unsetClock) add(o unsetClock) {
	u.Records += o.Records
	u.Spells += o.Spells
	u.Mended += o.Mended
}

// see counts a stamp if it is one of an unset clock.
func (u *unsetClock) see(t, day time.Time) {
	is := isUnset(t, day)
	if is {
		u.Records++
		if !u.within {
			u.Spells++
		}
	}
	u.within = is
}

// isUnset tells the stamp of a clock that was never set. It says nothing about the
// eclipse, however far a zone is searched. A log of another day is not unset.
func isUnset(t, day time.Time) bool {
	after := t.Unix() - day.Unix()
	return after > unsetAhead || after < -unsetBehind && t.Before(unsetBefore)
}

// The bounds of stamps of a clock that was never set; common practice, no source.
const (
	unsetBehind = 4 * 366 * 86400  // s, more than anybody rehearses before an eclipse
	unsetAhead  = 30 * 366 * 86400 // s, a chip that holds nonsense
)

// unsetBefore is the end of what such clocks show: they start in 1970, 1980 or 2000
// (see package logfile) and may run on for years.
var unsetBefore = time.Date(2003, 1, 1, 0, 0, 0, 0, time.UTC)
