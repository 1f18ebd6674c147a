package fit

import (
	"cmp"
	"math"
	"slices"

	"example.org/noonfall/eclipse/internal/quantile"
	"example.org/noonfall/sensor"
	"example.org/noonfall/sun/timescale"
)

// A reading is one sample, or the mean of several.
type reading struct {
	t     float64 // the stamp in seconds from the predicted maximum
	v     float64 // its value
	y     float64 // natural logarithm of the value; see problem.soften for faint ones
	rel   float64 // variance of its own error that is in proportion to the light, relative
	zero  float64 // variance of its own error that is there in the dark, values squared
	step  float64 // the sensor's resolution there
	faint bool    // too close to nothing for a logarithm
	n     int     // samples in it
}

// dark is the variance in the logarithm of what is there in the dark.
func (r *reading) dark() float64 { return r.zero * math.Exp(-2*r.y) }

// A series is what of a log can be compared with a curve, and what could not.
type series struct {
	samples   []reading // one a sample, ascending in time
	bright    int       // samples that are not faint
	dark      int       // samples of no light, by their status or below nothing
	saturated int
	bad       int     // no number
	step      float64 // least difference between two values: the sensor's resolution
	zero      float64 // variance of a value in the dark
	turn      turn    // what made light of the values
	cadence   float64 // median seconds between samples
}

// newSeries sorts the samples, sets aside what is no number or only a bound,
// and judges every reading's own error from its neighbours.
// Readings that fall with light are turned round.
func newSeries(samples []Sample, scale timescale.Scale, max timescale.TT, falling bool) series {
	var s series
	type value struct{ t, v float64 }
	kept := make([]value, 0, len(samples))
	for _, p := range samples {
		t := float64(scale.TT(p.Time) - max)
		switch {
		case math.IsNaN(p.Value) || math.IsInf(p.Value, 0):
			s.bad++
		case p.Status == sensor.Saturated:
			s.saturated++
		case p.Status == sensor.TooDark || p.Value < 0:
			s.dark++
		default:
			kept = append(kept, value{t: t, v: p.Value})
		}
	}
	if order := func(a, b value) int { return cmp.Compare(a.t, b.t) }; !slices.IsSortedFunc(kept, order) {
		slices.SortStableFunc(kept, order)
	}
	values := make([]float64, len(kept))
	for i, k := range kept {
		values[i] = k.v
	}
	var least, greatest float64
	s.step, least, greatest = grain(values)
	s.zero = darkNoise(values, s.step)
	if falling {
		s.turn = turned(values)
	}
	s.samples = make([]reading, 0, len(kept))
	for _, k := range kept {
		what := s.turn.state(k.v, s.step, least, greatest)
		if what == full {
			s.saturated++
			continue
		}
		r := reading{t: k.t, n: 1, faint: what == faint}
		var slope float64
		r.v, slope = s.turn.read(k.v)
		r.zero, r.step = s.zero*slope*slope, s.step*slope
		if r.faint {
			r.v = math.Max(0, r.v)
		} else {
			r.y = math.Log(r.v)
			s.bright++
		}
		s.samples = append(s.samples, r)
	}
	gaps := make([]float64, 0, len(s.samples))
	for i := 1; i < len(s.samples); i++ {
		if d := s.samples[i].t - s.samples[i-1].t; d > 0 {
			gaps = append(gaps, d)
		}
	}
	s.cadence = quantile.MedianOf(gaps)
	s.judge()
	return s
}

// darkNoise is the variance of one value that does not shrink with the light:
// converter noise and rounding, in the values' own unit. It is read from second
// differences in the darkest minutes of the log, and leans on what a small
// converter usually has where these are few: a step, all in all (common practice,
// no source).
func darkNoise(values []float64, step float64) float64 {
	const usual = 4 // readings' worth of weight
	sum, n := usual*step*step, float64(usual)
	for i := 1; i+1 < len(values); i++ {
		if top := max(values[i-1], values[i], values[i+1]); top < 2*darkSteps*step {
			d := values[i-1] - 2*values[i] + values[i+1]
			sum += math.Min(d*d/6, 9*step*step)
			n++
		}
	}
	return sum / n
}

