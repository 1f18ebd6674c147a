package fit

import (
	"math"
	"slices"
	"time"

	"example.org/noonfall/eclipse/internal/quantile"
	"example.org/noonfall/sun/timescale"
)

// points puts every reading beside its prediction.
func (p *problem) points(r *Result, residual []float64) {
	scale := p.light.curve.Observer().Scale()
	middle := quantile.Median(residual)
	power := math.Max(r.Response.Exponent, leastExponent)
	for k, q := range p.readings {
		t := p.light.max + timescale.TT(q.t)
		e := math.Exp(p.rows[k][colPower] + p.light.clear.at(0))
		r.Points = append(r.Points, Point{
			Stamp:     scale.UTC(t),
			UTC:       scale.UTC(t - timescale.TT(r.Offset)),
			Predicted: e,
			Measured:  e * math.Exp((residual[k]-middle)/power),
			Residual:  residual[k] - middle,
		})
	}
}

// clouds finds the spans in which light was lost: a reading a tenth below the
// upper course of its surroundings, or minutes as rough as no clear sky is. It returns
// which readings are under cloud, as far as one can know: those beside totality where
// the minutes before or after are.
func (p *problem) clouds(r *Result, residual []float64) (cloudy []bool) {
	n := len(residual)
	cloudy = make([]bool, n)
	depth := make([]float64, n)
	power := math.Max(r.Response.Exponent, leastExponent)
	base := p.upperCourse(residual)
	for k := range residual {
		lost := (base[k] - residual[k]) / power
		depth[k] = 1 - math.Exp(-math.Max(0, lost))
		restless := math.Sqrt(p.rough[k]*60) / power
		// Beside totality the flanks are so steep that a second of clock is a tenth
		// of the light: nothing there is called cloud.
		cloudy[k] = p.bright(k) && (lost > cloudLoss || restless > cloudRough && lost > cloudLoss/3)
	}
	var span *Span
	var recorded, covered float64
	for k, q := range p.readings {
		t := q.t - r.Offset
		dt := 0.0
		if k > 0 {
			dt = math.Min(q.t-p.readings[k-1].t, 5*searchBin)
		}
		if t > p.light.c1 && t < p.light.c4 {
			recorded += dt
			if cloudy[k] {
				covered += dt
			}
		}
		if !cloudy[k] {
			continue
		}
		at := r.Points[k].UTC
		if span == nil || at.Sub(span.To) > cloudJoin {
			r.Cloud = append(r.Cloud, Span{From: at, To: at})
			span = &r.Cloud[len(r.Cloud)-1]
		}
		span.To = at
		span.Depth = math.Max(span.Depth, depth[k])
	}
	long := r.Cloud[:0]
	for _, c := range r.Cloud {
		if c.To.Sub(c.From) >= cloudLeast {
			long = append(long, c)
		}
	}
	r.Cloud = long
	if recorded > 0 {
		r.CloudFraction = covered / recorded
	}
	return p.throughDark(cloudy)
}

// throughDark has the readings that are too dark for cloud to be seen share the state of
// the cloudier of the bright ones next to them.
func (p *problem) throughDark(cloudy []bool) []bool {
	for first, last := range p.dark() {
		under := first > 0 && cloudy[first-1] || last+1 < len(cloudy) && cloudy[last+1]
		for k := first; k <= last; k++ {
			cloudy[k] = under
		}
	}
	return cloudy
}

// What counts as cloud. Common practice, no source: a clear sky is steady to
// some per cent within an hour.
const (
	cloudLoss  = 0.10 // natural logarithm of light lost
	cloudRough = 0.05 // the same, wandered in a minute
	cloudDeep  = -3.5 // logarithm of the light below which cloud is not looked for: three per cent of full
	cloudJoin  = 90 * time.Second
	cloudLeast = 45 * time.Second
)

// upperCourse is the clear sky's level as far as the log shows it, at every reading: the
// upper quartile over fifty minutes, every five, and straight lines between. Readings beside
// the inner contacts, which stand closer and show the Moon's edge, count no more than others,
// and the dark ones not at all. Common practice, no source.
func (p *problem) upperCourse(residual []float64) []float64 {
	const step, side, apart = 300.0, 1500.0, 15.0
	var t, y []float64
	for k, s := range p.t {
		if p.bright(k) && (len(t) == 0 || s-t[len(t)-1] >= apart) {
			t, y = append(t, s), append(y, residual[k])
		}
	}
	if len(t) == 0 {
		return slices.Clone(residual)
	}
	var at, level []float64
	lo, hi := 0, 0
	for x := t[0]; ; x += step {
		for lo < len(t) && t[lo] < x-side {
			lo++
		}
		for hi < len(t) && t[hi] <= x+side {
			hi++
		}
		if lo < hi {
			at = append(at, x)
			level = append(level, quantile.Of(0.75, y[lo:hi]))
		}
		if x > t[len(t)-1] {
			break
		}
	}
	out := make([]float64, len(residual))
	j := 0
	for k, s := range p.t {
		for j+1 < len(at)-1 && at[j+1] < s {
			j++
		}
		if j+1 >= len(at) {
			out[k] = level[len(level)-1]
			continue
		}
		f := math.Max(0, math.Min(1, (s-at[j])/(at[j+1]-at[j])))
		out[k] = level[j] + f*(level[j+1]-level[j])
	}
	return out
}
