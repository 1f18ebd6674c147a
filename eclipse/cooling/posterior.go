package cooling

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

// dropPrior is the standard deviation of the drop before the readings speak,
// degrees, about nothing: 0.3 to 7 are published.
const dropPrior = 4.0

// A guess is one possible answer with its weight.
type guess struct {
	weight      float64 // logarithm
	lagU        float64 // of the form of the drive, s
	drop, u     float64 // normal, degrees
	lag, tau    float64
	kind        kind
	rough       rough
	thermometer float64
}

// A posterior is all guesses, and how much better they explain the readings than
// a day without eclipse does.
type posterior struct {
	guesses  []guess
	evidence float64 // natural logarithm
	y        []float64
	cols     [][]float64
	sd       []float64
}

// infer weighs all answers under all kinds of day.
func (s *series) infer(ctx context.Context, d *day, control *course, tauT, wT []float64) (*posterior, error) {
	p := &posterior{y: slices.Clone(s.c)}
	mean := stat.Mean(p.y, nil)
	for i := range p.y {
		p.y[i] -= mean
	}
	p.cols, p.sd = d.columns(s.t, control)
	s.lag = tauT[0]
	tries := newTries(s.t, d, tauT)
	plain := []float64{}
	days := []weighed{}
	for _, g := range roughs() {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		_, all := s.covariance(g, p.cols, p.sd)
		var chol mat.Cholesky
		if !chol.Factorize(all) {
			return nil, fmt.Errorf("cooling: the covariance of %d readings cannot be factorized", len(s.t))
		}
		y := mat.NewVecDense(len(p.y), p.y)
		var ky mat.VecDense
		if err := chol.SolveVecTo(&ky, y); err != nil {
			return nil, fmt.Errorf("cooling: %w", err)
		}
		w := weighed{g, &chol, &ky, -0.5*mat.Dot(y, &ky) - 0.5*chol.LogDet(), 0}
		if err := w.look(tries); err != nil {
			return nil, err
		}
		plain, days = append(plain, w.base), append(days, w)
	}
	likely := slices.MaxFunc(days, func(a, b weighed) int { return cmp.Compare(a.best, b.best) }).best
	for _, w := range days {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if !(w.best >= likely-hopeless) {
			continue
		}
		var kx mat.Dense
		if err := w.chol.SolveTo(&kx, tries.x); err != nil {
			return nil, fmt.Errorf("cooling: %w", err)
		}
		p.add(w.rough, w.base, tries, w.ky, &kx, wT)
	}
	logs := make([]float64, len(p.guesses))
	for i, q := range p.guesses {
		logs[i] = q.weight
	}
	p.evidence = logSum(logs) - logSum(plain) + math.Log(float64(len(plain)))
	return p, nil
}

// A weighed is one kind of day with what the readings say of it.
type weighed struct {
	rough
	chol *mat.Cholesky
	ky   *mat.VecDense
	base float64 // logarithm of the likelihood without eclipse, but for a constant
	best float64 // likewise, with the best of a few eclipses
}

// hopeless is how much less likely a day is, natural logarithm, whose answers are not
// tried one by one: the look is at an eighth of them, the rest may do better by some, and
// what is left out weighs less than exp(-11).
const hopeless = 20.0

// look weighs the first kind of answer of each drive with the likeliest thermometer.
func (w *weighed) look(tr tries) error {
	n, _ := tr.x.Dims()
	perKind := len(tr.tauT) * tauNodes
	w.best = w.base
	for k := 0; k < len(tr.kinds); k += len(tr.kinds) / drives {
		x := tr.x.Slice(0, n, k*perKind, k*perKind+tauNodes)
		var kx mat.Dense
		if err := w.chol.SolveTo(&kx, x); err != nil {
			return fmt.Errorf("cooling: %w", err)
		}
		for c := range tauNodes {
			a, b := 0.0, 1/(dropPrior*dropPrior)
			for r := range n {
				a += x.At(r, c) * w.ky.AtVec(r)
				b += x.At(r, c) * kx.At(r, c)
			}
			w.best = math.Max(w.best, w.base+0.5*a*a/b-0.5*math.Log(b*dropPrior*dropPrior))
		}
	}
	return nil
}

// formPart is which part of the difference between two ways to count the lost light is
// taken for a standard uncertainty of the lag beyond what the readings tell: neither
// way is true, and with a low Sun they part. Common practice, no source.
const formPart = 0.12

// tries are the readings' columns of all answers at the nodes.
type tries struct {
	x     *mat.Dense
	lags  [][]float64 // by kind, at the fine time constants
	form  [][]float64 // what is left open of them
	tauT  []float64
	kinds []kind
}

