package logfile

import (
	"fmt"
	"slices"
	"time"
)

// An EventKind is something that a logger's clock did between two records.
type EventKind uint8

// The kinds of event.
const (
	Gap         EventKind = iota + 1 // no records for far longer than the cadence
	Duplicate                        // the same stamp again
	StepBack                         // a stamp before the one before
	StepForward                      // a jump of most of a day or more
)

var eventNames = [...]string{Gap: "gap", Duplicate: "duplicate", StepBack: "step back", StepForward: "step forward"}

// String is the name as it is printed.
func (k EventKind) String() string {
	if int(k) < len(eventNames) && eventNames[k] != "" {
		return eventNames[k]
	}
	return fmt.Sprintf("event %d", uint8(k))
}

// An Event is where the clock did something, from one record's stamp to the next's.
type Event struct {
	Kind     EventKind
	Line     int // of the later record
	From, To time.Time
	Seconds  float64 // To less From
}

const (
	watchRecent  = 15               // steps whose median is the cadence
	gapFactor    = 10               // of the cadence; common practice, no source
	leastGap     = 20 * time.Second // nobody misses less
	forwardLeast = 20 * time.Hour   // a day missing, or the date set wrong
	settleAfter  = 5                // steps before there is a cadence
)

// A Watch sees the records of one file in their order and says what the clock
// did, without keeping them. A file whose rows run backwards throughout (newest
// first) is taken as it is: it is the steps against the run of the file that are
// StepBack. The zero value is ready; it is single-use and not safe for concurrent
// use. What is known only later (that the very first step was against the run)
// Events tells, from all the records.
type Watch struct {
	last   time.Time
	seen   int
	sign   int // steps forward less steps back
	steps  int // that count for the cadence
	recent [watchRecent]time.Duration
}

// See takes the next record and returns the event before it, if there is one.
func (w *Watch) See(r Record) (Event, bool) {
	from := w.last
	w.last = r.Time
	w.seen++
	if w.seen == 1 {
		return Event{}, false
	}
	step := r.Time.Sub(from)
	run := w.sign
	switch {
	case step > 0:
		w.sign++
	case step < 0:
		w.sign--
	}
	if run == 0 && w.seen == 2 {
		run = w.sign // nothing else is known yet
	}
	kind := w.kind(step, run)
	return Event{Kind: kind, Line: r.Line, From: from, To: r.Time, Seconds: step.Seconds()}, kind != 0
}

// kind judges a step in a file that runs forward or back; 0 is no event.
func (w *Watch) kind(step time.Duration, run int) EventKind {
	if step == 0 {
		return Duplicate
	}
	if run < -1 || run < 0 && step < 0 { // one step back does not make a file run back
		step = -step
	}
	if step < 0 {
		return StepBack
	}
	if step >= forwardLeast {
		return StepForward
	}
	cadence := w.cadence()
	w.recent[w.steps%watchRecent] = step
	w.steps++
	if cadence > 0 && step >= leastGap && step > gapFactor*cadence {
		return Gap
	}
	return 0
}

// cadence is the median of the recent steps, 0 before there are enough.
func (w *Watch) cadence() time.Duration {
	n := min(w.steps, watchRecent)
	if n < settleAfter {
		return 0
	}
	sorted := w.recent
	slices.Sort(sorted[:n])
	return sorted[n/2]
}

// Events are what the clock did among the records of one file, in their order.
func Events(records []Record) []Event {
	var w Watch
	for i := 1; i < len(records); i++ {
		w.sign += records[i].Time.Compare(records[i-1].Time)
	}
	w.sign *= 2 // so that no single step changes the run
	var out []Event
	for _, r := range records {
		if e, ok := w.See(r); ok {
			out = append(out, e)
		}
	}
	return out
}
