package logfile

import (
	"math"
	"slices"
	"time"
)

// A Segment is a run of records, records[From:To], in which the clock was neither
// moved nor stopped: between two of the steps back and forward, resets, settings,
// restarts and midnights of [Events]. A gap or a duplicate ends none.
type Segment struct {
	From, To    int
	First, Last time.Time // stamps of records[From] and records[To-1]
	// Began is the event between it and the segment before it in the order of the records,
	// which in a file that is newest first is the later one; 0 for the first.
	Began EventKind
	// Moved is by how much the clock was moved there, forward positive: the step as time
	// went on, less one cadence, the median of the steps beside it. It is -24 h for
	// Midnight and zero for Restart.
	Moved time.Duration
	// MovedU is the standard uncertainty of Moved where the logger ran on: it may have
	// been half a cadence more or less, with equal chance (JCGM 100, 4.3.7).
	MovedU time.Duration
	// AtMost says that Moved is the most that it can be, because the logger stood still
	// for a time that nobody knows: it lost its power (a Reset, a header that came again),
	// it may have been switched off for days (StepForward), or its cadence is not known.
	AtMost bool
}

// beginsSegment says that the clock was moved or stopped at an event.
func (k EventKind) beginsSegment() bool {
	switch k {
	case StepBack, StepForward, Reset, Set, Restart, Midnight:
		return true
	}
	return false
}

// Segments are the runs of records between the steps of the clock, in the order of the
// records: those of one file, or merged. Every record is in one of them.
//
//	for _, s := range logfile.Segments(records) {
//		fit(records[s.From:s.To])
//	}
func Segments(records []Record) []Segment {
	if len(records) == 0 {
		return nil
	}
	w := watchOf(records)
	backwards := w.sign < 0
	out := []Segment{{}}
	for i, r := range records {
		e, ok := w.See(r)
		if !ok || !e.Kind.beginsSegment() {
			continue
		}
		out[len(out)-1].To = i
		out = append(out, Segment{From: i, Began: e.Kind})
	}
	out[len(out)-1].To = len(records)
	for i := range out {
		s := &out[i]
		s.First, s.Last = records[s.From].Time, records[s.To-1].Time
		if i > 0 {
			s.measure(records, out[i-1].From, backwards)
		}
	}
	return out
}

// measure fills in by how much the clock was moved where s begins, behind a segment
// that begins at before.
func (s *Segment) measure(records []Record, before int, backwards bool) {
	step := records[s.From].Time.Sub(records[s.From-1].Time)
	if backwards {
		step = -step
	}
	switch s.Began {
	case Restart:
		return
	case Midnight:
		s.Moved = -day
		return
	}
	cadence := cadenceBeside(records[before:s.From], records[s.From:s.To])
	s.Moved = step - cadence
	s.MovedU = time.Duration(float64(cadence) / 2 / math.Sqrt(3))
	s.AtMost = s.Began == Reset || s.Began == StepForward || records[s.From].HeaderAgain || cadence == 0
}

// cadenceBeside is the median of the last steps before and the first ones after a step
// of the clock, 0 where there is none.
func cadenceBeside(before, after []Record) time.Duration {
	var steps []time.Duration
	add := func(records []Record) {
		for i := 1; i < len(records); i++ {
			if step := records[i].Time.Sub(records[i-1].Time).Abs(); step > 0 {
				steps = append(steps, step)
			}
		}
	}
	add(before[max(0, len(before)-recentSteps-1):])
	add(after[:min(len(after), recentSteps+1)])
	if len(steps) == 0 {
		return 0
	}
	slices.Sort(steps)
	return steps[len(steps)/2]
}

// ApplyBack returns the records with the steps of their clock applied back: where it
// was moved, whoever moved it knew the time, and the stamps before are moved by as much.
// The last segment stays as it is, and so does what came before a Reset, which nobody
// set. Stamps after a Midnight get the day that they lack.
//
// The segments are those of [Segments]. A move that is AtMost is not applied, because
// what was a pause would move the stamps before it; where the caller knows better,
// Moved and AtMost are to be changed before. A segment that was on the epoch and then
// set is recovered to half a cadence. The slices passed in are not changed.
func ApplyBack(records []Record, segments []Segment) []Record {
	out := slices.Clone(records)
	ordered := slices.Clone(segments)
	if watchOf(records).sign < 0 { // as time went on; what begins a segment ends the next
		slices.Reverse(ordered)
		for i := len(ordered) - 1; i > 0; i-- {
			from, to := ordered[i].From, ordered[i].To
			ordered[i] = ordered[i-1]
			ordered[i].From, ordered[i].To = from, to
		}
	}
	for i, by := range corrections(ordered) {
		for j := max(0, ordered[i].From); j < min(ordered[i].To, len(out)); j++ {
			out[j].Time = out[j].Time.Add(by)
		}
	}
	return out
}

// corrections are what each segment is to be moved by, in the order of time.
func corrections(segments []Segment) []time.Duration {
	out := make([]time.Duration, len(segments))
	var back, on time.Duration
	for i := len(segments) - 1; i > 0; i-- {
		switch s := segments[i]; {
		case s.Began == Reset:
			back = 0
		case s.Began != Midnight && !s.AtMost:
			back += s.Moved
		}
		out[i-1] += back
	}
	for i := 1; i < len(segments); i++ {
		switch s := segments[i]; s.Began {
		case Midnight:
			on -= s.Moved
		case Restart:
		default:
			on = 0
		}
		out[i] += on
	}
	return out
}
