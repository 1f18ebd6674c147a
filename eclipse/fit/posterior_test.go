package fit

import (
	"math"
	"slices"
	"testing"
)

// bell is a normal distribution about a shift on a posterior's grid, its top a density of one.
func bell(middle, sd float64) posterior {
	var p posterior
	for x := middle - 6*sd; x <= middle+6*sd; x += sd / 10 {
		z := (x - middle) / sd
		p.shift, p.weight = append(p.shift, x), append(p.weight, sd/10*math.Exp(-z*z/2))
	}
	return p
}

// A second valley counts by its depth and its breadth: one as deep as the first and ten times
// as broad holds ten elevenths of the probability, one that is forty squared deviations worse
// none.
func TestPosteriorHasOtherValleys(t *testing.T) {
	const sd, apart, breadth = 5.0, 300.0, 50.0
	for _, tt := range []struct{ worse, mean, sd float64 }{
		{0, apart * breadth / (breadth + sd), 0}, {40, 0, sd},
	} {
		p := bell(0, sd)
		var around []glimpse
		for s := -600.0; s <= 600; s += aroundStep {
			z := (s - apart) / breadth
			around = append(around, glimpse{s, 1000 + tt.worse + z*z})
		}
		p.beyond(around, 1000)
		p.summarise()
		if !(math.Abs(p.mean-tt.mean) <= 1) {
			t.Errorf("a valley %g worse: mean %.1f s, want %.1f", tt.worse, p.mean, tt.mean)
		}
		if tt.sd > 0 && !(math.Abs(p.sd-tt.sd) <= 0.05) {
			t.Errorf("a valley %g worse: deviation %.2f s, want %g", tt.worse, p.sd, tt.sd)
		}
		if tt.sd == 0 && !(p.lo < 2*sd && p.hi > apart+1.5*breadth) {
			t.Errorf("two valleys: %.0f to %.0f s leaves one out", p.lo, p.hi)
		}
	}
}

// What is thought of clocks says next to nothing to a log that tells, and much to one that
// does not: two normal distributions multiplied.
func TestPosteriorBelievesInClocks(t *testing.T) {
	for _, tt := range []struct{ best, sd, zone float64 }{
		{300, 5, 0}, {300, 400, 0}, {3600 + 200, 300, 3600}, {-7200 - 100, 2, -7200}, {500, 600, 0},
	} {
		p := bell(tt.best, tt.sd)
		p.believe(tt.best)
		p.summarise()
		w := tt.sd * tt.sd / (tt.sd*tt.sd + rightClock*rightClock)
		mean, sd := tt.best+w*(tt.zone-tt.best), tt.sd*math.Sqrt(1-w)
		if !(math.Abs(p.mean-mean) <= 0.01*sd) || !(math.Abs(p.sd-sd) <= 0.01*sd) {
			t.Errorf("%g +- %g: %.2f +- %.2f, want %.2f +- %.2f", tt.best, tt.sd, p.mean, p.sd, mean, sd)
		}
	}
}

// Knots that are ragged far from the top leave the middle as it is, and no weight there: the
// spline through these, of a sensor at its end under totality, overshoots by hundreds.
func TestPosteriorOfRaggedKnots(t *testing.T) {
	const best, w = 82.6, 0.68
	shift, smooth := make([]float64, 2*gridHalf+1), make([][]float64, 2*gridHalf+1)
	for i := range shift {
		u := gridAt(i * gridFine)
		shift[i], smooth[i] = best+w*u, []float64{1697 - u*u/2}
	}
	want, err := overSizes(shift, smooth, best, w)
	if err != nil {
		t.Fatal(err)
	}
	want.summarise()
	if !(math.Abs(want.mean-best) <= 0.01*w) || !(math.Abs(want.sd-w) <= 0.01*w) {
		t.Fatalf("of a parabola %.3f +- %.3f, want %g +- %g", want.mean, want.sd, best, w)
	}
	for _, ragged := range []map[int]float64{
		{6: 1086, 7: 1582, 8: 1485}, {2: 1086, 1: 1582, 0: 1485}, {5: 900, 6: 1600}, {7: 1650, 8: -5000},
	} {
		knots := slices.Clone(smooth)
		for i, v := range ragged {
			knots[i] = []float64{v}
		}
		got, err := overSizes(shift, knots, best, w)
		if err != nil {
			t.Fatal(err)
		}
		got.summarise()
		for i, p := range got.weight {
			if beyond := math.Abs(got.shift[i] - best); beyond > math.Abs(shift[7]-best) && !(p <= 1e-4) {
				t.Errorf("%v: a weight of %g %.1f s from the middle", ragged, p, beyond)
			}
		}
		if !(math.Abs(got.mean-best) <= 1.5*w) || !(got.sd > 0 && got.sd <= 2*w) {
			t.Errorf("%v: %.3f +- %.3f, smooth %.3f +- %.3f", ragged, got.mean, got.sd, want.mean, want.sd)
		}
	}
}
