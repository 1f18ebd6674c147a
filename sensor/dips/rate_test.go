package dips

import (
	"context"
	"math"
	"testing"
)

// How often a passage is found, by its duration in readings and its depth in units of the noise of
// one reading. The bounds leave room for the scatter of a hundred passages.
func TestDetectionRate(t *testing.T) {
	if testing.Short() {
		t.Skip("a thousand passages")
	}
	for _, tt := range []struct {
		lasts, ratio float64
		least, most  float64 // share to be found of 100
	}{
		{5, 3, 0, 0.05}, {5, 10, 0.95, 1},
		{20, 2, 0, 0.05}, {20, 5, 0.85, 1}, {20, 10, 0.99, 1},
		{60, 1, 0, 0.05}, {60, 3, 0.88, 1}, {60, 5, 0.99, 1},
		{300, 0.5, 0, 0.1}, {300, 2, 0.95, 1},
	} {
		found, all := 0, 0
		for seed := uint64(1); all < 100; seed++ {
			b := newBench(seed)
			b.noise, b.room = 0.03, 0
			ball := math.Sqrt(tt.ratio * b.noise) // of its area, wholly before the lamp
			var passes []pass
			for k := range 10 {
				passes = append(passes, pass{least: tt.lasts * (10 + 10*float64(k)), ball: ball, speed: 2 * (1 + ball) / tt.lasts})
			}
			r, err := Find(context.Background(), b.log(int(110*tt.lasts), passes, nil), Options{})
			if err != nil {
				t.Fatal(err)
			}
			hits, _ := pairs(r, passes)
			found, all = found+len(hits), all+len(passes)
		}
		share := float64(found) / float64(all)
		t.Logf("%3.0f readings from first to last touch, depth %4.1f times the noise: %3.0f %%", tt.lasts, tt.ratio, 100*share)
		if !(share >= tt.least && share <= tt.most) {
			t.Errorf("%.0f readings, %.1f times the noise: %.2f found, want %.2f to %.2f", tt.lasts, tt.ratio, share, tt.least, tt.most)
		}
	}
}
