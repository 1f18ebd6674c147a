package shadow

import (
	"context"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// floor is the unit in which speeds are stated: ns for a math.Sincos, a math.Sqrt and
// a cubic.
func floor(tb testing.TB) float64 {
	const n = 1 << 20
	best := math.Inf(1)
	for range 5 {
		x, sum := 0.1, 0.0
		start := time.Now()
		for range n {
			s, c := math.Sincos(x)
			q := math.Sqrt(s*s + c*c + x)
			sum += ((q*x+s)*x+c)*x + q
			if x += 0.001; x > 6 {
				x = 0.1
			}
		}
		best = min(best, float64(time.Since(start))/n)
		if !(sum > 0) {
			tb.Fatal("the floor is not computed")
		}
	}
	return best
}

// BenchmarkGrid is the greatest obscuration of 2 August 2027 over the Earth in steps of
// a quarter of a degree, on one core; x-two-cores is how much faster two are, x-floor
// how many floor loops a site takes.
func BenchmarkGrid(b *testing.B) {
	e := gridElements(b, "2027-08-02")
	area := Earth(0.25)
	sites := 0.0
	run := func(workers int) time.Duration {
		start := time.Now()
		g, err := NewGrid(context.Background(), e, area, Obscuration, GridOptions{Workers: workers})
		require.NoError(b, err)
		sites = float64(len(g.Values))
		return time.Since(start)
	}
	one, two := time.Duration(math.MaxInt64), time.Duration(math.MaxInt64)
	for range 3 {
		one, two = min(one, run(1)), min(two, run(2))
	}
	unit := floor(b)
	b.ReportAllocs()
	for b.Loop() {
		run(1)
	}
	ours := float64(b.Elapsed()) / float64(b.N) / sites
	b.ReportMetric(ours, "ns/site")
	b.ReportMetric(float64(one)/float64(two), "x-two-cores")
	b.ReportMetric(ours/unit, "x-floor")
}

// BenchmarkGridSeen is the same with the Sun above the horizon.
func BenchmarkGridSeen(b *testing.B) {
	e := gridElements(b, "2027-08-02")
	area := Earth(0.25)
	sites := 0.0
	for b.Loop() {
		g := mustGrid(b, e, area, SeenObscuration, GridOptions{Workers: 1})
		sites = float64(len(g.Values))
	}
	b.ReportMetric(float64(b.Elapsed())/float64(b.N)/sites, "ns/site")
}
