package cooling

import (
	"math"
	"testing"
)

// The second method: white noise through two lags, step by step (the impulse answer of
// both in a row), correlated with itself by sums and averaged over boxes by sums.
func TestGustsSeen(t *testing.T) {
	const step, long = 2.0, 6000
	for _, tt := range []struct{ memory, tau, box float64 }{
		{120, 0, 0}, {120, 0, 180}, {120, 60, 180}, {120, 120, 180}, {400, 90, 100}, {60, 120, 0},
	} {
		// The covariance of the gusts behind the lag, from the covariance of the gusts:
		// the lag's impulse answer, there and back, is exp(-|d|/tau)/(2 tau).
		cov := func(d float64) float64 {
			if tt.tau == 0 {
				return math.Exp(-math.Abs(d) / tt.memory)
			}
			sum := 0.0
			for x := -long * 0.5; x <= long*0.5; x += step {
				sum += step * math.Exp(-math.Abs(x)/tt.tau) / (2 * tt.tau) * math.Exp(-math.Abs(d-x)/tt.memory)
			}
			return sum
		}
		q := rough{gust: 1, memory: tt.memory}.seen(tt.tau, tt.box)
		for _, dt := range []float64{0, 1, 1.5, 4} {
			dt *= math.Max(tt.box, 50)
			want, n := 0.0, 0.0
			for u := -tt.box; u <= tt.box; u += math.Max(tt.box, 1) / 60 { // a triangle: the difference of two instants of boxes
				w := 1.0
				if tt.box > 0 {
					w = 1 - math.Abs(u)/tt.box
				}
				want, n = want+w*cov(dt+u), n+w
			}
			want /= n
			if got := q.at(dt); !(math.Abs(got-want) <= 0.004) {
				t.Errorf("memory %g, lag %g, box %g: %.4f at %g s, want %.4f", tt.memory, tt.tau, tt.box, got, dt, want)
			}
		}
	}
}

// Bins lie a little closer than a box where a reading is missing. The covariance of two that
// overlap is another formula; with this one it would exceed what positive definite matrices bear.
func TestGustsOfNeighboursALittleClose(t *testing.T) {
	q := rough{gust: 0.8, memory: 3600}.seen(60, 180)
	if a, b := q.at(0.97*q.box), q.at(q.box); a != b {
		t.Errorf("%g at 0.97 of a box, %g at a box", a, b)
	}
}
