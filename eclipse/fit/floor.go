package fit

import (
	"math"

	"example.org/noonfall/eclipse/internal/quantile"
)

// darkest guesses the residual light of a total eclipse from how far the log
// falls, as if the response were proportional.
func (l *light) darkest(readings []reading) float64 {
	if !l.dark {
		return startFloor
	}
	y := make([]float64, len(readings))
	for k, r := range readings {
		y[k] = r.y
	}
	fall := quantile.Of(0.01, y) - quantile.Of(0.9, y)
	return math.Max(1, math.Min(500, math.Exp(l.clear.at(0)+fall)))
}

const (
	leastFloor = 0.05 // lx; a full Moon gives five times as much
	mostFloor  = 2000 // lx; more is no darkness. Common practice, no source
	startFloor = 4.0  // lx, between the two measured floors (testdata/references/eclipse_light_measured.csv)
	floorSD    = 1.5  // natural logarithm: a sensor's own offset and the light around the shadow. Common practice, no source
)

// refloor moves the residual light to where the log puts it: the best of a
// ladder of steps by a factor, each way, weighed by its prior.
func (p *problem) refloor(shift, factor float64, rungs int) {
	if !p.light.dark || p.plain {
		return
	}
	best, least := p.floor, math.Inf(1)
	start := p.floor
	for i := -rungs; i <= rungs; i++ {
		p.setFloor(start * math.Pow(factor, float64(i)))
		if d := p.deviance(shift); d < least {
			best, least = p.floor, d
		}
	}
	p.setFloor(best)
}

// setFloor moves the residual light, and the prior of its column along with it:
// what is known is the light, not its distance from where it is just now.
func (p *problem) setFloor(lx float64) {
	p.floor = math.Max(leastFloor, math.Min(mostFloor, lx))
	power := p.power()
	p.reg.priors[colFloor] = prior{math.Log(startFloor/p.floor) * power, floorSD * power}
}

// floored is the deviance at a shift with the residual light that goes with it
// (Gauss and Newton's steps): near totality the one makes up for the other, and
// to hold the light would claim a sharpness that is not there.
func (p *problem) floored(shift float64) float64 {
	const (
		steps, halvings = 5, 3
		near            = 0.1 // natural logarithm
		most            = 1.0
	)
	d := p.deviance(shift)
	if !p.light.dark {
		return d
	}
	for range steps {
		was, move := p.floor, p.reg.beta.Data[colFloor]/p.power()
		if !(math.Abs(move) > near) {
			break
		}
		move = math.Max(-most, math.Min(most, move))
		better := false
		for range halvings {
			p.setFloor(was * math.Exp(move))
			if next := p.deviance(shift); next < d {
				d, better = next, true
				break
			}
			move /= 3
		}
		if !better {
			p.setFloor(was)
			return p.deviance(shift)
		}
	}
	return d
}
