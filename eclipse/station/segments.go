package station

import (
	"math"
	"slices"

	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/logfile"
)

// maxSegments is the number of stretches up to which each is fitted for itself: a clock
// that is moved more often than that is no clock. Common practice, no source.
const maxSegments = 50

// moves says that the clock shows something else behind such an event than it would have.
// What set a clock that was not set before has been put right already, and behind a pause of
// a day the clock is still the same.
func moves(k logfile.EventKind) bool { return k == logfile.StepBack || k == logfile.Reset }

// A stretches builds up the runs of records between which the clock was moved.
type stretches struct {
	runs  []pieces
	moved []float64 // s, where each begins; NaN where nobody knows
	any   bool      // the clock was moved
}

// add goes on with one file's records, in the order of the file.
func (s *stretches) add(w *walk) {
	if !w.moved {
		s.goOn(w.kept...)
		return
	}
	records := slices.Concat(w.kept...)
	for i, seg := range logfile.Segments(records) {
		run := records[seg.From:seg.To]
		if i == 0 || !moves(seg.Began) {
			s.goOn(run)
			continue
		}
		by := seg.Moved.Seconds()
		if seg.AtMost {
			by = math.NaN()
		}
		s.any, s.runs, s.moved = true, append(s.runs, pieces{run}), append(s.moved, by)
	}
}

// goOn adds to the last run, or begins the first.
func (s *stretches) goOn(records ...[]logfile.Record) {
	if len(s.runs) == 0 {
		s.runs, s.moved = append(s.runs, nil), append(s.moved, 0)
	}
	last := &s.runs[len(s.runs)-1]
	*last = append(*last, records...)
}

// samples are the runs' light, nil where the clock was never moved, or moved all the time.
func (s *stretches) samples(r *Report) []fit.Segment {
	if !s.any {
		return nil
	}
	if len(s.runs) > maxSegments {
		r.warn("the clock was moved %d times: its stretches are not fitted one by one", len(s.runs)-1)
		return nil
	}
	out := make([]fit.Segment, len(s.runs))
	for i, run := range s.runs {
		out[i] = fit.Segment{Samples: make([]fit.Sample, run.len()), Moved: s.moved[i]}
		k := 0
		for rec := range run.all() {
			sample(&out[i].Samples[k], rec, r.chain)
			k++
		}
	}
	return out
}
