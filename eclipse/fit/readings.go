package fit

import (
	"cmp"
	"math"
	"slices"

	"example.org/noonfall/eclipse/fit/internal/quantile"
	"example.org/noonfall/sensor"
	"example.org/noonfall/sun/timescale"
)

// A reading is the logarithm of one sample, or the mean of several.
type reading struct {
	t   float64 // the stamp in seconds from the predicted maximum
	y   float64 // natural logarithm of the sample's value
	own float64 // variance of the reading's own error
	n   int     // samples in it
}

// A series is what of a log can be compared with a curve, and what could not.
type series struct {
	samples   []reading // one a sample, ascending in time
	dark      int       // samples of no light, or too little to take the logarithm of
	saturated int
	bad       int     // no number
	step      float64 // least difference between two values: the sensor's resolution
	cadence   float64 // median seconds between samples
}

// newSeries sorts the samples, sets aside what is no number or only a bound,
// and judges every reading's own error from its neighbours.
func newSeries(samples []Sample, scale timescale.Scale, max timescale.TT) series {
	var s series
	type plain struct{ t, v float64 }
	kept := make([]plain, 0, len(samples))
	for _, p := range samples {
		t := float64(scale.TT(p.Time) - max)
		switch {
		case math.IsNaN(p.Value) || math.IsInf(p.Value, 0):
			s.bad++
		case p.Status == sensor.Saturated:
			s.saturated++
		case p.Status == sensor.TooDark || p.Value <= 0:
			s.dark++
		default:
			kept = append(kept, plain{t: t, v: p.Value})
		}
	}
	slices.SortStableFunc(kept, func(a, b plain) int { return cmp.Compare(a.t, b.t) })
	values := make([]float64, len(kept))
	for i, k := range kept {
		values[i] = k.v
	}
	var ceiling float64
	s.step, ceiling = grain(values)
	for _, k := range kept {
		switch {
		case k.v >= ceiling:
			s.saturated++
		case k.v < darkSteps*s.step:
			s.dark++
		default:
			s.samples = append(s.samples, reading{t: k.t, y: math.Log(k.v), n: 1})
		}
	}
	gaps := make([]float64, 0, len(s.samples))
	for i := 1; i < len(s.samples); i++ {
		if d := s.samples[i].t - s.samples[i-1].t; d > 0 {
			gaps = append(gaps, d)
		}
	}
	s.cadence = quantile.Median(gaps)
	s.judge()
	return s
}

// darkSteps is the least value that is measured rather than guessed, in steps
// of the sensor: below it the logarithm of a rounded value is biased by more
// than its scatter. (Common practice, no source.)
const darkSteps = 5

// grain finds the sensor's resolution, the least step between two of its
// values, and its ceiling: the greatest value, where the log stays at it for
// a fiftieth of its length (a sensor at its rail), or else +Inf.
func grain(values []float64) (step, ceiling float64) {
	if len(values) == 0 {
		return 0, math.Inf(1)
	}
	sorted := slices.Sorted(slices.Values(values))
	step = math.Inf(1)
	for i := 1; i < len(sorted); i++ {
		if d := sorted[i] - sorted[i-1]; d > 0 && d < step {
			step = d
		}
	}
	if math.IsInf(step, 1) {
		return 0, math.Inf(1) // one value throughout: flat, for all one knows, not full
	}
	top := sorted[len(sorted)-1]
	at, _ := slices.BinarySearch(sorted, top)
	if n := len(sorted) - at; n >= 20 && n*50 >= len(sorted) {
		return step, top
	}
	return step, math.Inf(1)
}

// judge gives each sample the variance of its own error: half a minute of
// second differences around it, by their median, and never less than what
// rounding to the sensor's step makes (step^2/12, JCGM 100:2008 F.2.2.1).
func (s *series) judge() {
	n := len(s.samples)
	second := make([]float64, n)
	for i := 1; i+1 < n; i++ {
		second[i] = math.Abs(s.samples[i-1].y - 2*s.samples[i].y + s.samples[i+1].y)
	}
	if n > 2 {
		second[0], second[n-1] = second[1], second[n-2]
	}
	// The median of |N(0,6 s^2)| is 0.6745 sqrt(6) s.
	const toSigma = 1 / (0.67448975 * 2.44948974)
	window := make([]float64, 0, 2*judgeSide+1)
	for i := range s.samples {
		if i%judgeStride == 0 || i == 0 {
			lo, hi := max(0, i-judgeSide), min(n, i+judgeSide+1)
			window = append(window[:0], second[lo:hi]...)
		}
		sigma := quantile.Median(window) * toSigma
		round := s.step / math.Exp(s.samples[i].y)
		s.samples[i].own = math.Max(sigma*sigma, leastError*leastError) + round*round/12
	}
}

const (
	judgeSide   = 20   // samples either way that judge one reading's error
	judgeStride = 10   // samples that share one judgement
	leastError  = 2e-5 // relative; below the rounding of any small logger, keeps a noiseless series solvable
)

// binned merges the samples between lo and hi into readings no longer than
// width(t) seconds. A gap is never bridged, and samples of the same bin weigh
// alike.
func (s *series) binned(lo, hi float64, width func(t float64) float64) []reading {
	var out []reading
	var sum reading
	var start float64
	flush := func() {
		if sum.n > 0 {
			n := float64(sum.n)
			out = append(out, reading{t: sum.t / n, y: sum.y / n, own: sum.own / (n * n), n: sum.n})
		}
		sum = reading{}
	}
	for _, r := range s.samples {
		if r.t < lo || r.t > hi {
			continue
		}
		if sum.n > 0 && r.t-start >= width(r.t) {
			flush()
		}
		if sum.n == 0 {
			start = r.t
		}
		sum.t += r.t
		sum.y += r.y
		sum.own += r.own
		sum.n++
	}
	flush()
	return out
}
