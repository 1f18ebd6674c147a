package rehearsal

import (
	"cmp"
	"slices"
	"time"
)

// Damage is what a file suffers between the sensor and the reader. Where it
// strikes is drawn from the plan's seed; blows that would fall on each other or
// past the end find the next free record or none, and the truth counts those that
// fell. The zero value is no damage.
type Damage struct {
	// PowerCycles is how often the logger loses power: an outage without records,
	// after which the header comes again.
	PowerCycles int
	// Outage is how long each lasts, at most 12 h; zero means a minute.
	Outage time.Duration
	// TornLines is how many records are cut in the middle of their line.
	TornLines int
	// NULRuns is how many records are overwritten from their middle by zero bytes.
	NULRuns int
}

func (d Damage) filled(cadence time.Duration) Damage {
	if d.Outage == 0 {
		d.Outage = max(time.Minute, cadence)
	}
	return d
}

// Lines is the accounting of a written log, in lines.
type Lines struct {
	Records  int `json:"records"`  // readable ones
	Headers  int `json:"headers"`  // the first, and one after each power cycle
	Comments int `json:"comments"` // the remark that all is invented
	Torn     int `json:"torn"`     // records cut in the middle of their line
	NULs     int `json:"nuls"`     // records overwritten by zero bytes
}

// A fate is what became of a record.
type fate uint8

const (
	whole  fate = iota
	torn        // cut before its last comma
	nulled      // overwritten from somewhere in its second half
	unwritten
)

// A record is a sample and what became of it.
type record struct {
	Sample
	fate   fate
	cut    float64 // where, as a part of what may be cut
	header bool    // the header comes before it
}

// suffer damages the records and keeps what can be read. Blows fall on distinct
// records; when is a record's true instant.
func (l *Log) suffer(records []record, when func(int) time.Time) {
	d, dmg := l.Plan.daily(streamDamage), l.Plan.Damage
	n := len(records)
	lost := max(1, int(dmg.Outage/l.Plan.Cadence))
	type blow struct {
		at   int
		fate fate
		cut  float64
	}
	var blows []blow
	for _, k := range []struct {
		fate fate
		n    int
	}{{unwritten, dmg.PowerCycles}, {torn, dmg.TornLines}, {nulled, dmg.NULRuns}} {
		for range k.n {
			room := n
			if k.fate == unwritten {
				room = max(1, n-lost)
			}
			blows = append(blows, blow{d.IntN(room), k.fate, d.Float64()})
		}
	}
	slices.SortFunc(blows, func(a, b blow) int { return cmp.Compare(a.at, b.at) })
	l.Truth.Outages = []Span{}
	next := 1 // the first record stays
	for _, b := range blows {
		at := max(b.at, next)
		switch {
		case b.fate == unwritten && at+lost < n:
			for i := range records[at : at+lost] {
				records[at+i].fate = unwritten
			}
			records[at+lost].header = true
			l.Truth.Outages = append(l.Truth.Outages, Span{when(at - 1), when(at + lost)})
			next = at + lost + 1
		case b.fate != unwritten && at < n:
			records[at].fate, records[at].cut = b.fate, b.cut
			next = at + 1
		}
	}
	l.records = slices.DeleteFunc(records, func(r record) bool { return r.fate == unwritten })
	l.Samples = make([]Sample, 0, len(l.records))
	lines := Lines{Comments: 1, Headers: 1}
	for _, r := range l.records {
		if r.header {
			lines.Headers++
		}
		switch r.fate {
		case torn:
			lines.Torn++
		case nulled:
			lines.NULs++
		default:
			l.Samples = append(l.Samples, r.Sample)
		}
	}
	lines.Records = len(l.Samples)
	l.Truth.Lines = lines
}
