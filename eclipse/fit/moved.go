package fit

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"
)

// A step is a clock moved in a pause of the log, as far as the light tells.
type step struct {
	pause
	odds  float64 // twice the logarithm of those that the clock was moved there
	firm  bool    // a move explains more under the noise of a clock that was not moved as well
	shift float64 // of the stamps before it
}

// How sure one has to be, as twice the logarithm of odds. Of logs with an odd interval where
// it matters one in ten hides a move of the clock, in any of the intervals that are as odd:
// common practice, no source. TestPausesAreNoSteps counts what has no step and passes for one.
const (
	movedOdds = 0.1   // beforehand
	likely    = 16.0  // the clock is taken to have been moved, and there rather than elsewhere
	unlikely  = -10.0 // one in a hundred and fifty: the interval need not cover it
	hopeless  = 100.0 // squared deviations that no noise makes up for
)

// moved asks of every pause in which it would matter whether the clock was moved there, by as
// much as the pause is longer than usual. Where the light says so, the log is fitted anew with
// the stamps after it moved back; where the light cannot tell, the interval is stretched over
// what would hold before and after.
func (l *light) moved(ctx context.Context, samples []Sample, s *series, p *problem, r *Result, opt Options) (*Result, error) {
	const (
		part    = 0.25 // of the interval's half: a clock drawn away by less is still in it
		rounded = 1.5  // s: stamps of whole seconds hop by one
	)
	least := part * halfWidth(r.CI95)
	all := l.pauses(samples, s, r.Offset, math.Max(rounded, 2*least))
	if len(all) == 0 {
		return r, nil
	}
	best, _ := p.lowest(r.Offset, fineReach/4, fewSteps)
	steps, err := p.steps(ctx, p.harmful(all, best, least), best, least)
	if err != nil {
		return nil, err
	}
	for i := range steps {
		st := &steps[i]
		two, err := l.halves(ctx, samples, s, st, opt)
		switch {
		case errors.As(err, new(*Refusal)): // and yet it may be so
			e := math.Abs(st.excess)
			r.stretch(&st.pause, r.CI95[0]-e, r.CI95[1]+e)
		case err != nil:
			return nil, err
		case sure(steps):
			return two, nil
		default:
			a, b := two.Segments[0].Clock.CI95, two.Segments[1].Clock.CI95
			r.stretch(&st.pause, math.Min(a[0], b[0]), math.Max(a[1], b[1]))
		}
	}
	return r, nil
}

// steps are the pauses in which the clock may have been moved, the likeliest first.
func (p *problem) steps(ctx context.Context, pauses []pause, best, least float64) (out []step, err error) {
	for _, q := range pauses {
		st, err := p.suppose(ctx, q, best)
		if err != nil {
			return nil, err
		}
		enough := unlikely
		if math.Abs(q.excess)*min(q.before, 1-q.before) < least { // no harm, unless the fit is misled
			enough = likely
		}
		if st.odds > enough {
			out = append(out, st)
		}
	}
	slices.SortFunc(out, func(a, b step) int { return cmp.Compare(b.odds, a.odds) })
	beside := func(st step) bool { return st.odds < unlikely+math.Max(0, out[0].odds) }
	if i := slices.IndexFunc(out, beside); i > 0 {
		out = out[:i]
	}
	return out, nil
}

// sure says that the clock was moved in the first of them, and in no other.
func sure(steps []step) bool {
	return steps[0].firm && steps[0].odds > likely && (len(steps) == 1 || steps[0].odds-steps[1].odds > likely)
}

// suppose weighs that the clock was moved in a pause against that it was not: the mean of what
// the move explains under the noise of either. Noise that was settled without the move hides
// what it can of it, as edges of cloud; noise that was settled with it hides what speaks
// against it.
func (p *problem) suppose(ctx context.Context, q pause, best float64) (step, error) {
	const around = 30.0 // s
	reach := math.Abs(q.excess) + around
	st := step{pause: q, odds: -hopeless}
	_, without := p.bent(q.at, 0).valley(best, reach)
	_, with := p.bent(q.at, q.excess).valley(best-q.excess/2, reach)
	under := without - with
	if st.firm = under > 0; under < -hopeless {
		return st, nil
	}
	own := p.bent(q.at, q.excess)
	own.stand(best)
	shift, err := own.refine(ctx, best-q.excess/2)
	if err != nil {
		return st, err
	}
	st.shift, with = own.valley(shift, reach)
	_, without = own.bent(q.at, -q.excess).valley(best, reach)
	st.odds = (under+without-with)/2 + 2*math.Log(movedOdds/float64(q.like))
	return st, nil
}

// bent is the same log under the same noise, with so many seconds taken off the stamps after an
// instant.
func (p *problem) bent(at, by float64) *problem {
	readings := slices.Clone(p.readings)
	for k := range readings {
		if readings[k].t > at {
			readings[k].t -= by
		}
	}
	q := newProblem(p.light, readings)
	for _, to := range []struct{ is, was []float64 }{
		{q.rough, p.rough}, {q.jump, p.jump}, {q.gain, p.gain}, {q.loose, p.loose},
		{q.softly, p.softly}, {q.model, p.model}, {q.reg.beta.Data, p.reg.beta.Data},
	} {
		copy(to.is, to.was)
	}
	copy(q.stance, p.stance)
	q.mount, q.rate, q.floor, q.reg.priors = p.mount, p.rate, p.floor, p.reg.priors
	q.answerBy()
	q.use(p.temper)
	return q
}

// valley is the shift of least deviance within reach, the residual light with it.
func (p *problem) valley(shift, reach float64) (at, least float64) {
	const step, near = 20.0, 20.0 // s
	shift, _ = p.lowest(shift, reach, max(manySteps, int(reach/step)))
	p.refloor(shift, 1.25, 3)
	return p.lowest(shift, near, fewSteps)
}
