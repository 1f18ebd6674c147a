package fit

import (
	"fmt"
	"iter"
)

// A Reason says why a log cannot tell the clock's error.
type Reason uint8

// The reasons, in the order in which they are looked for.
const (
	NoSamples       Reason = iota + 1 // nothing to read
	NotVisible                        // the Sun is down throughout the eclipse
	TooFew                            // too few readings to fit anything to
	Saturation                        // nearly all of the log is at the sensor's ceiling
	Night                             // the Sun was down while the log was written
	Covered                           // the Sun was up, and next to nothing reached the sensor
	Flat                              // the sensor shows one value, or hardly more
	Lamp                              // levels that the Sun's course leaves unmoved
	EndsEarly                         // the log ends before it can tell
	StartsLate                        // the log begins too late to tell
	NoOverlap                         // the log does not cover the eclipse, at any shift looked at
	CloudThroughout                   // too much cloud or shade to tell
	NoShift                           // the light falls and comes back, but as no shift of the prediction does
	NoDip                             // light was recorded, and no eclipse is in it
	Vague                             // a dip that fits so loosely that no time can be told
)

var reasons = [...]string{
	NoSamples:       "no usable light",
	NotVisible:      "not visible here",
	TooFew:          "too few samples",
	Saturation:      "saturated",
	Night:           "night",
	Covered:         "sensor covered",
	Flat:            "flat sensor",
	Lamp:            "indoor lamp",
	EndsEarly:       "the log ends before it can tell",
	StartsLate:      "the log begins too late to tell",
	NoOverlap:       "no overlap with the eclipse",
	CloudThroughout: "cloud throughout",
	NoShift:         "the dip matches no shift",
	NoDip:           "no eclipse in the light",
	Vague:           "too vague to tell",
}

// Reasons yields all reasons, in that order.
func Reasons() iter.Seq[Reason] {
	return func(yield func(Reason) bool) {
		for r := NoSamples; int(r) < len(reasons); r++ {
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

// mayFall says that a log refused for it may be that of a sensor upside down.
func (r Reason) mayFall() bool {
	switch r {
	case NoOverlap, NoShift, NoDip, CloudThroughout, Saturation, Covered, Vague:
		return true
	}
	return false
}

// Error makes a reason a sentinel: errors.Is(err, fit.NoDip).
func (r Reason) Error() string { return r.String() }

// A Refusal is the answer when the data cannot tell.
type Refusal struct {
	Reason Reason // for errors.Is
	Detail string // what was found, and what would help
}

// Error is the reason, what was found, and what would help.
func (r *Refusal) Error() string { return fmt.Sprintf("%v: %s", r.Reason, r.Detail) }

// Unwrap returns the reason.
func (r *Refusal) Unwrap() error { return r.Reason }

func refuse(r Reason, format string, args ...any) error {
	return &Refusal{Reason: r, Detail: fmt.Sprintf(format, args...)}
}
