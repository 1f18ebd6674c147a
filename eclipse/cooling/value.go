package cooling

import "math"

// A Value is a measured quantity.
type Value struct {
	Value float64    // mean of what the readings allow
	U     float64    // standard uncertainty
	CI95  [2]float64 // between these with 95 % probability
}

// Eleven points that stand for a normal distribution, at the middles of equal parts of it;
// their own deviation is 1/normalSize.
var normal = [...]float64{-1.6906, -1.0968, -0.7478, -0.4728, -0.2299, 0, 0.2299, 0.4728, 0.7478, 1.0968, 1.6906}

const (
	normalSize = 1.127
	spreadBins = 4000 // from the least value to the greatest: far finer than any uncertainty
)

// spread gathers n guesses into a value; of yields a guess's value, its own standard deviation and
// its weight. There are ten thousand at times: they are counted into bins.
func spread(n int, of func(i int) (v, u, w float64)) Value {
	lo, hi := math.Inf(1), math.Inf(-1)
	var total, mean, square float64
	for i := range n {
		v, u, w := of(i)
		if w == 0 {
			continue
		}
		reach := normalSize * normal[len(normal)-1] * u
		lo, hi = math.Min(lo, v-reach), math.Max(hi, v+reach)
		total += w
		mean += w * v
	}
	mean /= total
	scale := spreadBins / math.Max(hi-lo, math.SmallestNonzeroFloat64)
	var bins [spreadBins]float64
	put := func(v, w float64) { bins[max(0, min(spreadBins-1, int((v-lo)*scale)))] += w }
	for i := range n {
		v, u, w := of(i)
		square += w * (u*u + (v-mean)*(v-mean))
		switch {
		case w == 0:
		case u == 0:
			put(v, w)
		default:
			for _, z := range normal {
				put(v+normalSize*z*u, w/float64(len(normal)))
			}
		}
	}
	out := Value{Value: mean, U: math.Sqrt(square / total)}
	for i, q := range []float64{0.025, 0.975} {
		var sum float64
		for k, w := range bins {
			if sum+w >= q*total {
				out.CI95[i] = lo + (float64(k)+(q*total-sum)/w)/scale
				break
			}
			sum += w
		}
	}
	return out
}
