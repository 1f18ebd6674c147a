package cooling

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// dropPrior is the standard deviation of the drop before the readings speak,
// degrees, about nothing: 0.3 to 7 are published.
const dropPrior = 4.0

// A guess is one possible answer under one kind of day, with its weight.
type guess struct {
	weight  float64 // logarithm
	drop, u float64 // normal, degrees
	*form
	rough *rough
}

// A posterior is all guesses, and how much better they explain the readings than
// a day without eclipse does.
type posterior struct {
	guesses  []guess // those that are not hopeless
	top      float64 // the greatest weight so far
	evidence float64 // natural logarithm
	y        []float64
	columns  [][]float64
}

// infer weighs all answers under all kinds of day.
func (s *series) infer(ctx context.Context, d *day, control *course, tauT, wT []float64) (*posterior, error) {
	p := &posterior{y: slices.Clone(s.c), top: math.Inf(-1)}
	mean := stat.Mean(p.y, nil)
	for i := range p.y {
		p.y[i] -= mean
	}
	p.columns = d.columns(s.t, control)
	s.lag = tauT[0]
	tries, err := newTries(s.t, d, tauT, wT)
	if err != nil {
		return nil, err
	}
	days, err := newBalance(s, p.columns, append(tries.axes(), p.y)...).weighed(ctx)
	if err != nil {
		return nil, err
	}
	// The most promising first, so that what is hopeless beside the best is not even tried.
	slices.SortFunc(days, func(a, b weighed) int { return cmp.Compare(b.bound, a.bound) })
	top := math.Inf(-1)
	for i := range days {
		if w := &days[i]; w.bound >= top-hopeless {
			if w.try(tries); w.best >= top-hopeless {
				p.add(w, tries)
			}
			top = math.Max(top, w.best)
		}
	}
	logs, plain := make([]float64, len(p.guesses)), make([]float64, len(days))
	for i, q := range p.guesses {
		logs[i] = q.weight
	}
	for i, w := range days {
		plain[i] = w.base
	}
	p.evidence = logSum(logs) - logSum(plain) + math.Log(float64(roughs))
	return p, nil
}

// hopeless is how much less likely a day is, natural logarithm, whose answers are not
// told apart any further: all of them together weigh less than exp(-16).
const hopeless = 20.0

// add weighs every answer under one kind of day, between the nodes by cubics.
func (p *posterior) add(w *weighed, tr tries) {
	xy, xx := tr.fine(w.xy), tr.fine(w.xx)
	for i, a := range xy {
		b := math.Max(xx[i], 0) + 1/(dropPrior*dropPrior)
		f := &tr.forms[i]
		weight := w.base + 0.5*a*a/b + f.prior
		if weight < p.top-hopeless { // and the logarithm only takes away from it
			continue
		}
		weight -= 0.5 * math.Log(b*dropPrior*dropPrior)
		if p.top = math.Max(p.top, weight); weight >= p.top-hopeless {
			p.guesses = append(p.guesses, guess{weight: weight, drop: a / b, u: 1 / math.Sqrt(b), form: f, rough: &w.rough})
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

// Eleven points that stand for a normal distribution, at the middles of equal parts of it;
// their own deviation is 1/normalSize.
var normal = [...]float64{-1.6906, -1.0968, -0.7478, -0.4728, -0.2299, 0, 0.2299, 0.4728, 0.7478, 1.0968, 1.6906}

const (
	normalSize = 1.127
	spreadBins = 4000 // from the least value to the greatest: far finer than any uncertainty
)

// spread gathers the guesses that count into a value; of yields a guess's value and
// its own standard deviation. There are a hundred thousand at times: they are counted into bins.
func (p *posterior) spread(of func(g *guess) (v, u float64)) Value {
	const counts = -11.5 // the logarithm of a weight, beside the best
	lo, hi := math.Inf(1), math.Inf(-1)
	var total, mean, square float64
	each := func(put func(v, u, w float64)) {
		for i := range p.guesses {
			g := &p.guesses[i]
			if g.weight > p.top+counts {
				v, u := of(g)
				put(v, u, math.Exp(g.weight-p.top))
			}
		}
	}
	each(func(v, u, w float64) {
		reach := normalSize * normal[len(normal)-1] * u
		lo, hi = math.Min(lo, v-reach), math.Max(hi, v+reach)
		total += w
		mean += w * v
	})
	mean /= total
	scale := spreadBins / math.Max(hi-lo, math.SmallestNonzeroFloat64)
	bins := make([]float64, spreadBins)
	put := func(v, w float64) { bins[max(0, min(spreadBins-1, int((v-lo)*scale)))] += w }
	each(func(v, u, w float64) {
		square += w * (u*u + (v-mean)*(v-mean))
		if u == 0 {
			put(v, w)
			return
		}
		for _, z := range normal {
			put(v+normalSize*z*u, w/float64(len(normal)))
		}
	})
	out := Value{Value: mean, U: math.Sqrt(square / total)}
	for i, q := range []float64{0.025, 0.975} {
		var sum float64
		for k, w := range bins {
			if sum+w >= q*total {
				out.CI95[i] = lo + (float64(k)+(q*total-sum)/w)/scale
				break
			}
			sum += w
		}
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
