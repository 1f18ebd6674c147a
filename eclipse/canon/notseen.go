package canon

import (
	"fmt"
	"time"

	"example.org/noonfall/sun"
)

// A NotSeenError says that the catalogue runs out before a site sees what was
// asked for.
type NotSeenError struct {
	Site        sun.Site  // that was asked about
	From        time.Time // where the search began
	Forward     bool      // Next, not Last
	First, Last string    // of the catalogue, UTC days, YYYY-MM-DD
}

func (c *Catalogue) notSeen(site sun.Site, from time.Time, forward bool) *NotSeenError {
	return &NotSeenError{site, from, forward, c.dateOf(0), c.dateOf(len(c.eclipses) - 1)}
}

// Error names the place, where the search began and the days that the catalogue covers.
func (e *NotSeenError) Error() string {
	side := "before"
	if e.Forward {
		side = "after"
	}
	return fmt.Sprintf("canon: no such eclipse at latitude %g, longitude %g %s %s in the catalogue, %s to %s: ask for less, or elsewhere",
		e.Site.Lat, e.Site.Lon, side, e.From.UTC().Format(time.RFC3339), e.First, e.Last)
}
