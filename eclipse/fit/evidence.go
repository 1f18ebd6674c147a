package fit

import (
	"context"
	"errors"
	"math"

	"gonum.org/v1/gonum/floats"
)

// locate settles on one of the search's matches: where there are rivals, each
// is fitted, and the one whose eclipse explains most is kept. A clock that is right to
// minutes is not tried where its minutes show no eclipse at all and another shift has an
// overwhelming one.
func (l *light) locate(ctx context.Context, s *series, reach float64) (*problem, float64, error) {
	var best *problem
	var at, most float64
	var reason error
	for _, m := range l.search(s, reach) {
		if best != nil && m.score == 0 && most > overwhelming {
			continue
		}
		p, shift, err := l.near(ctx, s, m.shift)
		if err == nil {
			err = p.resembles(shift)
		}
		if r := (*Refusal)(nil); errors.As(err, &r) {
			reason = errors.Join(err, reason)
			continue
		}
		if err != nil {
			return nil, 0, err
		}
		if worth := p.evidence(shift)*trust(shift) - cost(shift); best == nil || worth > most {
			best, at, most = p, shift, worth
		}
	}
	if best == nil {
		return nil, 0, reason
	}
	return best, at, nil
}

// resembles refuses what cannot be the eclipse, however well it fits: an answer to light
// that no sensor has, a sensor at its ceiling in the eclipse's depth, and, for a clock that is
// wrong by more than minutes, a dip of which only one flank is seen. A Sun that goes down under
// haze has one, too.
func (p *problem) resembles(shift float64) error {
	p.deviance(shift)
	far := math.Abs(shift) > rightClock
	least := leastExponent
	if far {
		least = usualExponent
	}
	if e := p.exponent(); !(e > least && e < mostExponent) {
		return refuse(NoDip, "the light would have to be answered with a power of %.2f", e)
	}
	if part := p.outshone(shift); part > mostOutshone {
		return refuse(NoShift, "the sensor is at its ceiling for %.0f %% of an eclipse that would leave it less than half of that light", 100*part)
	}
	if !far {
		return nil
	}
	if part := p.lesserFlank(shift); part < leastFlank {
		return refuse(NoDip, "a dip %.1f h from where the clock has the eclipse shows %.0f %% of one flank", shift/3600, 100*part)
	}
	return nil
}

// lesserFlank is the part that is seen of the fall of the light or of its rise, whichever
// is seen less of.
func (p *problem) lesserFlank(shift float64) float64 {
	return math.Min(p.covered(shift+p.light.c1, shift), p.covered(shift, shift+p.light.c4))
}

// What a sensor's answer to light may be, as a power of it. A photoresistor has 0.5 to
// 0.9, a lux reading 1; over a load that is far too large full light and none are a
// tenth of that apart. Common practice, no source.
const (
	leastExponent = 0.02
	usualExponent = 0.15 // asked for where the clock is wrong by hours
	mostExponent  = 1.8
	leastFlank    = 0.6  // of either flank, that must be seen where the clock is wrong by hours
	mostOutshone  = 0.05 // of the eclipse, in which the sensor may be at its ceiling in too little light
)

// covered is the part of a stretch of stamps that holds usable light, or more of it than the
// sensor can tell.
func (p *problem) covered(from, to float64) float64 {
	sum := p.full.between(from, to).seconds()
	for i := 1; i < len(p.t); i++ {
		if p.t[i] > from && p.t[i] <= to && !p.readings[i].faint {
			sum += math.Min(p.t[i]-p.t[i-1], 5*searchBin)
		}
	}
	return sum / (to - from)
}

// overwhelming is what a shift is worth beside which a right clock is not tried where the search
// sees nothing of the eclipse: at 506 such clocks, of rehearsed logs and of nulls, the most
// that a fit found was 91 squared deviations.
const overwhelming = 500

// evidence is by how many squared deviations the eclipse explains the log better than a
// day without one does, whose clock may be wrong as well or right. A shift of hours has
// to stand up to more: to a plain day under the noise that suits it best, in which
// cloud may stand for the dip.
func (p *problem) evidence(shift float64) float64 {
	dev := p.deviance(shift)
	p.eclipsed(false)
	plain, none := 0.0, p.deviance(0)
	if d := p.deviance(shift); d < none {
		plain, none = shift, d
	}
	p.eclipsed(true)
	p.deviance(shift)
	if math.Abs(shift) > rightClock {
		if math.IsNaN(p.plainest) { // seconds of the shift are nothing to a plain day
			p.plainest = p.plainDay(plain)
		}
		none = math.Min(none, p.plainest-p.temper.penalty())
	}
	return none - dev
}

// plainDay is the deviance of a day without an eclipse under its own noise, its
// penalty included.
func (p *problem) plainDay(shift float64) float64 {
	const rounds = 2
	q := p.anew(shift)
	q.eclipsed(false)
	q.mistrust(shift)
	q.use(openTemper())
	for round := range rounds {
		q.hush(shift, round)
	}
	return q.deviance(shift) + q.temper.penalty()
}

// unlike refuses a dip that has nothing of a cloud but is not the eclipse's: where the log
// runs smoothly, without an edge, and yet a third of the eclipse would have to be under
// cloud to make up for the difference, it is the shape that is wrong.
func (p *problem) unlike(r *Result) error {
	const most = 0.3 // common practice, no source
	low := math.Min(p.light.clear.at(p.light.c1), p.light.clear.at(p.light.c4)) < logLeastClear
	if r.CloudFraction < most || low || restless(p.readings) || floats.Max(p.jump) > 0 {
		return nil // a low Sun's own course is known too ill to tell
	}
	return refuse(NoShift, "the light falls and comes back smoothly, but not as the eclipse does at any shift: %.0f %% of it would have to be under cloud", 100*r.CloudFraction)
}

// bend is by how much the sky's course departs from a straight line in an hour, a standard
// deviation as a natural logarithm: a tenth is much for a sky, and what an eclipse of another
// shape would make of it. Under restless cloud, or where an edge of shade leaves another light
// than before, it says nothing: 0.
func (p *problem) bend() float64 {
	const hour = 3600.0
	if restless(p.readings) || floats.Max(p.jump) > 0 {
		return 0
	}
	return math.Sqrt(math.Exp(p.temper[slopeSize]) * hour * hour * hour / 3)
}

// demanded is the evidence, in squared deviations, without which a log is refused. For
// a clock that is right to minutes few shifts had to be tried, and the fewer the closer it is;
// among all hours of a day something always looks a little like an eclipse. Where part of the
// eclipse is under cloud, so may what looks like it be: all of it asks for twenty times as much.
// TestNulls counts what passes that has no eclipse in it.
// An answer to light far weaker than a sensor's usual one has to stand up to more as well,
// and so has a sky that bends: a sensor of an odd response may make it seem so, but then its
// eclipse is deep. Common practice, no source.
func demanded(offset, cloud, exponent, bend float64) float64 {
	const near, far, clouded, weak, bent = 12, 60, 20, 0.2, 0.09
	more := math.Max(1+(clouded-1)*cloud*cloud, math.Pow(bend/bent, 4))
	if exponent < weak {
		more *= math.Pow(weak/exponent, 4)
	}
	off := func(grid float64) float64 { return math.Abs(offset - grid*math.Round(offset/grid)) }
	switch {
	case math.Abs(offset) <= rightClock:
		minutes := offset / rightClock
		return (near + (far-near)*minutes*minutes) * more
	case off(1800) <= 300: // a clock left on another zone, set to minutes
		return far * more
	case off(900) <= 300: // of the rare ones
		return 2 * far * more
	}
	return 5 * far * more
}
