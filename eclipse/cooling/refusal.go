package cooling

import (
	"fmt"
	"iter"
)

// A Reason says why a log cannot tell the air's answer.
type Reason uint8

// The reasons, in the order in which they are looked for.
const (
	NotSeen    Reason = iota + 1 // no eclipse above this horizon
	NoReadings                   // no temperature in the log
	Failed                       // nearly all values are those of a failed sensor
	NoOverlap                    // the log does not cover the deep part and what follows
	TooFew                       // too few readings to tell a dip from the day's course
	Stuck                        // one value throughout
	TooCoarse                    // the step of the readings hides what there may be
	NoDrop                       // no drop that can be told from the trend
)

var reasons = [...]string{
	NotSeen:    "not seen here",
	NoReadings: "no temperature readings",
	Failed:     "failed thermometer",
	NoOverlap:  "log does not cover the eclipse",
	TooFew:     "too few readings",
	Stuck:      "thermometer stuck",
	TooCoarse:  "readings too coarse",
	NoDrop:     "no drop to be told from the trend",
}

// Reasons yields all reasons, in that order.
func Reasons() iter.Seq[Reason] {
	return func(yield func(Reason) bool) {
		for r := NotSeen; int(r) < len(reasons); r++ {
			if !yield(r) {
				return
			}
		}
	}
}

// String says the reason in a few words, as for a table.
func (r Reason) String() string {
	if int(r) < len(reasons) && reasons[r] != "" {
		return reasons[r]
	}
	return fmt.Sprintf("reason %d", uint8(r))
}

// Error makes a reason a sentinel: errors.Is(err, cooling.NoDrop).
func (r Reason) Error() string { return r.String() }

// A Refusal is the answer when the readings cannot tell.
type Refusal struct {
	Reason Reason // for errors.Is
	Detail string // what was found, and what would help
}

// Error says what is wrong, what was found and what was wanted.
func (r *Refusal) Error() string { return fmt.Sprintf("%v: %s", r.Reason, r.Detail) }

// Unwrap returns the reason.
func (r *Refusal) Unwrap() error { return r.Reason }

func refuse(r Reason, format string, args ...any) error {
	return &Refusal{Reason: r, Detail: fmt.Sprintf(format, args...)}
}
