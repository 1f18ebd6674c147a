package logfile

import (
	"slices"
	"time"
)

const (
	recentSteps = 15               // whose median is the cadence
	settleAfter = 5                // steps before there is a cadence
	gapFactor   = 10               // cadences that nobody misses; common practice, no source
	leastGap    = 20 * time.Second // nobody misses less
)

// A cadence is the usual step from one record to the next, from the recent ones.
type cadence struct {
	steps  int
	recent [recentSteps]time.Duration
}

func (c *cadence) add(step time.Duration) {
	c.recent[c.steps%recentSteps] = step
	c.steps++
}

// median is the cadence, 0 before there are enough steps.
func (c *cadence) median() time.Duration {
	n := min(c.steps, recentSteps)
	if n < settleAfter {
		return 0
	}
	sorted := c.recent
	slices.Sort(sorted[:n])
	return sorted[n/2]
}
