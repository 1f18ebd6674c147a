package fit

import (
	"math"
	"slices"
	"time"

	"example.org/noonfall/eclipse/internal/quantile"
)

// What counts as the edge of a shade that stays: a wall, a tree, a thick bank. It takes
// a quarter of the light or more within minutes, as neither haze nor a light model that is
// a little wrong does, and is over when most of that is back. What is shorter shows
// against the course of its surroundings. Common practice, no source.
const (
	shadeEnter  = 0.3   // natural logarithm of light lost against the minutes before
	shadeLeave  = 0.15  // the same, against the minutes before it came
	shadeKeep   = 0.25  // the same, in nine tenths of its readings: passing clouds let more through
	shadeSpread = 0.7   // of the loss itself: how far its tenth and ninetieth per cent may be apart
	shadeMemory = 300.0 // s: those minutes
	shadeLeast  = 10 * time.Minute
)

// shades adds to the spans those that last too long for the course of the surroundings to
// show what is lost, and counts them in the part of the eclipse that was not clear.
func (p *problem) shades(r *Result, residual []float64) {
	power := math.Max(r.Response.Exponent, leastExponent)
	var found []Span
	for _, back := range []bool{false, true} {
		found = append(found, p.shaded(r.Points, residual, power, back)...)
	}
	if len(found) == 0 {
		return
	}
	r.Cloud = joined(append(r.Cloud, found...))
	r.CloudFraction = math.Max(r.CloudFraction, p.unclear(r))
}

// shaded follows the level of the clear minutes through the log, or back from its end, so
// that a log that begins in the shade shows it too. Readings too dark to tell leave the
// state as it is.
func (p *problem) shaded(points []Point, residual []float64, power float64, back bool) (out []Span) {
	var recent []float64 // levels of the clear minutes, and their times
	var times []float64
	var lost [][]float64 // in each of the spans
	var level float64    // of the clear minutes, when the shade came
	in := false
	for i := range residual {
		k := i
		if back {
			k = len(residual) - 1 - i
		}
		if p.rows[k][colPower] < cloudDeep {
			continue
		}
		y, t, at := residual[k]/power, p.t[k], points[k].UTC
		for len(times) > 0 && math.Abs(times[0]-t) > shadeMemory && len(times) > 3 {
			times, recent = times[1:], recent[1:]
		}
		switch {
		case in && y > level-shadeLeave:
			in = false
		case !in && len(recent) > 2 && y < quantile.Median(recent)-shadeEnter:
			in, level = true, quantile.Median(recent)
			out, lost = append(out, Span{From: at, To: at}), append(lost, nil)
		}
		if !in {
			recent, times = append(recent, y), append(times, t)
			continue
		}
		s := &out[len(out)-1]
		s.From, s.To = earlier(s.From, at), later(s.To, at)
		s.Depth = math.Max(s.Depth, -math.Expm1(y-level))
		lost[len(out)-1] = append(lost[len(out)-1], level-y)
	}
	kept := out[:0]
	for i, s := range out {
		if s.To.Sub(s.From) >= shadeLeast && lasting(lost[i]) {
			kept = append(kept, s)
		}
	}
	return kept
}

// lasting says that what is lost hardly goes up and down, as passing clouds have it.
func lasting(lost []float64) bool {
	low, high := quantile.Of(0.1, lost), quantile.Of(0.9, lost)
	return low > shadeKeep && high-low < shadeSpread*quantile.Median(lost)
}

// joined merges spans that overlap, or nearly.
func joined(spans []Span) []Span {
	slices.SortFunc(spans, func(a, b Span) int { return a.From.Compare(b.From) })
	out := spans[:1]
	for _, s := range spans[1:] {
		last := &out[len(out)-1]
		if s.From.Sub(last.To) > cloudJoin {
			out = append(out, s)
			continue
		}
		last.To, last.Depth = later(last.To, s.To), math.Max(last.Depth, s.Depth)
	}
	return out
}

// unclear is the part of the recorded eclipse that lies in the spans.
func (p *problem) unclear(r *Result) float64 {
	var recorded, covered float64
	j := 0
	for k := 1; k < len(p.t); k++ {
		if t := p.t[k] - r.Offset; t <= p.light.c1 || t >= p.light.c4 {
			continue
		}
		dt := math.Min(p.t[k]-p.t[k-1], 5*searchBin)
		recorded += dt
		at := r.Points[k].UTC
		for j < len(r.Cloud) && r.Cloud[j].To.Before(at) {
			j++
		}
		if j < len(r.Cloud) && !r.Cloud[j].From.After(at) {
			covered += dt
		}
	}
	if recorded == 0 {
		return 0
	}
	return covered / recorded
}

func earlier(a, b time.Time) time.Time {
	if b.Before(a) {
		return b
	}
	return a
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}
