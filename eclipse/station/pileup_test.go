package station

import (
	"math"
	"slices"
	"testing"
)

// Light that turns smoothly at its top, in any steps, is no pile; one that is cut off
// is, as far as its cut goes.
func TestPileAtTop(t *testing.T) {
	sine := func(step, cut float64) []float64 {
		var v []float64
		for i := range 4000 {
			x := 1000 * math.Sin(math.Pi*float64(i)/4000)
			v = append(v, math.Min(cut, step*math.Round(x/step)))
		}
		return v
	}
	for _, tt := range []struct {
		name  string
		v     []float64
		count int // 0 for no pile
	}{
		{"smooth", sine(1, 2000), 0},
		{"smooth in twenty steps", sine(50, 2000), 0},
		{"smooth in four steps", sine(250, 2000), 0},
		{"cut at 950", sine(1, 950), 813}, // 2 acos(0.9495)/pi of 4000 by hand
		{"two numbers in turn", []float64{3, 4, 3, 4, 3, 4, 3, 4, 3, 4, 3, 4, 3, 4, 3, 4, 3, 4, 3, 4, 3, 4, 3, 4}, 0},
		{"one number", slices.Repeat([]float64{7}, 100), 0},
		{"nothing", nil, 0},
	} {
		slices.Sort(tt.v)
		p, ok := pileAtTop(tt.v, leastStep(tt.v))
		if ok != (tt.count > 0) || !(math.Abs(float64(p.count-tt.count)) <= 2) {
			t.Errorf("%s: %+v, want %d", tt.name, p, tt.count)
		}
	}
}
