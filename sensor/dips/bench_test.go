package dips

import (
	"context"
	"testing"
)

// A day at ten a second with twelve passages.
func BenchmarkFind(b *testing.B) {
	x := newBench(1)
	x.cadence, x.drift = 0.1, 0.01
	log := x.log(864_000, drawn(&x, 86400, 7200, 5, 60), nil)
	b.ReportAllocs()
	for b.Loop() {
		r, err := Find(context.Background(), log, Options{})
		if err != nil || len(r.Dips) < 10 {
			b.Fatal(err, r)
		}
	}
	b.ReportMetric(float64(b.Elapsed())/float64(b.N)/float64(len(log)), "ns/reading")
}
