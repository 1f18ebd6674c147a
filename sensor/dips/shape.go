package dips

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"
)

// covered is the part of a round lamp that a straight edge has covered when it is x of the
// way across, by the area of a circle's segment.
func covered(x float64) float64 {
	switch {
	case !(x > 0):
		return 0
	case x >= 1:
		return 1
	}
	return (math.Acos(1-2*x) - 2*(1-2*x)*math.Sqrt(x*(1-x))) / math.Pi
}

// A form is a dip without its depth: an edge goes in, another goes out. Instants are those of
// half way, lengths natural logarithms of seconds.
type form [4]float64 // in, ln length, out, ln length

func (p form) start() float64 { return p[0] - math.Exp(p[1])/2 }
func (p form) end() float64   { return p[2] + math.Exp(p[3])/2 }

// floor are the ends of the flat bottom; the first is after the second where there is none.
func (p form) floor() (from, to float64) {
	return p[0] + math.Exp(p[1])/2, p[2] - math.Exp(p[3])/2
}

// at is the part of the full depth that is covered at an instant.
func (p form) at(t float64) float64 {
	return covered((t-p.start())/math.Exp(p[1])) * covered((p.end()-t)/math.Exp(p[3]))
}

// least is the instant of least light, and how deep it is as a part of the full depth: the
// middle of a flat bottom; else the two edges' product is symmetric up to their lengths.
func (p form) least() (t, part float64) {
	from, to := p.floor()
	if from <= to {
		return (from + to) / 2, 1
	}
	lo, hi := math.Max(to, p.start()), math.Min(from, p.end())
	const golden = 0.6180339887498949
	for range 60 { // shrinks by 3e-13
		a, b := hi-golden*(hi-lo), lo+golden*(hi-lo)
		if p.at(a) < p.at(b) {
			lo = a
		} else {
			hi = b
		}
	}
	t = (lo + hi) / 2
	return t, p.at(t)
}

// points are the readings about one dip, some of them averaged, in order.
type points struct {
	t, v, weight []float64
	scatter      float64 // of one reading at least, as rounding alone makes it
}

// A fitted form, with the level beside it as a straight line in time.
type fitted struct {
	form
	fall, level, slope float64 // level at the middle time mid
	mid                float64
	scatter            float64       // of one reading
	cov                *mat.SymDense // of form, fall, level
	used               int           // readings
}

// projector takes the straight line out of a series by weighted least squares.
type projector struct {
	w, x         []float64 // weights, centred times
	sum, mid, xx float64
}

func newProjector(p points) projector {
	r := projector{w: p.weight, x: make([]float64, len(p.t))}
	for i, t := range p.t {
		r.sum += r.w[i]
		r.mid += r.w[i] * t
	}
	r.mid /= r.sum
	for i, t := range p.t {
		r.x[i] = t - r.mid
		r.xx += r.w[i] * r.x[i] * r.x[i]
	}
	return r
}

// line is level and slope of y, and rest what is left.
func (r projector) line(y, rest []float64) (level, slope float64) {
	for i, v := range y {
		level += r.w[i] * v
		slope += r.w[i] * v * r.x[i]
	}
	level, slope = level/r.sum, slope/r.xx
	for i, v := range y {
		rest[i] = v - level - slope*r.x[i]
	}
	return level, slope
}

// fit moves the form until the weighted squares are least. Depth and level are solved for at
// each step, so that four numbers are searched for.
func (p points) fit(start form, width float64) (fitted, bool) {
	r := newProjector(p)
	c, crest, yrest := make([]float64, len(p.t)), make([]float64, len(p.t)), make([]float64, len(p.t))
	ylevel, yslope := r.line(p.v, yrest)
	solve := func(q form) (fall, level, slope, squares float64) {
		for i, t := range p.t {
			c[i] = q.at(t)
		}
		clevel, cslope := r.line(c, crest)
		cc, cy, yy := 0.0, 0.0, 0.0
		for i, w := range r.w {
			cc, cy, yy = cc+w*crest[i]*crest[i], cy+w*crest[i]*yrest[i], yy+w*yrest[i]*yrest[i]
		}
		if !(cc > 0) {
			return 0, ylevel, yslope, yy
		}
		a := math.Min(0, cy/cc)
		return -a, ylevel - a*clevel, yslope - a*cslope, yy - a*(2*cy-a*cc)
	}
	_, _, _, scale := solve(start)
	scale = math.Max(scale, p.scatter*p.scatter*r.sum) / r.sum
	cost := func(x []float64) float64 {
		q := form(x)
		if q[2] <= q[0] || math.Abs(q[0]-start[0]) > width || math.Abs(q[2]-start[2]) > width {
			return math.Inf(1)
		}
		_, _, _, squares := solve(q)
		prior := 0.0 // no edge is much longer than the dip is wide
		for _, e := range []float64{q[1], q[3]} {
			over := math.Max(0, e-math.Log(1.6*width))
			prior += scale * 100 * over * over
			under := math.Max(0, math.Log(width/300)-e)
			prior += scale * under * under
		}
		return squares + prior
	}
	simplex := make([][]float64, 5)
	values := make([]float64, 5)
	for i := range simplex {
		x := start
		if i > 0 {
			x[i-1] += []float64{0.1 * width, 0.5, -0.1 * width, 0.5}[i-1]
		}
		simplex[i] = append([]float64(nil), x[:]...)
		values[i] = cost(simplex[i])
	}
	got, err := optimize.Minimize(optimize.Problem{Func: cost}, start[:],
		&optimize.Settings{FuncEvaluations: 400, Converger: &optimize.FunctionConverge{Absolute: 1e-6 * scale, Relative: 1e-6, Iterations: 25}},
		&optimize.NelderMead{InitialVertices: simplex, InitialValues: values})
	if err != nil || got == nil || math.IsInf(got.F, 0) || math.IsNaN(got.F) {
		return fitted{}, false
	}
	out := fitted{form: form(got.X), mid: r.mid}
	out.fall, out.level, out.slope, _ = solve(out.form)
	return out, out.fall > 0
}

// value is the fitted reading at an instant.
func (f fitted) value(t float64) float64 {
	return f.level + f.slope*(t-f.mid) - f.fall*f.at(t)
}

// base is the fitted level beside the dip.
func (f fitted) base(t float64) float64 { return f.level + f.slope*(t-f.mid) }
