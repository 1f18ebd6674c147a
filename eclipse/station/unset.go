package station

import "time"

// An unsetClock counts the records of a clock that was never set, and how often
// it fell back to that.
type unsetClock struct {
	Records, Spells int
	within          bool
}

func (u *unsetClock) add(o unsetClock) { u.Records, u.Spells = u.Records+o.Records, u.Spells+o.Spells }

// see says whether a stamp is one of an unset clock, and counts it. Such a stamp
// says nothing about the eclipse, however far a zone is searched.
func (u *unsetClock) see(t, day time.Time) bool {
	is := t.Sub(day).Abs() > unsetAfter
	if is {
		u.Records++
		if !u.within {
			u.Spells++
		}
	}
	u.within = is
	return is
}

// unsetAfter is further from the eclipse than anybody rehearses for it, and less than
// the years between it and the epochs of 1970, 1980 and 2000 at which clocks start that
// were never set. (Common practice, no source.)
const unsetAfter = 4 * 366 * 24 * time.Hour
