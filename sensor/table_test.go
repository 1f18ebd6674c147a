package sensor

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// bentTable is 12 bits whose middle reads 2 % of full scale high. (Made up.)
func bentTable() *CodeTable {
	var t CodeTable
	for i := range 9 {
		share := 0.02 + 0.12*float64(i)
		t.Points = append(t.Points, CodePoint{Counts: 4096 * (share + 0.08*share*(1-share)), Share: share})
	}
	return &t
}

// A table with two points is a line: offset and gain by another name.
func TestTableOfALine(t *testing.T) {
	straight := bench(CellAtBottom)
	straight.ADC.OffsetCounts, straight.ADC.Gain, straight.ADC.NoiseCounts, straight.ADC.OffsetU = -20, 1.02, 3, 2
	table := straight
	table.ADC.OffsetCounts, table.ADC.Gain = 0, 0
	at := func(share float64) CodePoint { return CodePoint{-20 + 1.02*4096*share, share} }
	table.ADC.Table = &CodeTable{[]CodePoint{at(0.01), at(0.3), at(0.975)}}
	a, b := compile(t, straight), compile(t, table)
	rapid.Check(t, func(t *rapid.T) {
		counts := rapid.Float64Range(at(0.01).Counts, at(0.975).Counts).Draw(t, "counts")
		x, y := a.Lux(counts), b.Lux(counts)
		near := func(x, y float64) bool { return math.Abs(x-y) <= 1e-9*y }
		if x.Status != y.Status || !near(x.Lux, y.Lux) || !near(x.LuxU, y.LuxU) || !near(x.RandomU, y.RandomU) {
			t.Fatalf("%g counts: %+v by the line, %+v by the table", counts, x, y)
		}
		if p, q := a.Counts(x.Lux), b.Counts(x.Lux); !(math.Abs(p-q) <= 1e-6) {
			t.Fatalf("%g lx: %g counts by the line, %g by the table", x.Lux, p, q)
		}
		if p, q := a.CountsPerOctave(x.Lux), b.CountsPerOctave(x.Lux); !(math.Abs(p-q) <= 1e-6*q) {
			t.Fatalf("%g lx: %g counts per octave by the line, %g by the table", x.Lux, p, q)
		}
	})
	// Outside its points it knows nothing.
	if r := b.Lux(at(0.01).Counts - 1); r.Status != Saturated {
		t.Errorf("below the table: %+v", r)
	}
	if r := b.Lux(at(0.975).Counts + 1); r.Status != TooDark {
		t.Errorf("above the table: %+v", r)
	}
}

// At its own points a table is believed, and between them it is a straight line.
func TestTablePoints(t *testing.T) {
	c := bench(CellOnTop)
	c.ADC.Table = bentTable()
	conv := compile(t, c)
	points := c.ADC.Table.Points
	for i := 1; i < len(points); i++ {
		p, q := points[i-1], points[i]
		for part, counts := range map[float64]float64{0: p.Counts, 0.25: p.Counts + 0.25*(q.Counts-p.Counts), 1: q.Counts} {
			want := 3.3 * (p.Share + part*(q.Share-p.Share))
			if got := conv.Steps(counts).Volts; !(math.Abs(got-want) <= 1e-9) {
				t.Errorf("%g counts: %.9f V, want %.9f", counts, got, want)
			}
		}
	}
}
