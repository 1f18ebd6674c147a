package cooling

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// The second method sorts the neighbours of each reading: what is left out is the same, where
// readings go by steps, where they do not, at both ends and of logs shorter than a neighbourhood.
func TestSpikesAreFarFromTheMedian(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	spikes := 0
	for k := range 60 {
		n, step := []int{1, 2, 5, 7, 400}[k%5], []float64{1, 100}[k%2]
		quantum := []float64{0, 0.25, 1}[k%3]
		at, c := make([]float64, n), make([]float64, n)
		for i := range c {
			at[i], c[i] = step*float64(i), 20+rng.NormFloat64()*0.3
			if quantum > 0 {
				c[i] = quantum * math.Round(c[i]/quantum)
			}
			if rng.IntN(20) == 0 {
				c[i] += 10
			}
		}
		half := 3
		if step > 60 {
			half = 1
		}
		off := make([]float64, n)
		for i, v := range c {
			around := slices.Sorted(slices.Values(c[max(0, i-half):min(n, i+half+1)]))
			off[i] = math.Abs(v - around[len(around)/2])
		}
		usual := slices.Sorted(slices.Values(off))[n/2]
		if n == 1 {
			step = 0
		}
		limit := math.Max(8*1.4826*usual, math.Max(3*quantum, 0.5+fastest*step*float64(half)))
		var want []float64
		for i, v := range c {
			if off[i] <= limit {
				want = append(want, v)
			}
		}
		kt, got, left := withoutSpikes(at, slices.Clone(c), quantum)
		if !slices.Equal(got, want) || left != n-len(want) || len(kt) != len(got) {
			t.Errorf("%d readings, step %g: %d left out, want %d", n, quantum, left, n-len(want))
		}
		spikes += left
	}
	if spikes < 100 {
		t.Errorf("%d spikes, a hundred or more are wanted to try this", spikes)
	}
}
