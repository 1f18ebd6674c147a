package station

import (
	"slices"
	"time"

	"example.org/noonfall/logfile"
)

// A walk goes through the records of one file. It keeps those of a clock that was set, or
// that could be put right.
type walk struct {
	report   *Report
	zone     *time.Location // of bare stamps; nil for UTC
	kept     pieces
	last     time.Time // the stamp before; at first the latest of the files before
	ascends  bool      // each stamp was after the one before
	moved    bool      // the clock was moved meanwhile
	mendable bool      // some stamps can be put right
	watch    logfile.Watch
	day      placement
	unset    unsetClock
}

// take keeps the next record.
func (w *walk) take(rec logfile.Record) {
	w.day.place(&rec.Time, w.report, w.zone)
	w.heed(w.watch.See(rec))
	w.unset.see(rec.Time, w.report.day)
	w.ascends = w.ascends && rec.Time.After(w.last)
	w.last = rec.Time
	*w.kept.next() = rec
}

// heed takes down what the clock did, if it did anything.
func (w *walk) heed(e logfile.Event, did bool) {
	if did {
		w.report.note(e)
		w.moved = w.moved || moves(e.Kind)
		w.mendable = w.mendable || e.Kind == logfile.Set || e.Kind == logfile.Midnight
	}
}

// settle puts right what can be, leaves out what carries the stamp of a clock that was
// not set, and notes where the file ends.
func (w *walk) settle() {
	r := w.report
	if w.ascends && !w.mendable && w.unset.Records == 0 {
		r.end = w.last
		return
	}
	r.ascends = false
	if w.mendable {
		w.kept = pieces{mended(slices.Concat(w.kept...))}
	}
	if w.unset.Records > 0 {
		w.unset.Mended = w.unset.Records
		for i, piece := range w.kept {
			w.kept[i] = slices.DeleteFunc(piece, func(rec logfile.Record) bool { return isUnset(rec.Time, r.day) })
			w.unset.Mended -= len(piece) - len(w.kept[i])
		}
	}
	for rec := range w.kept.all() {
		if rec.Time.After(r.end) {
			r.end = rec.Time
		}
	}
}

// mended moves the records of a clock that was not set by the step that set it, and
// those behind a midnight at which the date stayed by their day. Other steps stay as
// they are: whether the stamps before or behind one are right, the light must say.
func mended(records []logfile.Record) []logfile.Record {
	segments := logfile.Segments(records)
	for i := range segments {
		if segments[i].Began != logfile.Set {
			segments[i].AtMost = true // not to be applied
		}
	}
	return logfile.ApplyBack(records, segments)
}
