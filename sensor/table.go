package sensor

import (
	"fmt"
	"math"
	"sort"
)

// A CodePoint is a voltage that was put on the converter's input and measured
// there, and what the converter made of it.
type CodePoint struct {
	Counts float64 `json:"counts"` // as logged; the mean of many
	// Share is the volts over ReferenceV, or over the supply at that moment where the
	// converter is ratiometric: 0 to 1.
	Share float64 `json:"share"`
}

// A CodeTable is a converter's own scale where it is not straight: two points or
// more that rise in both, with straight lines between. It replaces OffsetCounts and
// Gain, which must then be left out; a count outside it is a bound. Where a meter
// measured the volts ReferenceU is 0 and GainLnU is the meter's.
type CodeTable struct {
	Points []CodePoint `json:"points"` // ascending
}

// A codeLine is a straight piece of the converter's scale: counts = offset + full v,
// v being the share of full scale.
type codeLine struct {
	offset   float64 // counts at v = 0
	full     float64 // counts of full scale above the offset
	perCount float64 // 1/full
}

func newCodeLine(offset, full float64) codeLine { return codeLine{offset, full, 1 / full} }

// A codePiece is the line between one CodePoint and the next.
type codePiece struct {
	codeLine
	from float64 // counts where it begins
	base float64 // v where it begins
}

// pieces joins the points by straight lines. The first and the last go on to
// either side, for the inverse's sake: counts out there are bounds.
func (t *CodeTable) pieces() []codePiece {
	if t == nil {
		return nil
	}
	var out []codePiece
	for i := 1; i < len(t.Points); i++ {
		p, q := t.Points[i-1], t.Points[i]
		full := (q.Counts - p.Counts) / (q.Share - p.Share)
		out = append(out, codePiece{newCodeLine(p.Counts-full*p.Share, full), p.Counts, p.Share})
	}
	return out
}

// at is the line that serves a count.
func (c *Converter) at(counts float64) *codeLine {
	if c.pieces == nil {
		return &c.codeLine
	}
	i := sort.Search(len(c.pieces), func(i int) bool { return c.pieces[i].from > counts })
	return &c.pieces[max(0, i-1)].codeLine
}

// counts undoes it: what a share of full scale is logged as.
func (c *Converter) counts(v float64) float64 {
	line := &c.codeLine
	if c.pieces != nil {
		i := sort.Search(len(c.pieces), func(i int) bool { return c.pieces[i].base > v })
		line = &c.pieces[max(0, i-1)].codeLine
	}
	return line.offset + line.full*v
}

// tableRows want points that rise, within the codes and the scale. A table holds
// offset and gain already.
func (a ADC) tableRows() []row {
	if a.Table == nil {
		return nil
	}
	rows := []row{
		{"adc.table.points, how many", float64(len(a.Table.Points)), 2, 1e6, ""},
		{"adc.offset_counts beside adc.table", a.OffsetCounts, 0, 0, ""},
		{"adc.gain beside adc.table", a.gain(), 1, 1, ""},
	}
	counts, share := 0.0, 0.0
	for i, p := range a.Table.Points {
		rows = append(rows,
			row{fmt.Sprintf("adc.table.points[%d].counts", i), p.Counts, counts, a.codes() - 1, ""},
			row{fmt.Sprintf("adc.table.points[%d].share", i), p.Share, share, 1, ""})
		// The next must be above by what a converter can tell.
		counts, share = p.Counts+1, p.Share+math.Ldexp(1, -30)
	}
	return rows
}