// darkSteps is the least value, in steps of the sensor, whose logarithm means
// anything: below it rounding biases it by more than its scatter. (Common practice,
// no source.)
const darkSteps = 5

// grain finds the sensor's resolution, the least step between two of its
// values, and its rails: the least and the greatest value, where the log stays there for
// a fiftieth of its length, or else infinities.
func grain(values []float64) (step, least, greatest float64) {
	step, least, greatest = math.Inf(1), math.Inf(-1), math.Inf(1)
	different, counts := quantile.Distinct(values)
	for i := 1; i < len(different); i++ {
		step = math.Min(step, different[i]-different[i-1])
	}
	if math.IsInf(step, 1) {
		return 0, least, greatest // one value throughout: flat, for all one knows, not full
	}
	rail := func(k int) bool { return k >= 20 && k*50 >= len(values) }
	last := len(different) - 1
	if rail(counts[last]) {
		greatest = different[last]
	}
	if rail(counts[0]) {
		least = different[0]
	}
	return step, least, greatest
}

// judge gives each sample the variance of its own error: half a minute of
// second differences around it, by their median, less what the sensor's noise in
// the dark makes of it: a count more or less is nothing in full light and a
// fifth in totality.
func (s *series) judge() {
	n := len(s.samples)
	second := make([]float64, n)
	for i := range second {
		second[i] = math.NaN()
	}
	for i := 1; i+1 < n; i++ {
		if a, b, c := &s.samples[i-1], &s.samples[i], &s.samples[i+1]; !a.faint && !b.faint && !c.faint {
			second[i] = math.Abs(a.y - 2*b.y + c.y)
		}
	}
	// The median of |N(0,6 s^2)| is 0.6745 sqrt(6) s.
	const toSigma = 1 / (0.67448975 * 2.44948974)
	window := make([]float64, 0, 2*judgeSide+1)
	var sigma float64
	for i := range s.samples {
		if i%judgeStride == 0 {
			window = window[:0]
			for _, d := range second[max(0, i-judgeSide):min(n, i+judgeSide+1)] {
				if !math.IsNaN(d) {
					window = append(window, d)
				}
			}
			if len(window) > 0 {
				sigma = quantile.MedianOf(window) * toSigma
			}
		}
		r := &s.samples[i]
		r.rel = leastError * leastError
		if !r.faint {
			r.rel = math.Max(r.rel, sigma*sigma-r.dark())
		}
	}
}

const (
	judgeSide   = 20   // samples either way that judge one reading's error
	judgeStride = 20   // samples that share one judgement
	leastError  = 2e-5 // relative; below the rounding of any small logger, keeps a noiseless series solvable
)

// binned merges the samples between lo and hi into readings no longer than
// width(t) seconds. A gap is never bridged, and samples of the same bin weigh
// alike. Faint samples are left out unless they are asked for; one of them makes
// the reading faint.
func (s *series) binned(lo, hi float64, faint bool, width func(t float64) float64) []reading {
	var out []reading
	var sum reading
	var start, least, most float64
	flush := func() {
		if sum.n > 0 {
			n := float64(sum.n)
			r := reading{t: sum.t / n, v: sum.v / n, y: sum.y / n, rel: sum.rel / (n * n), zero: sum.zero / (n * n), step: sum.step / n, faint: sum.faint, n: sum.n}
			if most-least < 1.5*r.step { // nothing dithers the rounding, and no mean takes it out
				r.zero = math.Max(r.zero, r.step*r.step/12)
			}
			out = append(out, r)
		}
		sum = reading{}
	}
	for _, r := range s.samples {
		if r.t < lo || r.t > hi || r.faint && !faint {
			continue
		}
		if sum.n > 0 && r.t-start >= width(r.t) {
			flush()
		}
		if sum.n == 0 {
			start, least, most = r.t, r.v, r.v
		}
		least, most = math.Min(least, r.v), math.Max(most, r.v)
		sum.t += r.t
		sum.v += r.v
		sum.y += r.y
		sum.rel += r.rel
		sum.zero += r.zero
		sum.step += r.step
		sum.faint = sum.faint || r.faint
		sum.n++
	}
	flush()
	return out
}
