package sensor

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// lampState is what is fitted: ln value at 10 lx, slope, zero and background.
type lampState [4]float64

// A lampFit knows the points and which of the last two parameters move.
type lampFit struct {
	points           []LampPoint
	candela          float64
	zero, background bool
	bare             bool // no uncertainties: every ln value has 1
	held             lampState
	weights          []float64 // 1/u of each point by its effective variance
}

// reach is the nearest and the farthest distance, metres.
func (f *lampFit) reach(zero float64) (near, far float64) {
	near, far = math.Inf(1), math.Inf(-1)
	for _, p := range f.points {
		near, far = math.Min(near, p.DistanceM+zero), math.Max(far, p.DistanceM+zero)
	}
	return near, far
}

// light is the illuminance and its derivative by distance.
func (f *lampFit) light(s lampState, p LampPoint) (lux, perMetre float64) {
	d := p.DistanceM + s[2]
	lux = f.candela / (d * d)
	return lux + s[3], -2 * lux / d
}

// start has the power law of the zero and the background given.
func (f *lampFit) start(l Lamp) lampState {
	s := lampState{2: l.ZeroM, 3: l.BackgroundLux}
	logs := make([]linePoint, len(f.points))
	for i, p := range f.points {
		lux, _ := f.light(s, p)
		logs[i] = linePoint{x: math.Log(lux / lawLux), y: math.Log(p.Value), yu: 1}
	}
	if first, ok := fitLine(logs); ok {
		s[0], s[1] = first.intercept, first.slope
	}
	return s
}

// state has the parameters that are fitted in their places.
func (f *lampFit) state(p []float64) lampState {
	s := f.held
	for k, a := range f.moving() {
		s[a] = p[k]
	}
	return s
}

func (f *lampFit) weigh(p []float64) {
	s := f.state(p)
	f.weights = make([]float64, len(f.points))
	for i, p := range f.points {
		lux, perMetre := f.light(s, p)
		f.weights[i] = 1 / math.Hypot(p.ValueLnU, s[1]*perMetre/lux*p.DistanceU)
		if f.bare {
			f.weights[i] = 1
		}
	}
}

// residuals are those of ln value; there are none where there is no such light.
func (f *lampFit) residuals(p []float64) (r []float64, ok bool) {
	s := f.state(p)
	if near, _ := f.reach(s[2]); !(near > 0) {
		return nil, false
	}
	for i, p := range f.points {
		lux, _ := f.light(s, p)
		if !(lux > 0) {
			return nil, false
		}
		r = append(r, f.weights[i]*(math.Log(p.Value)-s[0]-s[1]*math.Log(lux/lawLux)))
	}
	return r, squares(r) <= math.MaxFloat64
}

// moving are the places of the parameters that are fitted.
func (f *lampFit) moving() []int {
	at := []int{0, 1}
	if f.zero {
		at = append(at, 2)
	}
	if f.background {
		at = append(at, 3)
	}
	return at
}

func (f *lampFit) slopes(p []float64) *mat.Dense {
	s, at := f.state(p), f.moving()
	j := mat.NewDense(len(f.points), len(at), nil)
	for i, p := range f.points {
		lux, perMetre := f.light(s, p)
		by := [4]float64{1, math.Log(lux / lawLux), s[1] * perMetre / lux, s[1] / lux}
		for k, a := range at {
			j.Set(i, k, f.weights[i]*by[a])
		}
	}
	return j
}

// solve starts from s. The covariance is by place, 0 for what is not fitted.
func (f *lampFit) solve(s lampState) (lampState, solution, [4][4]float64, bool) {
	f.held = s
	var start []float64
	for _, a := range f.moving() {
		start = append(start, s[a])
	}
	got, ok := leastSquares(f, start)
	var cov [4][4]float64
	if !ok {
		return s, got, cov, false
	}
	for k, a := range f.moving() {
		for l, b := range f.moving() {
			cov[a][b] = got.cov.At(k, l)
		}
	}
	return f.state(got.p), got, cov, true
}
