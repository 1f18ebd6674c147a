package dips

import (
	"fmt"
	"math"
	"time"
)

// A Sense says which way the readings go as the light falls.
type Sense uint8

// The senses.
const (
	Auto    Sense = iota // found from the passages themselves
	Falling              // readings fall with the light
	Rising               // readings rise as the light falls, as of a cell at the bottom of a divider
)

// String is "auto", "falling" or "rising".
func (s Sense) String() string {
	if int(s) < len(senses) {
		return senses[s]
	}
	return fmt.Sprintf("Sense(%d)", uint8(s))
}

var senses = [...]string{"auto", "falling", "rising"}

// MarshalText writes what String returns; the error is always nil.
func (s Sense) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Options tunes the search. The zero value is the recommended setting.
type Options struct {
	// Sense is which way readings go as the light falls. Auto takes the way in which the
	// stronger passages go: a torch that shines into the sensor then passes for a ball before
	// a sensor that works the other way, unless there are balls too. Set it if you know it.
	Sense Sense
	// Dark is the reading in darkness, from which depths are counted. Zero is 0 for readings
	// that fall with the light; for those that rise it means that they go as 1/light.
	Dark float64
	// Shortest and Longest passage, from half way down to half way up, in seconds of the log.
	// Zero means three readings, and half an hour. Windows are at most a fifth of the log wide, and
	// a passage that is much longer is not found.
	Shortest, Longest time.Duration
	// MinDepth is the least depth that is reported, a fraction of the light, below 1. Zero
	// means 0.02: lamps do as much by themselves when the mains sag (common practice, no source).
	MinDepth float64
	// Threshold is how far a dip must stand out, in units of the noise at its own duration,
	// 3 or more. Zero means 6; see the package comment for what that lets through.
	Threshold float64
}

// Recommended settings; the package comment has what they were measured to do.
const (
	usualLongest   = 30 * time.Minute
	usualDepth     = 0.02
	usualThreshold = 6
	leastReadings  = 3 // in a passage: one is a spike, and so are two now and then
)

// check reports what cannot be.
func (o Options) check() error {
	switch {
	case o.Sense > Rising:
		return fmt.Errorf("%w: Sense %d", ErrOptions, o.Sense)
	case !(math.Abs(o.Dark) <= wildest):
		return fmt.Errorf("%w: Dark is %g", ErrOptions, o.Dark)
	case o.Shortest < 0 || o.Longest < 0 || o.Longest > 0 && o.Shortest > o.Longest:
		return fmt.Errorf("%w: passages from Shortest %v to Longest %v", ErrOptions, o.Shortest, o.Longest)
	case !(o.MinDepth >= 0 && o.MinDepth < 1):
		return fmt.Errorf("%w: MinDepth is %g, at least 0 and below 1 is wanted", ErrOptions, o.MinDepth)
	case o.Threshold != 0 && !(o.Threshold >= 3 && o.Threshold <= 1000):
		return fmt.Errorf("%w: Threshold is %g, 3 to 1000 is wanted", ErrOptions, o.Threshold)
	}
	return nil
}

// filled has the zeros replaced.
func (o Options) filled() Options {
	if o.Longest == 0 {
		o.Longest = max(usualLongest, o.Shortest)
	}
	if o.MinDepth == 0 { // exactly: not set
		o.MinDepth = usualDepth
	}
	if o.Threshold == 0 { // exactly: not set
		o.Threshold = usualThreshold
	}
	return o
}
