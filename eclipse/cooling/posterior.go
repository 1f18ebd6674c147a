package cooling

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

// dropPrior is the standard deviation of the drop before the readings speak,
// degrees, about nothing: 0.3 to 7 are published.
const dropPrior = 4.0

// A guess is one possible answer under one kind of day.
type guess struct {
	weight         float64 // likelihood with what is believed before, beside the likeliest day's
	drop, u        float64 // normal, degrees
	day            int32   // of the posterior's
	kind, th, fine int16   // of the tries'
}

// A posterior is all guesses, and how much better they explain the readings than
// a day without eclipse does.
type posterior struct {
	tries    *tries
	days     []weighed // the most promising first
	top      float64   // logarithm of the likelihood of the likeliest with an answer
	guesses  []guess   // those that count
	answers  []float64 // their weights by kind and time constant
	most     float64   // the greatest weight
	sum      float64   // of all weights but hopeless ones
	evidence float64   // natural logarithm
	y        []float64
	columns  [][]float64
}

// How much less likely something is, natural logarithm, that is not told apart any further: all
// of it together weighs less than exp(-16); and that no longer counts in a value.
const (
	hopeless = 20.0
	counts   = 11.5
)

// infer weighs all answers under all kinds of day.
func (s *series) infer(ctx context.Context, d *day, control *course, tauT, wT []float64) (p *posterior, err error) {
	p = &posterior{y: slices.Clone(s.c), columns: d.columns(s.t, control), top: math.Inf(-1)}
	floats.AddConst(-stat.Mean(p.y, nil), p.y)
	s.lag = tauT[0]
	if p.tries, err = newTries(s.t, d, tauT, wT); err != nil {
		return nil, err
	}
	if p.days, err = newBalance(s, p.columns, append(p.tries.axes(), p.y)...).weighed(ctx); err != nil {
		return nil, err
	}
	// What is hopeless beside the best so far is not even tried.
	slices.SortFunc(p.days, func(a, b weighed) int { return cmp.Compare(b.bound, a.bound) })
	var promising []int32
	for i := range p.days {
		w := &p.days[i]
		if w.bound < p.top-hopeless {
			break
		}
		if w.try(p.tries); w.best >= p.top-hopeless {
			promising = append(promising, int32(i))
		}
		p.top = math.Max(p.top, w.best)
	}
	p.guesses = make([]guess, 0, 2*len(p.tries.weights)*len(d.kinds)*tauFine) // as many as there are of a usual day
	var xy, xx mat.Dense
	for _, i := range promising {
		p.tries.fine(&xy, p.days[i].xy)
		p.tries.fine(&xx, p.days[i].xx)
		p.add(i, &xy, &xx)
	}
	plain := make([]float64, len(p.days))
	for i, w := range p.days {
		plain[i] = w.base
	}
	p.evidence = p.top + math.Log(p.sum) - floats.LogSumExp(plain) + math.Log(float64(roughs))
	p.settle()
	return p, nil
}

// add weighs every answer under one kind of day, of which the products with the readings and with
// itself are known at the fine time constants.
func (p *posterior) add(day int32, xy, xx *mat.Dense) {
	rows, _ := xy.Dims()
	prior, some := taus().prior, math.Exp(-counts)
	least := math.Log(p.most) - hopeless
	for row := range rows {
		kind, th := row/len(p.tries.thermometers), row%len(p.tries.thermometers)
		base, squares := p.days[day].base-p.top+p.tries.weights[th], xx.RawRowView(row)
		for fine, a := range xy.RawRowView(row) {
			b := math.Max(squares[fine], 0) + 1/(dropPrior*dropPrior)
			log := base + 0.5*a*a/b + prior[fine]
			if log < least { // and the drop's own uncertainty only takes away from it
				continue
			}
			u := 1 / math.Sqrt(b)
			weight := math.Exp(log) * u / dropPrior
			if p.sum += weight; weight > p.most {
				p.most, least = weight, math.Log(weight)-hopeless
			}
			if weight > some*p.most {
				p.guesses = append(p.guesses, guess{weight, a / b, u, day, int16(kind), int16(th), int16(fine)})
			}
		}
	}
}

// settle leaves the guesses that count beside the best, whatever came first.
func (p *posterior) settle() {
	least := math.Exp(-counts) * p.most
	p.guesses = slices.DeleteFunc(p.guesses, func(g guess) bool { return !(g.weight > least) })
	p.answers = make([]float64, len(p.tries.kinds)*tauFine)
	for _, g := range p.guesses {
		p.answers[int(g.kind)*tauFine+int(g.fine)] += g.weight
	}
}

func (p *posterior) best() *guess {
	best := 0
	for i := range p.guesses {
		if p.guesses[i].weight > p.guesses[best].weight {
			best = i
		}
	}
	return &p.guesses[best]
}

// drop, lag and tau are what the guesses come to; shared is the variance of what all lags have in
// common, square seconds.
func (p *posterior) drop() Value {
	return spread(len(p.guesses), func(i int) (v, u, w float64) {
		g := &p.guesses[i]
		return g.drop, g.u, g.weight
	})
}

func (p *posterior) lag(shared float64) Value {
	lag, u := p.tries.lag.RawMatrix().Data, p.tries.lagU.RawMatrix().Data
	return spread(len(p.answers), func(i int) (v, sd, w float64) {
		return lag[i], math.Sqrt(shared + u[i]*u[i]), p.answers[i]
	})
}

func (p *posterior) tau() Value {
	return spread(len(p.answers), func(i int) (v, u, w float64) {
		return taus().fine[i%tauFine] * (1 + p.tries.kinds[i/tauFine].ahead), 0, p.answers[i]
	})
}
