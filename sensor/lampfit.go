package sensor

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

const maxLampSteps = 100 // most of a thousand made-up walks took 5 to 8, the slowest 37

// lampState is what is fitted: ln value at 10 lx, slope, zero and background.
type lampState [4]float64

// A lampFit knows the points and which of the last two parameters move.
type lampFit struct {
	points           []LampPoint
	candela          float64
	zero, background bool
	bare             bool // no uncertainties: every ln value has 1
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

// weights are 1/u of each point by its effective variance.
func (f *lampFit) weights(s lampState) []float64 {
	w := make([]float64, len(f.points))
	for i, p := range f.points {
		lux, perMetre := f.light(s, p)
		w[i] = 1 / math.Hypot(p.ValueLnU, s[1]*perMetre/lux*p.DistanceU)
		if f.bare {
			w[i] = 1
		}
	}
	return w
}

// residuals are weighted; their sum of squares is +Inf where there is no such light.
func (f *lampFit) residuals(s lampState, w []float64) (r []float64, sum float64) {
	if near, _ := f.reach(s[2]); !(near > 0) {
		return nil, math.Inf(1)
	}
	for i, p := range f.points {
		lux, _ := f.light(s, p)
		if !(lux > 0) {
			return nil, math.Inf(1)
		}
		r = append(r, w[i]*(math.Log(p.Value)-s[0]-s[1]*math.Log(lux/lawLux)))
		sum += r[i] * r[i]
	}
	return r, sum
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

// jacobian has the weighted derivatives of the model, each column divided by its
// length, which is returned: metres and lux are then of one size.
func (f *lampFit) jacobian(s lampState, w []float64) (*mat.Dense, []float64) {
	at := f.moving()
	j, scale := mat.NewDense(len(f.points), len(at), nil), make([]float64, len(at))
	for i, p := range f.points {
		lux, perMetre := f.light(s, p)
		by := [4]float64{1, math.Log(lux / lawLux), s[1] * perMetre / lux, s[1] / lux}
		for k, a := range at {
			j.Set(i, k, w[i]*by[a])
			scale[k] = math.Hypot(scale[k], w[i]*by[a])
		}
	}
	for i := range f.points {
		for k := range at {
			j.Set(i, k, j.At(i, k)/scale[k])
		}
	}
	return j, scale
}

// solve steps until no parameter moves by 1e-7 of its own standard uncertainty,
// others held. The covariance is by place, 0 for what is not fitted.
func (f *lampFit) solve(s lampState) (lampState, [4][4]float64, bool) {
	for range maxLampSteps {
		w := f.weights(s)
		r, sum := f.residuals(s, w)
		j, scale := f.jacobian(s, w)
		var qr mat.QR
		qr.Factorize(j)
		var step mat.VecDense
		if math.IsInf(sum, 1) || qr.SolveVecTo(&step, false, mat.NewVecDense(len(r), r)) != nil {
			return s, [4][4]float64{}, false
		}
		if mat.Norm(&step, math.Inf(1)) <= 1e-7 {
			cov, ok := f.covariance(j, scale)
			return s, cov, ok
		}
		part, next := 1.0, s
		for ; part > 1e-6; part /= 2 {
			next = s
			for k, a := range f.moving() {
				next[a] += part * step.AtVec(k) / scale[k]
			}
			if _, now := f.residuals(next, w); now <= sum {
				break
			}
		}
		s = next
	}
	return s, [4][4]float64{}, false
}

func (f *lampFit) covariance(j *mat.Dense, scale []float64) (cov [4][4]float64, ok bool) {
	var normal, inverse mat.Dense
	normal.Mul(j.T(), j)
	if inverse.Inverse(&normal) != nil {
		return cov, false
	}
	for k, a := range f.moving() {
		for l, b := range f.moving() {
			cov[a][b] = inverse.At(k, l) / (scale[k] * scale[l])
		}
	}
	return cov, true
}
