package dips

import (
	"fmt"
	"math"
	"slices"
	"time"
)

// dip fits a form to the readings about a notch, and judges it. It looks at readings in
// [from, to) only.
func (f *search) dip(n notch, from, to int) (Dip, *Reason, error) {
	if why := f.unfit(n); why != nil {
		return Dip{}, why, nil
	}
	width := f.t[n.up] - f.t[n.down]
	a, b := n.down, n.up // wide enough for the level on either side
	for a > from && f.t[n.down]-f.t[a-1] <= 1.5*width {
		a--
	}
	for b < to-1 && f.t[b+1]-f.t[n.up] <= 1.5*width {
		b++
	}
	const beside = 2 // readings on either side at least
	if n.down-a < beside || b-n.up < beside {
		return Dip{}, reason(Cut), nil
	}
	p := f.points(a, b+1)
	fit, ok := p.best(form{f.t[n.down], math.Log(width / 3), f.t[n.up], math.Log(width / 3)}, width)
	if !ok {
		return Dip{}, reason(Shallow), nil
	}
	return f.judged(n, fit, a, b)
}

func reason(r Reason) *Reason { return &r }

// unfit says what is wrong with a notch before anything is fitted.
func (f *search) unfit(n notch) *Reason {
	width := f.t[n.up] - f.t[n.down]
	switch {
	case !n.seen:
		return reason(Cut)
	case n.up-n.down-1 < leastReadings || width < f.o.Shortest.Seconds():
		return reason(Short)
	case width > f.o.Longest.Seconds()+2*f.cadence:
		return reason(Long)
	}
	if why := f.switched(n); why != nil {
		return why
	}
	for i := n.down; i < n.up; i++ {
		if gap := f.t[i+1] - f.t[i]; gap > math.Max(width/2, 1.5*f.cadence) {
			return reason(Cut)
		}
	}
	return nil
}

// points averages neighbouring readings where there are more than a fit needs.
func (f *search) points(a, b int) points {
	const enough = 150
	k := max(1, (b-a)/enough)
	p := points{scatter: math.Max(f.step/math.Sqrt(12), 1e-9*math.Abs(f.mean(a, b)))}
	for i := a; i < b; i += k {
		m := min(k, b-i)
		t, v := 0.0, 0.0
		for j := i; j < i+m; j++ {
			t += f.t[j] / float64(m)
			v += f.v[j] / float64(m)
		}
		p.t, p.v, p.weight = append(p.t, t), append(p.v, v), append(p.weight, float64(m))
	}
	return p
}

// best fits from two starts, leaves out wild readings, and fits again.
func (p points) best(start form, width float64) (fitted, bool) {
	round := start
	round[1], round[3] = math.Log(width), math.Log(width)
	one, ok1 := p.fit(start, width)
	two, ok2 := p.fit(round, width)
	switch {
	case !ok1 && !ok2:
		return fitted{}, false
	case !ok1 || ok2 && p.squares(two) < p.squares(one):
		one = two
	}
	one.settle(p)
	tame := p.tamed(one)
	if len(tame.t) < len(p.t) {
		if again, ok := tame.fit(one.form, width); ok {
			again.settle(tame)
			return again, true
		}
	}
	return one, true
}

func (p points) squares(f fitted) (sum float64) {
	for i, t := range p.t {
		d := p.v[i] - f.value(t)
		sum += p.weight[i] * d * d
	}
	return sum
}

// tamed leaves out what lies more than five robust deviations off, if that is a tenth at most.
func (p points) tamed(f fitted) points {
	off := make([]float64, len(p.t))
	for i, t := range p.t {
		off[i] = math.Abs(p.v[i]-f.value(t)) * math.Sqrt(p.weight[i])
	}
	const ofNormal = 0.6745 // median of a standard normal's absolute value
	limit := 5 * math.Max(p.scatter, median(append([]float64(nil), off...))/ofNormal)
	out := points{scatter: p.scatter}
	for i := range p.t {
		if off[i] <= limit {
			out.t, out.v, out.weight = append(out.t, p.t[i]), append(out.v, p.v[i]), append(out.weight, p.weight[i])
		}
	}
	if 10*(len(p.t)-len(out.t)) > len(p.t) {
		return p
	}
	return out
}

// What a straight edge and a product of two leave out, as parts of an edge's length: a ball is
// round, so that it touches more gently than a straight edge, and a lamp is not evenly bright.
// Measured by TestPassages on discs that the fit is not told.
const (
	gentle   = 0.025
	edgeU    = 0.05
	leastU   = 0.006
	depthU   = 0.015 // of the depth
	betweenU = 0.12  // of the depth, times cadence/width: the least light lies between two readings
)

