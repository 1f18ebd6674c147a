package timescale

import (
	"math"
	"testing"
)

func TestPublishedPolynomials(t *testing.T) {
	for _, r := range table(t, "deltat.csv") {
		if r["kind"] != "polynomial_value" {
			continue
		}
		y, want := number(t, r["decimal_year"]), number(t, r["delta_t_s"])
		if got := polynomial(y); !(math.Abs(got-want) <= 1e-5*math.Max(1, math.Abs(want)/100)) {
			t.Errorf("year %.4f: %.6f s, want %.6f (Espenak & Meeus 2006)", y, got, want)
		}
	}
}

// The published pieces meet only roughly; the comment on polynomial says how.
func TestStepsBetweenPublishedPieces(t *testing.T) {
	for _, p := range pieces[:len(pieces)-1] {
		bound := 0.26
		if p.to >= 1800 {
			bound = 0.1
		}
		step := polynomial(p.to) - polynomial(p.to-1e-9)
		t.Logf("%.0f: %+.3f s", p.to, step)
		if !(math.Abs(step) <= bound) {
			t.Errorf("step of %.3f s at %.0f, documented as at most %g s", step, p.to, bound)
		}
	}
}
