package quantile

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"
)

// What is counted is what a sort gives, to the bit, whatever the decimals, and where they are
// too many, too far apart or too large to be counted.
func TestTally(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for _, tt := range []struct {
		name       string
		decimals   int
		from, span float64
		counted    bool
	}{
		{"counts of a converter", 0, 0, 1023, true},
		{"degrees", 2, -12, 30, true},
		{"volts", 3, 0, 5, true},
		{"four decimals", 4, 0, 0.5, false},
		{"lux of full Sun", 2, 0, 1e5, false},
		{"whole but immense", 0, 1 << 55, 1000, false},
		{"a third", 17, 1. / 3, 1, false},
	} {
		x := make([]float64, 5000)
		for i := range x {
			text := strconv.FormatFloat(tt.from+tt.span*rng.Float64(), 'f', tt.decimals, 64)
			v, err := strconv.ParseFloat(text, 64)
			if err != nil {
				t.Fatal(err)
			}
			x[i] = v
		}
		if _, ok := tallied(x); ok != tt.counted {
			t.Errorf("%s: counted is %v", tt.name, ok)
		}
		if got := Repeated(Distinct(x)); !slices.Equal(got, sorted(x)) {
			t.Errorf("%s: not as sorted", tt.name)
		}
	}
	for _, v := range []float64{math.Inf(1), math.Inf(-1), math.NaN()} {
		if _, ok := tallied([]float64{v, 1, 2}); ok {
			t.Errorf("%v is counted", v)
		}
	}
}
