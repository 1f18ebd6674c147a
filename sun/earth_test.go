package sun

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// asPrinted sums a coordinate term by term, as the report does.
func asPrinted(coordinate [][]term, t float64) float64 {
	var sums []float64
	for _, terms := range coordinate {
		s := 0.0
		for _, k := range terms {
			s += k.a * math.Cos(k.b+k.c*t)
		}
		sums = append(sums, s)
	}
	return horner(sums, t) / 1e8
}

func TestGroupedSeriesIsThePrintedOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.Float64Range(-0.1, 0.1).Draw(t, "millennia")
		l, b, r := earth(m)
		for _, c := range []struct {
			what              string
			grouped, termwise float64
		}{
			{"L", l, asPrinted(earthL, m)}, {"B", b, asPrinted(earthB, m)}, {"R", r, asPrinted(earthR, m)},
		} {
			if !(math.Abs(c.grouped-c.termwise) <= 1e-12) {
				t.Fatalf("%s = %.15f, term by term %.15f", c.what, c.grouped, c.termwise)
			}
		}
	})
}

func TestEveryTermIsGrouped(t *testing.T) {
	terms := 0
	for _, coordinate := range [][][]term{earthL, earthB, earthR} {
		if len(coordinate) > powers {
			t.Fatalf("%d powers of time, room for %d", len(coordinate), powers)
		}
		for _, s := range coordinate {
			terms += len(s)
		}
	}
	if terms != 195 || len(earthSeries.shares) != terms || len(earthSeries.harmonics) != 98 {
		t.Errorf("%d terms, %d shares, %d harmonics; want 195, 195, 98", terms, len(earthSeries.shares), len(earthSeries.harmonics))
	}
}
