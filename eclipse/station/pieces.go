package station

import (
	"iter"

	"example.org/noonfall/logfile"
)

// pieces are the records of one file as they come. A slice that grows to the file's
// length would be copied again and again.
type pieces [][]logfile.Record

const pieceRecords = 4096

// next makes room for another record.
func (p *pieces) next() *logfile.Record {
	if n := len(*p); n == 0 || len((*p)[n-1]) == pieceRecords {
		*p = append(*p, make([]logfile.Record, 0, pieceRecords))
	}
	last := &(*p)[len(*p)-1]
	*last = (*last)[:len(*last)+1]
	return &(*last)[len(*last)-1]
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
