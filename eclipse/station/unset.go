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
// eclipse, however far a zone is searched.
func isUnset(t, day time.Time) bool { return t.Sub(day).Abs() > unsetAfter }

// unsetAfter is further from the eclipse than anybody rehearses for it, and less than
// the years between it and the epochs of 1970, 1980 and 2000 at which clocks start that
// were never set. (Common practice, no source.)
const unsetAfter = 4 * 366 * 24 * time.Hour
