package logfile

import (
	"cmp"
	"fmt"
	"time"
)

// An EventKind is something that a logger's clock did between two records.
type EventKind uint8

// The kinds of event. What comes first in this list of rules holds:
//
//	Restart      a count since the logger's start began again (Record.Restarted)
//	Duplicate    no step
//	Reset        a step back by more than a year to the first year after an epoch, or
//	             by any time to the first day after it: 1900, 1970, 1980, 2000
//	Midnight     a step back by a day, less what is no gap
//	StepBack     any other step back
//	Set          a step on by more than a year from the first year after an epoch
//	Restart      a header came again, and more than two cadences passed
//	StepForward  20 hours or more, but in a merged series not to another file (the
//	             line numbers turn): there it is a Gap
//	Gap          more than 10 cadences and at least 20 s
//
// The epochs have their sources; the lengths are common practice, no source. That the
// clock of a logger passes midnight is no event.
const (
	Gap         EventKind = iota + 1 // no records for far longer than the cadence
	Duplicate                        // the same stamp again
	StepBack                         // a stamp before the one before
	StepForward                      // a jump of most of a day or more: days missing, or the date set
	Reset                            // the clock fell to its epoch: it lost its power
	Set                              // from the epoch to a real date: something set it
	Restart                          // the logger started again, and its clock is right
	Midnight                         // the time of day passed midnight and the date stayed
)

var eventNames = [...]string{
	Gap: "gap", Duplicate: "duplicate", StepBack: "step back", StepForward: "step forward",
	Reset: "reset", Set: "set", Restart: "restart", Midnight: "midnight without a new date",
}

// String says in a word or two what the clock did, as "step back".
func (k EventKind) String() string {
	if int(k) < len(eventNames) && eventNames[k] != "" {
		return eventNames[k]
	}
	return fmt.Sprintf("event %d", uint8(k))
}

// An Event is where the clock did something, from one record's stamp to the next's.
type Event struct {
	Kind     EventKind // what the clock did
	Line     int       // of the later record
	From, To time.Time
	Seconds  float64 // To less From
}

const (
	forwardLeast  = 20 * time.Hour // a day missing, or the date set wrong
	restartFactor = 2              // cadences that a restart takes at least; common practice, no source
)

// A Watch sees the records of one file in their order and says what the clock
// did, without keeping them. A file whose rows run backwards throughout (newest
// first) is taken as it is: it is the steps against the run of the file that are
// steps back, and the kinds say what the clock did as time went on. The zero value is
// ready; it is single-use and not safe for concurrent use. What is known only later
// (that the very first step was against the run) Events tells, from all the records.
type Watch struct {
	last  time.Time
	line  int
	seen  int
	sign  int // steps forward less steps back
	lines int // line numbers that rose less those that fell
	pace  cadence
}

// See takes the next record and returns the event before it, if there is one.
func (w *Watch) See(r Record) (Event, bool) {
	from := w.last
	otherFile := w.turns(r.Line)
	w.last = r.Time
	w.seen++
	if w.seen == 1 {
		return Event{}, false
	}
	step := elapsed(from, r.Time)
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
	backwards := run < -1 || run < 0 && step < 0 // one step back does not make a file run back
	along := step
	if backwards {
		along = -step
	}
	if along > 0 && along < leastGap && !r.HeaderAgain && !r.Restarted { // nearly all of them
		w.pace.add(along)
		return Event{}, false
	}
	move := move{step: along, before: from, after: r.Time, restarted: r.Restarted, headerAgain: r.HeaderAgain, otherFile: otherFile}
	if backwards {
		move.before, move.after = r.Time, from
	}
	kind := w.kind(&move)
	return Event{Kind: kind, Line: r.Line, From: from, To: r.Time, Seconds: step.Seconds()}, kind != 0
}

// elapsed is to.Sub(from), in a third of the time where they are years apart at most.
func elapsed(from, to time.Time) time.Duration {
	const years = 1e9 // s
	if s := to.Unix() - from.Unix(); -years < s && s < years {
		return time.Duration(s)*time.Second + time.Duration(to.Nanosecond()-from.Nanosecond())
	}
	return to.Sub(from)
}

// turns says that the line numbers go on against their run so far, as they do where
// another file begins: one whose rows ran backwards has them falling, once merged.
func (w *Watch) turns(line int) bool {
	rise := cmp.Compare(line, w.line)
	turns := w.seen > 0 && line > 0 && (rise == 0 || rise > 0 && w.lines < 0 || rise < 0 && w.lines >= 0)
	if w.line = line; w.seen > 0 {
		w.lines += rise
	}
	return turns
}

// A move is what lies between two records, as time went on.
type move struct {
	step                              time.Duration
	before, after                     time.Time
	restarted, headerAgain, otherFile bool
}

// kind judges a move that is not just a step on, as See does; 0 is no event.
func (w *Watch) kind(m *move) EventKind {
	switch {
	case m.restarted:
		return Restart
	case m.step == 0:
		return Duplicate
	case m.step < 0:
		return w.kindBack(m)
	case m.step > yearLeast && sinceEpoch(m.before, unsetSpan):
		return Set
	}
	cadence := w.pace.median()
	switch {
	case m.headerAgain && cadence > 0 && m.step > restartFactor*cadence:
		return Restart
	case m.step >= forwardLeast && m.otherFile:
		return Gap
	case m.step >= forwardLeast:
		return StepForward
	}
	w.pace.add(m.step)
	if cadence > 0 && m.step >= leastGap && m.step > gapFactor*cadence {
		return Gap
	}
	return 0
}

// kindBack judges a step back.
func (w *Watch) kindBack(m *move) EventKind {
	switch {
	case sinceEpoch(m.after, firstSpan), m.step < -yearLeast && sinceEpoch(m.after, unsetSpan):
		return Reset
	case m.step+day > 0 && m.step+day <= max(leastGap, gapFactor*w.pace.median()):
		return Midnight
	}
	return StepBack
}

// watchOf is a Watch that knows which way the records run.
func watchOf(records []Record) Watch {
	var w Watch
	for i := 1; i < len(records); i++ {
		w.sign += records[i].Time.Compare(records[i-1].Time)
	}
	if w.sign *= 2; w.sign == 0 { // so that no single step changes the run
		w.sign = 1
	}
	return w
}

// Events are what the clock did among the records of one file, in their order.
func Events(records []Record) []Event {
	w := watchOf(records)
	var out []Event
	for _, r := range records {
		if e, ok := w.See(r); ok {
			out = append(out, e)
		}
	}
	return out
}