// judged is the dip of a fit, or why it is none.
func (f *search) judged(n notch, fit fitted, a, b int) (Dip, *Reason, error) {
	t, part := fit.least()
	start, end := fit.start()-gentle*math.Exp(fit.form[1]), fit.end()+gentle*math.Exp(fit.form[3])
	base, width := fit.base(t), fit.form[2]-fit.form[0]
	fall := fit.fall * part
	wander := f.restless(fit, a, b) / fall
	if least := f.o.MinDepth * f.light(base, fall); fall < least || fall < 0.3*n.fall || !(wander < 0.25) {
		return Dip{}, reason(Shallow), nil
	}
	whole := f.light(base, fall)
	if f.has && !(base > f.dark) {
		return Dip{}, nil, fmt.Errorf("%w: about %v the level is %g and darkness %g; set Options.Dark", ErrDark, f.at(t).UTC().Format(time.RFC3339), f.signed(base), f.signed(f.dark))
	}
	d := Dip{
		Depth: math.Min(1, fall/whole), Base: base, Bottom: base - fall, Signal: n.signal, Shape: fit.shape(fall/whole, f.cadence),
	}
	if d.Depth < f.o.MinDepth {
		return Dip{}, reason(Shallow), nil
	}
	in, out := math.Exp(fit.form[1]), math.Exp(fit.form[3])
	startU := quad(fit.spread(func(p form, _, _ float64) float64 { return p.start() }), edgeU*in, wander*in, f.beside(start)/math.Sqrt(12))
	endU := quad(fit.spread(func(p form, _, _ float64) float64 { return p.end() }), edgeU*out, wander*out, f.beside(end)/math.Sqrt(12))
	atLeast := quad(fit.spread(func(p form, _, _ float64) float64 { t, _ := p.least(); return t }), leastU*(in+out), 0.08*f.cadence)
	d.DepthU = quad(fit.spread(func(p form, a, level float64) float64 {
		_, part := p.least()
		return a * part / f.light(level, a*part)
	}), depthU*d.Depth, wander*d.Depth, betweenU*d.Depth*f.cadence/width)
	start, end = math.Max(start, f.t[a]), math.Min(end, f.t[b])
	d.Start, d.Least, d.End = f.at(start), f.at(math.Min(math.Max(t, start), end)), f.at(end)
	d.StartU, d.LeastU, d.EndU = seconds(math.Min(startU, 2*width)), seconds(math.Min(atLeast, width)), seconds(math.Min(endU, 2*width))
	for i := a; i <= b; i++ {
		if f.t[i] >= start && f.t[i] <= end {
			d.Readings++
		}
	}
	if !d.Start.Before(d.Least) || !d.Least.Before(d.End) {
		return Dip{}, reason(Short), nil
	}
	return d, nil, nil
}

// restless is how far the level beside a fitted dip is from a straight line, as the median
// of means over half the dip's width. A slow flicker goes up as far as down.
func (f *search) restless(fit fitted, a, b int) float64 {
	half := (fit.form[2] - fit.form[0]) / 2
	var off []float64
	sum, n, from := 0.0, 0, f.t[a]
	for i := a; i <= b; i++ {
		t := f.t[i]
		if beside := t < fit.start() || t > fit.end(); beside {
			sum, n = sum+f.v[i]-fit.base(t), n+1
		} else {
			sum, n, from = 0, 0, t
		}
		if t-from >= half && n > 0 {
			off = append(off, math.Abs(sum/float64(n)))
			sum, n, from = 0, 0, t
		}
	}
	if len(off) < 2 {
		return 0
	}
	return median(off)
}

func quad(x ...float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v * v
	}
	return math.Sqrt(sum)
}

// signed turns a reading that was turned over back.
func (f *search) signed(v float64) float64 {
	if f.o.Sense == Rising {
		return -v
	}
	return v
}

// beside is the interval between the readings on either side of an instant.
func (f *search) beside(t float64) float64 {
	i, _ := slices.BinarySearch(f.t, t)
	i = min(max(i, 1), len(f.t)-1)
	return math.Max(f.cadence, f.t[i]-f.t[i-1])
}

// shape says what the bottom is like: flat where it is longer than an eighth of the whole and
// than two readings.
func (p fitted) shape(depth, cadence float64) Shape {
	from, to := p.floor()
	switch {
	case to-from < math.Max((p.end()-p.start())/8, 2*cadence):
		return Partial
	case depth >= 0.9:
		return Total
	}
	return Flat
}
