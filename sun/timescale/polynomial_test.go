package timescale

import (
	"math"
	"testing"

	"example.org/noonfall/testdata/references"
)

func TestPublishedPolynomials(t *testing.T) {
	n := 0
	for _, r := range references.Table(t, "deltat.csv") {
		if r["kind"] != "polynomial_value" {
			continue
		}
		n++
		y, want := r.Number(t, "decimal_year"), r.Number(t, "delta_t_s")
		if got := polynomial(y); !(math.Abs(got-want) <= 1e-5*math.Max(1, math.Abs(want)/100)) {
			t.Errorf("year %.4f: %.6f s, want %.6f (Espenak & Meeus 2006)", y, got, want)
		}
		// By the public way the instant's own resolution counts: 1e-5 s in the year
		// -500, where Delta T falls by 11 s a year.
		tt := TT(((y-2000)*daysPerYear - 0.5) * secondsPerDay)
		d := EspenakMeeus2006().DeltaT(tt)
		if !(math.Abs(d.Seconds-want) <= 1e-5*math.Max(1, math.Abs(want)/100)) || !(d.SecondsU > 0) || d.Source == "" {
			t.Errorf("year %.4f: %+v, want %.6f s (Espenak & Meeus 2006)", y, d, want)
		}
		if got := float64(tt) - float64(EspenakMeeus2006().UT1(tt)); !(math.Abs(got-want) <= 2e-4) {
			t.Errorf("year %.4f: TT - UT1 %.5f s, want %.5f", y, got, want)
		}
	}
	if n != 15 {
		t.Errorf("%d rows, want 15", n)
	}
}

// What the expressions' own uncertainty rests on.
func TestExpressionsAgainstObservation(t *testing.T) {
	sum, largest, n := 0.0, 0.0, 0
	for _, o := range observed {
		if o.year() >= 2005 {
			break
		}
		off := polynomial(o.year()) - o.seconds
		sum, largest = sum+off*off, math.Max(largest, math.Abs(off))
		n++
	}
	rms := math.Sqrt(sum / float64(n))
	if !(rms > 0.05 && rms <= 0.1 && largest <= 0.29) {
		t.Errorf("rms %.3f s, largest %.3f s over %d rows; want at most 0.1 and 0.29", rms, largest, n)
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
