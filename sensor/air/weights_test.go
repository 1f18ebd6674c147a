package air

import (
	"math"
	"testing"
)

// The series of exp(-x), to its twentieth term, is the second method.
func TestWeights(t *testing.T) {
	for _, x := range []float64{1e-9, 1e-6, 0.99e-4, 1.01e-4, 1e-3, 0.1, 1} {
		e, f, df := weights(x)
		var we, wf, wdf float64
		term := 1.0 // (-x)^k/k!
		for k := range 20 {
			n := float64(k)
			we += term
			wf += term / (n + 1)
			wdf -= term / (n + 2) // its derivative, shifted by one power
			term *= -x / (n + 1)
		}
		// Above the switch E and F have lost four of sixteen digits in their difference.
		if !(math.Abs(e-we) <= 1e-13 && math.Abs(f-wf) <= 1e-13 && math.Abs(df-wdf) <= 1e-11) {
			t.Errorf("x %g: %.14f %.14f %.14f, want %.14f %.14f %.14f", x, e, f, df, we, wf, wdf)
		}
	}
}
