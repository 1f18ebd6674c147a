package fit

import (
	"context"
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// A glimpse is one shift among those around, and its deviance.
type glimpse struct{ shift, deviance float64 }

const aroundStep = 30.0 // s; common practice, no source

// elsewhere looks around once more, under the noise as it has been found: a
// first match by minutes may have locked on to a cloud. What it sees is kept.
func (p *problem) elsewhere(shift float64) (at float64, found bool) {
	const better, hopeful = 12.0, 100.0 // squared deviations; common practice, no source
	floor := p.floor
	here := p.deviance(shift)
	at, least := shift, here-better
	p.around = p.around[:0]
	for s := shift - matchReach; s <= shift+matchReach; s += aroundStep {
		d := p.deviance(s)
		if p.light.dark && d < here+hopeful { // the residual light may make up for as much
			d = p.floored(s)
		}
		p.around = append(p.around, glimpse{s, d})
		if d < least {
			at, least, found, floor = s, d, true, p.floor
		}
		p.setFloor(floor)
	}
	p.deviance(shift)
	return at, found
}

// An account of the log is a shift and the noise that was found beginning from some shift: where
// that ended, and -2 log of the probability of all of it.
type account struct{ shift, deviance float64 }

// contest begins anew from either side, and keeps the account that explains the log best. What
// is taken for a cloud's edge depends on the shift that it is looked for at, and under broken
// cloud the two may agree on something wrong. What was seen of the others is kept, but for
// what cannot be the eclipse.
func (l *light) contest(ctx context.Context, s *series, p *problem, shift float64) (*problem, float64, error) {
	if !p.disputed(shift) {
		return p, shift, nil
	}
	best, at := p, p.bottom(shift)
	least := p.total(at)
	accounts := []account{{at, least}}
	for _, away := range []float64{-contestReach, contestReach} {
		q := p.anew(shift + away)
		there, err := q.afresh(ctx, shift+away)
		if err != nil {
			return nil, 0, err
		}
		there = q.bottom(there)
		a := account{there, q.total(there)}
		if q.misplaced(there) { // the same account, read more closely
			if q, there, err = l.closer(ctx, s, q, there); err != nil {
				return nil, 0, err
			}
			a.shift = q.bottom(there)
		}
		if q.resembles(a.shift) != nil {
			continue
		}
		accounts = append(accounts, a)
		if a.deviance < least {
			best, at, least = q, a.shift, a.deviance
		}
	}
	best.accounts = accounts
	if best != p {
		best.elsewhere(at)
	}
	return best, at, nil
}

// bottom is where a shift goes to when totality's residual light goes with it, as report has it:
// accounts are compared there, like with like.
func (p *problem) bottom(shift float64) float64 {
	if !p.light.dark {
		return shift
	}
	best, least := p.lowest(shift, fineReach/4, fewSteps)
	best, _ = p.deepest(best, 4*p.guess(best, least))
	return best
}

// closer goes on from a shift in a window that is laid for it.
func (l *light) closer(ctx context.Context, s *series, p *problem, shift float64) (*problem, float64, error) {
	q, err := l.window(s, shift, fine)
	if errors.As(err, new(*Refusal)) {
		return p, shift, nil
	}
	if err != nil {
		return nil, 0, err
	}
	q.follow(p)
	shift, err = q.afresh(ctx, shift)
	return q, shift, err
}

const (
	contestReach = 200.0 // s; common practice, no source
	disputable   = 300.0 // squared deviations by which another shift may be worse; common practice, no source
)

// total is -2 log of the probability of the log and of its noise: what accounts are compared by.
func (p *problem) total(shift float64) float64 {
	return p.deviance(shift) + p.temper.penalty() + p.scale
}

// disputed says that there is cloud, and that another shift is not out of the question.
func (p *problem) disputed(shift float64) bool {
	if p.veiled < shadeEnter-cloudyEdge && floats.Max(p.jump) == 0 {
		return false
	}
	here := p.deviance(shift)
	return slices.ContainsFunc(p.around, func(g glimpse) bool {
		return math.Abs(g.shift-shift) > aroundStep && g.deviance-here < disputable
	})
}

// anew is the same readings with nothing known of their noise.
func (p *problem) anew(shift float64) *problem {
	q := newProblem(p.light, slices.Clone(p.readings))
	copy(q.softly, p.softly)
	copy(q.reg.beta.Data, p.reg.beta.Data)
	q.mount, q.laid, q.full = p.mount, p.laid, p.full
	copy(q.gain, p.gain)
	q.answerBy()
	q.setFloor(p.floor)
	q.stand(shift)
	return q
}

// afresh looks for the noise at a shift before that has moved, and goes on from there.
func (p *problem) afresh(ctx context.Context, shift float64) (float64, error) {
	p.open(shift)
	p.deviance(shift)
	p.hush(shift, 0)
	return p.alternate(ctx, shift)
}

// discord is how far apart the accounts are, as a standard deviation about a shift, s. Each
// counts by its probability, but less steeply: cloud is not quite what it is taken for, and
// makes squared deviations by the dozen.
func (p *problem) discord(shift float64) float64 {
	const steep = 0.1 // common practice, no source
	least := math.Inf(1)
	for _, a := range p.accounts {
		least = math.Min(least, a.deviance)
	}
	var sum, squares float64
	for _, a := range p.accounts {
		w := math.Exp(steep * (least - a.deviance) / 2)
		sum += w
		squares += w * (a.shift - shift) * (a.shift - shift)
	}
	if !(sum > 0) {
		return 0
	}
	return math.Sqrt(squares / sum)
}
