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
	StepForward                      // a jump of a day or more
)

var eventNames = [...]string{Gap: "gap", Duplicate: "duplicate", StepBack: "step back", StepForward: "step forward"}

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

// A Watch sees the records of one file in their order and says what the clock
// did. A file whose rows run backwards throughout (newest first) is taken as it
// is: once most steps are backwards, it is the forward ones that are events. The
// zero value is ready; it is single-use.
type Watch struct {
	last   time.Time
	seen   int
	sign   int // back steps less forward ones, over the first records
	recent []float64
}

const (
	watchRecent  = 15               // steps whose median is the cadence
	gapFactor    = 10               // of the cadence; common practice, no source
	leastGap     = 20 * time.Second // nobody misses less
	forwardLeast = 20 * time.Hour   // a day missing, or the date set wrong
	settleAfter  = 5                // records before the direction is taken as known
)

// See takes the next record and returns the event before it, if there is one.
func (w *Watch) See(r Record) (Event, bool) {
	defer func() { w.last = r.Time; w.seen++ }()
	if w.seen == 0 {
		return Event{}, false
	}
	step := r.Time.Sub(w.last)
	e := Event{Line: r.Line, From: w.last, To: r.Time, Seconds: step.Seconds()}
	switch {
	case step == 0:
		e.Kind = Duplicate
		return e, true
	case step > 0:
		w.sign++
	default:
		w.sign--
	}
	if w.sign < 0 { // newest first
		step = -step
	}
	if step < 0 {
		e.Kind = StepBack
		return e, w.seen >= settleAfter
	}
	cadence := w.cadence()
	w.recent = append(w.recent, step.Seconds())
	if len(w.recent) > watchRecent {
		w.recent = w.recent[1:]
	}
	switch {
	case step >= forwardLeast:
		e.Kind = StepForward
		return e, true
	case cadence > 0 && step >= leastGap && step.Seconds() > gapFactor*cadence:
		e.Kind = Gap
		return e, true
	}
	return Event{}, false
}

func (w *Watch) cadence() float64 {
	if len(w.recent) < settleAfter {
		return 0
	}
	s := slices.Sorted(slices.Values(w.recent))
	return s[len(s)/2]
}
