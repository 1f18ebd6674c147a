package fit

import (
	"cmp"
	"math"
	"slices"
	"sort"

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
	samples []reading // one a sample, ascending in time
	judged  []bool    // which of them, judgeStride at a time, have an error of their own
	bright  int       // samples that are not faint
	dark    int       // samples of no light, by their status or below nothing
	full    ceiling   // samples that were bounds
	bad     int       // no number
	step    float64   // least difference between two values: the sensor's resolution
	zero    float64   // variance of a value in the dark
	turn    turn      // what made light of the values
	cadence float64   // median seconds between samples
}

// newSeries sorts the samples and sets aside what is no number or only a bound. What error
// each has is judged where it is asked for. Readings that fall with light are turned round.
func newSeries(samples []Sample, scale timescale.Scale, max timescale.TT, falling bool) series {
	s := series{samples: make([]reading, 0, len(samples))}
	for i := range samples {
		p := &samples[i]
		switch {
		case math.IsNaN(p.Value) || math.IsInf(p.Value, 0):
			s.bad++
		case p.Status == sensor.Saturated:
			s.full.at = append(s.full.at, float64(scale.TT(p.Time)-max))
		case p.Status == sensor.TooDark || p.Value < 0:
			s.dark++
		default:
			s.samples = append(s.samples, reading{t: float64(scale.TT(p.Time) - max), v: p.Value, n: 1})
		}
	}
	if order := func(a, b reading) int { return cmp.Compare(a.t, b.t) }; !slices.IsSortedFunc(s.samples, order) {
		slices.SortStableFunc(s.samples, order)
	}
	values := make([]float64, len(s.samples))
	for i := range values {
		values[i] = s.samples[i].v
	}
	s.scale(values, falling)
	gaps := values[:0]
	for i := 1; i < len(s.samples); i++ {
		if d := s.samples[i].t - s.samples[i-1].t; d > 0 {
			gaps = append(gaps, d)
		}
	}
	s.cadence = quantile.MedianOf(gaps)
	s.full.cadence = s.cadence
	s.judged = make([]bool, len(s.samples)/judgeStride+1)
	return s
}

// scale learns from the values what the sensor can tell apart, and takes the logarithms.
func (s *series) scale(values []float64, falling bool) {
	var least, greatest float64
	s.step, least, greatest = grain(values)
	s.zero = darkNoise(values, s.step)
	if falling {
		s.turn = turned(values)
	}
	used := s.samples[:0]
	for i := range s.samples {
		r := &s.samples[i]
		what := s.turn.state(r.v, s.step, least, greatest)
		if what == full {
			s.full.at = append(s.full.at, r.t)
			continue
		}
		var slope float64
		r.v, slope = s.turn.read(r.v)
		r.zero, r.step, r.faint = s.zero*slope*slope, s.step*slope, what == faint
		if r.faint {
			r.v = math.Max(0, r.v)
		} else {
			r.y = math.Log(r.v)
			s.bright++
		}
		used = append(used, *r)
	}
	s.samples = used
	slices.Sort(s.full.at)
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

// judge gives each sample from one to before another the variance of its own error: half a
// minute of second differences around it, by their median, less what the sensor's noise in
// the dark makes of it: a count more or less is nothing in full light and a
// fifth in totality. What has been judged before is left alone.
func (s *series) judge(from, to int) {
	for block := from / judgeStride; block*judgeStride < to; block++ {
		if s.judged[block] {
			continue
		}
		s.judged[block] = true
		sigma := s.scatter(block)
		for i := block * judgeStride; i < min(len(s.samples), (block+1)*judgeStride); i++ {
			r := &s.samples[i]
			r.rel = leastError * leastError
			if !r.faint {
				r.rel = math.Max(r.rel, sigma*sigma-r.dark())
			}
		}
	}
}

// scatter is the standard deviation around so many samples as share a judgement, or around
// the last before them of which any can be judged, 0 where none can.
func (s *series) scatter(block int) float64 {
	// The median of |N(0,6 s^2)| is 0.6745 sqrt(6) s.
	const toSigma = 1 / (0.67448975 * 2.44948974)
	second := make([]float64, 0, 2*judgeSide+1)
	for ; block >= 0 && len(second) == 0; block-- {
		middle := block * judgeStride
		for i := max(1, middle-judgeSide); i < min(len(s.samples)-1, middle+judgeSide+1); i++ {
			if a, b, c := &s.samples[i-1], &s.samples[i], &s.samples[i+1]; !a.faint && !b.faint && !c.faint {
				second = append(second, math.Abs(a.y-2*b.y+c.y))
			}
		}
	}
	if len(second) == 0 {
		return 0
	}
	return quantile.MedianOf(second) * toSigma
}

const (
	judgeSide   = 20   // samples either way that judge one reading's error
	judgeStride = 20   // samples that share one judgement
	leastError  = 2e-5 // relative; below the rounding of any small logger, keeps a noiseless series solvable
)

// between is the samples from one instant to another, each with its own error.
func (s *series) between(lo, hi float64) []reading {
	at := func(t float64) int {
		return sort.Search(len(s.samples), func(i int) bool { return s.samples[i].t >= t })
	}
	from, to := at(lo), at(math.Nextafter(hi, math.Inf(1)))
	s.judge(from, to)
	return s.samples[from:to]
}

// binned merges samples into readings no longer than width(t) seconds. A gap is never
// bridged, and samples of the same bin weigh alike. Faint samples are left out unless they
// are asked for; one of them makes the reading faint.
func binned(samples []reading, faint bool, width func(t float64) float64) []reading {
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
	for i := range samples {
		r := &samples[i]
		if r.faint && !faint {
			continue
		}
		if sum.n > 0 && r.t-start >= width(r.t) {
			flush()
		}
		if sum.n == 0 {
			start, least, most = r.t, r.v, r.v
		}
		least, most = min(least, r.v), max(most, r.v)
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
