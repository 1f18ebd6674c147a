package canon

import (
	_ "embed"
	"fmt"
	"iter"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon/internal/packed"
	"example.org/noonfall/sun/timescale"
)

//go:generate go run ./internal/gencanon -in internal/gencanon/testdata/positions.csv.gz -out canon.bin

//go:embed canon.bin
var file []byte

// A Catalogue holds the elements of solar eclipses in order of time. There is
// one, and [Load] returns it; it cannot be changed and is safe for concurrent use.
type Catalogue struct {
	eclipses []*eclipse.Elements
	days     []int64 // of T0 in UTC, days since 1970-01-01; greatest eclipse is on it or next to it
	made     Provenance
	recent   atomic.Pointer[ready] // for the options of the search before
}

// Provenance says how the catalogue was made, so that it can be made again.
type Provenance struct {
	Command string // to run in the package's folder
	SHA256  string // of the file of positions that the command reads, hexadecimal
	Source  string // ephemeris and reductions
}

var load = sync.OnceValues(func() (*Catalogue, error) { return read(file) })

// Load returns the catalogue. The first call unpacks it, in half a millisecond;
// later calls cost nothing. The error, which can only mean that the embedded data were
// damaged before the program was built, is the same at every call.
func Load() (*Catalogue, error) { return load() }

// read unpacks a catalogue.
func read(file []byte) (*Catalogue, error) {
	header, elements, err := packed.Decode(file)
	if err != nil {
		return nil, fmt.Errorf("canon: %w", err)
	}
	c := &Catalogue{
		eclipses: elements,
		days:     make([]int64, len(elements)),
		made:     Provenance{Command: header.Command, SHA256: header.SHA256, Source: header.Source},
	}
	var scale timescale.Scale
	for i, e := range elements {
		e.DeltaT = scale.DeltaT(e.T0).Seconds
		c.days[i] = dayNumber(scale.UTC(e.T0))
	}
	return c, nil
}

// Len returns the number of eclipses: 452.
func (c *Catalogue) Len() int { return len(c.eclipses) }

// Provenance returns how the catalogue was made.
func (c *Catalogue) Provenance() Provenance { return c.made }

// All returns an iterator over the eclipses in order of time. Each is a copy
// that the caller may keep and change.
func (c *Catalogue) All() iter.Seq[*eclipse.Elements] {
	return func(yield func(*eclipse.Elements) bool) {
		for _, e := range c.eclipses {
			if !yield(clone(e)) {
				return
			}
		}
	}
}

// On returns the eclipse whose greatest instant falls on the UTC day of date,
// or on the day before or after, since an eclipse near midnight has another
// date elsewhere. Two solar eclipses are never closer than 29 days, so there is
// no choice to make. The hour of date does not matter, its location does: the
// day is that of date.UTC(). The result is a copy that the caller may change.
// Where there is none the error is a [*NoEclipseError].
func (c *Catalogue) On(date time.Time) (*eclipse.Elements, error) {
	day := dayNumber(date)
	i, _ := slices.BinarySearch(c.days, day-2)
	for ; i < len(c.days) && c.days[i] <= day+2; i++ { // twice at most
		switch greatest := c.greatestDay(i); {
		case greatest > day+1:
			return nil, c.miss(date, i)
		case greatest >= day-1:
			return clone(c.eclipses[i]), nil
		}
	}
	return nil, c.miss(date, i)
}

// miss makes the error for a date whose next eclipse is number next.
func (c *Catalogue) miss(date time.Time, next int) *NoEclipseError {
	e := &NoEclipseError{
		Date:  date.UTC().Format(time.DateOnly),
		First: c.dateOf(0), Last: c.dateOf(len(c.days) - 1),
	}
	if next > 0 {
		e.Before = c.dateOf(next - 1)
	}
	if next < len(c.days) {
		e.After = c.dateOf(next)
	}
	return e
}

// greatestDay returns the UTC day of greatest eclipse, days since 1970-01-01.
func (c *Catalogue) greatestDay(i int) int64 {
	return dayNumber(timescale.Scale{}.UTC(c.eclipses[i].Greatest().TT))
}

// dateOf returns the same day as a date.
func (c *Catalogue) dateOf(i int) string {
	return time.Unix(c.greatestDay(i)*secondsPerDay, 0).UTC().Format(time.DateOnly)
}

const secondsPerDay = 86400

// dayNumber counts UTC days from 1970-01-01; those of all instants do not fit into 32 bits.
func dayNumber(t time.Time) int64 {
	s := t.Unix()
	day := s / secondsPerDay
	if s%secondsPerDay < 0 {
		day--
	}
	return day
}

// clone copies elements; the copies of the polynomials lie in one array, each
// closed at its end so that append cannot run into the next.
func clone(e *eclipse.Elements) *eclipse.Elements {
	copied := *e
	polynomials := []*eclipse.Poly{
		&copied.X, &copied.Y, &copied.D, &copied.Mu,
		&copied.L1, &copied.L2, &copied.TanF1, &copied.TanF2,
	}
	n := 0
	for _, p := range polynomials {
		n += len(*p)
	}
	all := make(eclipse.Poly, 0, n)
	for _, p := range polynomials {
		start := len(all)
		all = append(all, *p...)
		*p = all[start:len(all):len(all)]
	}
	return &copied
}
