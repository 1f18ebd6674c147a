package canon

import "fmt"

// A NoEclipseError says that no eclipse of the catalogue is greatest on a day or the
// days next to it, and which are nearest. Dates are UTC days, YYYY-MM-DD.
type NoEclipseError struct {
	Date          string // that was asked for
	Before, After string // nearest eclipses; empty where the catalogue has none
	First, Last   string // of the catalogue
}

// Error names the day and the eclipses before and after it.
func (e *NoEclipseError) Error() string {
	if e.Before == "" || e.After == "" {
		return fmt.Sprintf("canon: no eclipse within a day of %s: the catalogue runs from %s to %s", e.Date, e.First, e.Last)
	}
	return fmt.Sprintf("canon: no eclipse within a day of %s: the one before is on %s, the next on %s (catalogue %s to %s)",
		e.Date, e.Before, e.After, e.First, e.Last)
}