func newTries(t []float64, d *day, tauT []float64) tries {
	coarse := nodes(tauNodes)
	out := tries{x: mat.NewDense(len(t), len(d.kinds)*len(tauT)*len(coarse), nil), tauT: tauT, kinds: d.kinds}
	col := 0
	for _, k := range d.kinds {
		for _, th := range tauT {
			for _, tau := range coarse {
				a := d.answer(k, tau)
				seen := a.air.lagged(th)
				for i, x := range t {
					out.x.Set(i, col, -seen.at(x))
				}
				col++
			}
		}
		lags, form := make([]float64, tauFine), make([]float64, tauFine)
		for i, tau := range nodes(tauFine) {
			lags[i] = d.answer(k, tau).lag
			other := k
			other.drive = map[int]int{0: 1, 1: 0, 2: 0}[k.drive]
			form[i] = formPart * math.Abs(lags[i]-d.answer(other, tau).lag)
		}
		out.lags, out.form = append(out.lags, lags), append(out.form, form)
	}
	return out
}

// add weighs every answer under one kind of day, between the nodes by cubics in the
// logarithm of the time constant.
func (p *posterior) add(g rough, base float64, tr tries, ky *mat.VecDense, kx *mat.Dense, wT []float64) {
	n, _ := tr.x.Dims()
	log := make([]float64, tauNodes)
	for i, tau := range nodes(tauNodes) {
		log[i] = math.Log(tau)
	}
	fine := nodes(tauFine)
	each := math.Log(float64(len(tr.kinds) * tauFine))
	col := 0
	for ki, k := range tr.kinds {
		for th := range tr.tauT {
			xy, xx := make([]float64, tauNodes), make([]float64, tauNodes)
			for i := range tauNodes {
				for r := range n {
					v := tr.x.At(r, col)
					xy[i] += v * ky.AtVec(r)
					xx[i] += v * kx.At(r, col)
				}
				col++
			}
			var fxy, fxx interp.NaturalCubic
			if fxy.Fit(log, xy) != nil || fxx.Fit(log, xx) != nil {
				continue
			}
			for i, tau := range fine {
				l := math.Log(tau)
				a, b := fxy.Predict(l), math.Max(fxx.Predict(l), 0)+1/(dropPrior*dropPrior)
				z := (l - math.Log(tauUsual)) / tauSpread
				p.guesses = append(p.guesses, guess{
					weight: base + 0.5*a*a/b - 0.5*math.Log(b*dropPrior*dropPrior) - 0.5*z*z - tauNorm + math.Log(wT[th]) - each,
					drop:   a / b, u: 1 / math.Sqrt(b), lag: tr.lags[ki][i], lagU: tr.form[ki][i], tau: tau * (1 + k.ahead),
					kind: k, rough: g, thermometer: tr.tauT[th],
				})
			}
		}
	}
}

// tauNorm makes the prior of the time constant sum to one over the fine ones.
var tauNorm = func() float64 {
	sum := 0.0
	for _, tau := range nodes(tauFine) {
		z := math.Log(tau/tauUsual) / tauSpread
		sum += math.Exp(-0.5*z*z) / tauFine
	}
	return math.Log(sum)
}()

func logSum(x []float64) float64 {
	most := slices.Max(x)
	sum := 0.0
	for _, v := range x {
		sum += math.Exp(v - most)
	}
	return most + math.Log(sum)
}

// A Value is a measured quantity.
type Value struct {
	Value float64    // mean of what the readings allow
	U     float64    // standard uncertainty
	CI95  [2]float64 // between these with 95 % probability
}

// Eleven points that stand for a normal distribution, at the middles of equal parts of it.
var normal = [...]float64{-1.6906, -1.0968, -0.7478, -0.4728, -0.2299, 0, 0.2299, 0.4728, 0.7478, 1.0968, 1.6906}

// spread gathers the guesses that count into a value; of yields a guess's value and
// its own standard deviation.
func (p *posterior) spread(of func(g guess) (v, u float64)) Value {
	type point struct{ v, w float64 }
	var pts []point
	most := p.best().weight
	for _, g := range p.guesses {
		w := math.Exp(g.weight - most)
		if w < 1e-5 {
			continue
		}
		v, u := of(g)
		for _, z := range normal {
			pts = append(pts, point{v + 1.127*z*u, w}) // the points' own deviation is 0.887
		}
	}
	slices.SortFunc(pts, func(a, b point) int {
		if a.v < b.v {
			return -1
		}
		if a.v > b.v {
			return 1
		}
		return 0
	})
	v, w := make([]float64, len(pts)), make([]float64, len(pts))
	for i, q := range pts {
		v[i], w[i] = q.v, q.w
	}
	mean, variance := stat.MeanVariance(v, w)
	if sum := stat.Mean(w, nil) * float64(len(w)); sum <= 1 { // MeanVariance divides by the weights less one
		variance = stat.MomentAbout(2, v, mean, w)
	}
	out := Value{Value: mean, U: math.Sqrt(variance)}
	for i, q := range []float64{0.025, 0.975} {
		out.CI95[i] = stat.Quantile(q, stat.Empirical, v, w)
	}
	return out
}

func (p *posterior) best() guess {
	return slices.MaxFunc(p.guesses, func(a, b guess) int {
		if a.weight < b.weight {
			return -1
		}
		return 1
	})
}
