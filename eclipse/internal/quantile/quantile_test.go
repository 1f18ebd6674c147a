package quantile

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// MedianOf against a sort, on slices of every short length, with many equal values and few.
func TestMedianOf(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for n := 1; n < 60; n++ {
		for kinds := 1; kinds < 100; kinds *= 3 {
			x := make([]float64, n)
			for i := range x {
				x[i] = float64(rng.IntN(kinds)) - 3
			}
			s := slices.Sorted(slices.Values(x))
			want := (s[(n-1)/2] + s[n/2]) / 2
			if got := MedianOf(x); got != want {
				t.Fatalf("%v: %v, want %v", s, got, want)
			}
			slices.Sort(x)
			if !slices.Equal(x, s) {
				t.Fatalf("%v has become %v", s, x)
			}
		}
	}
	if MedianOf(nil) != 0 {
		t.Error("nothing has a median")
	}
}

// Of reads between two values, and leaves the slice as it was.
func TestOf(t *testing.T) {
	x := []float64{4, 1, 3, 2}
	if lo, mid, hi := Of(0, x), Of(0.5, x), Of(1, x); lo != 1 || mid != 2 || hi != 4 {
		t.Errorf("%v %v %v", lo, mid, hi)
	}
	if !slices.Equal(x, []float64{4, 1, 3, 2}) || Of(0.5, nil) != 0 {
		t.Errorf("%v", x)
	}
}

// Distinct and Repeated against a sort, of values that repeat and of ones that do not.
func TestDistinct(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for _, kinds := range []int64{1, 2, 50, 4000, 1 << 40} {
		for _, n := range []int{0, 1, 2, 999, 5000} {
			x := make([]float64, n)
			for i := range x {
				x[i] = float64(rng.Int64N(kinds)) - 20
			}
			want := slices.Sorted(slices.Values(x))
			values, counts := Distinct(x)
			if got := Repeated(values, counts); !slices.Equal(got, want) {
				t.Fatalf("%d of %d kinds: %v, want %v", n, kinds, got, want)
			}
			if !slices.Equal(values, slices.Compact(slices.Clone(want))) || len(counts) != len(values) {
				t.Fatalf("%d of %d kinds: %v", n, kinds, values)
			}
			for i, v := range values {
				lo, _ := slices.BinarySearch(want, v)
				if counts[i] < 1 || want[lo+counts[i]-1] != v || lo+counts[i] < n && want[lo+counts[i]] == v {
					t.Fatalf("%v is there %d times of %v", v, counts[i], want)
				}
			}
		}
	}
}

// Nothing with a minus before it is the same value.
func TestDistinctZero(t *testing.T) {
	if v, n := Distinct([]float64{0, math.Copysign(0, -1), 1, 0}); len(v) != 2 || v[0] != 0 || n[0] != 3 {
		t.Errorf("%v %v", v, n)
	}
}
