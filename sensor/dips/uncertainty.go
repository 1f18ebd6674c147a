package dips

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

const parameters = 7 // of a fitted form: four of shape, depth, level and slope

// settle finds scatter and covariance of a fit from what it leaves.
func (f *fitted) settle(p points) {
	rest := make([]float64, len(p.t))
	squares, count := 0.0, 0.0
	for i, t := range p.t {
		rest[i] = (p.v[i] - f.value(t)) * math.Sqrt(p.weight[i])
		squares += rest[i] * rest[i]
		count += p.weight[i]
	}
	free := math.Max(1, float64(len(p.t)-parameters))
	f.scatter = math.Max(p.scatter, math.Sqrt(squares/free))
	f.used = int(count)
	f.cov = f.covariance(p, f.scatter*f.scatter*memory(rest))
}

// memory is by how much the variance of a mean is larger than in white noise, for residuals
// that go on as the first order's do: (1+r)/(1-r), r at most 0.97.
func memory(rest []float64) float64 {
	if len(rest) < 8 {
		return 1
	}
	r := stat.Correlation(rest[1:], rest[:len(rest)-1], nil)
	if !(r > 0) {
		return 1
	}
	r = math.Min(r, 0.97)
	return (1 + r) / (1 - r)
}

// covariance of form, fall and level by the linear law; weak priors keep what the readings
// do not tell (an edge between two of them) finite.
func (f *fitted) covariance(p points, variance float64) *mat.SymDense {
	width := math.Max(f.form[2]-f.form[0], 1e-9)
	prior := [parameters]float64{width, 1, width, 1, 3 * f.fall, math.Inf(1), math.Inf(1)}
	normal := mat.NewSymDense(parameters, nil)
	row := make([]float64, parameters)
	for i, t := range p.t {
		f.gradient(row, t, width)
		for a := range row {
			for b := a; b < parameters; b++ {
				normal.SetSym(a, b, normal.At(a, b)+p.weight[i]*row[a]*row[b]/variance)
			}
		}
	}
	for a, u := range prior {
		normal.SetSym(a, a, normal.At(a, a)+1/(u*u))
	}
	var chol mat.Cholesky
	cov := mat.NewSymDense(parameters, nil)
	if !chol.Factorize(normal) || chol.InverseTo(cov) != nil {
		for a, u := range prior { // nothing is known but the priors
			cov.SetSym(a, a, math.Min(u*u, f.fall*f.fall))
		}
	}
	return cov
}

// gradient of the reading at t by the parameters, by differences.
func (f *fitted) gradient(row []float64, t, width float64) {
	for k := range f.form {
		h := 1e-3
		if k == 0 || k == 2 {
			h *= width
		}
		up, down := f.form, f.form
		up[k] += h
		down[k] -= h
		row[k] = -f.fall * (up.at(t) - down.at(t)) / (2 * h)
	}
	row[4], row[5], row[6] = -f.at(t), 1, t-f.mid
}

// spread is the standard uncertainty of a function of form, fall and level.
func (f *fitted) spread(of func(form, float64, float64) float64) float64 {
	width := math.Max(f.form[2]-f.form[0], 1e-9)
	g := mat.NewVecDense(parameters, nil)
	for k := range f.form {
		h := 1e-3
		if k == 0 || k == 2 {
			h *= width
		}
		up, down := f.form, f.form
		up[k] += h
		down[k] -= h
		g.SetVec(k, (of(up, f.fall, f.level)-of(down, f.fall, f.level))/(2*h))
	}
	h := 1e-3 * f.fall
	g.SetVec(4, (of(f.form, f.fall+h, f.level)-of(f.form, f.fall-h, f.level))/(2*h))
	g.SetVec(5, (of(f.form, f.fall, f.level+h)-of(f.form, f.fall, f.level-h))/(2*h))
	return math.Sqrt(math.Max(0, mat.Inner(g, f.cov, g)))
}
