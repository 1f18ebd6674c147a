package station

import (
	"iter"
	"slices"

	"example.org/noonfall/logfile"
)

// pieces are the records of one file as they come. A slice that grows to the file's
// length would be copied again and again.
type pieces [][]logfile.Record

const pieceRecords = 4096

func (p *pieces) add(rec logfile.Record) {
	if n := len(*p); n == 0 || len((*p)[n-1]) == pieceRecords {
		*p = append(*p, make([]logfile.Record, 0, pieceRecords))
	}
	last := &(*p)[len(*p)-1]
	*last = append(*last, rec)
}

// all walks through the records, which stay where they are.
func (p pieces) all() iter.Seq[*logfile.Record] {
	return func(yield func(*logfile.Record) bool) {
		for _, piece := range p {
			for i := range piece {
				if !yield(&piece[i]) {
					return
				}
			}
		}
	}
}

// len is the number of records.
func (p pieces) len() (n int) {
	for _, piece := range p {
		n += len(piece)
	}
	return n
}

// settle puts right what can be, leaves out what carries the stamp of a clock that was
// not set, and notes where the file ends, whose stamps are not each after the one before.
func (r *Report) settle(kept pieces, unset *unsetClock, mendable bool) pieces {
	r.ascends = false
	if mendable {
		kept = pieces{mended(slices.Concat(kept...))}
	}
	if unset.Records > 0 {
		unset.Mended = unset.Records
		for i, piece := range kept {
			kept[i] = slices.DeleteFunc(piece, func(rec logfile.Record) bool { return isUnset(rec.Time, r.day) })
			unset.Mended -= len(piece) - len(kept[i])
		}
	}
	for _, piece := range kept {
		for _, rec := range piece {
			if rec.Time.After(r.end) {
				r.end = rec.Time
			}
		}
	}
	return kept
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
