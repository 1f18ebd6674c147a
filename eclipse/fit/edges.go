package fit

import "math"

// loosen frees the level, step by step, around an inner contact at which the log shows
// cloud: there nothing tells the Moon's edge from a cloud's. A shadow that comes in the minute
// of second contact would otherwise move the clock by seconds, or by minutes where a ring is
// left, whose edge is as soft as a cloud's: of a bank over annularity nearly all that was
// believed of the clock was read from the two minutes about either contact, in the bank.
func (p *problem) loosen(shift float64, residual []float64) {
	clear(p.loose)
	if p.plain || !p.light.close() {
		return
	}
	lost := p.shortfall(residual)
	for _, c := range []struct{ at, outward float64 }{{p.light.c2, -1}, {p.light.c3, 1}} {
		contact, wide, cloudy := shift+c.at, ringWide, false
		if p.light.dark {
			wide, cloudy = darkWide, p.unrest(residual, contact, c.outward) >= cloudyEdge
		} else {
			cloudy = p.greatest(lost, contact, ringWide) > 0
		}
		for k := 1; cloudy && k < len(p.t); k++ {
			if math.Abs(p.t[k]-contact) <= wide {
				p.loose[k] = 1 // as a logarithm: a factor of e or so a step
			}
		}
	}
}

// How far either side of an inner contact the level is freed, s: of totality, and of a ring,
// where cloud is looked for as far. Common practice, no source.
const (
	darkWide = 120.0
	ringWide = 70.0
)

// greatest is the greatest of some values of the readings within so many seconds of a stamp, 0
// at least.
func (p *problem) greatest(of []float64, stamp, reach float64) (most float64) {
	for k, t := range p.t {
		if math.Abs(t-stamp) <= reach {
			most = math.Max(most, of[k])
		}
	}
	return most
}

// cloudyEdge is how much the light may move within twenty seconds near an inner contact, but for
// the eclipse, natural logarithm. The limb's own error makes some 0.06 of it, ten seconds from the
// contact, and uneven residual light as much; a cloud takes a fifth of the light or
// more. Common practice, no source.
const cloudyEdge = 0.2

// unrest is the largest change of the light that the residual makes within twenty seconds around a
// contact, natural logarithm, but for the seconds next to it, in which the limb's own heights show.
func (p *problem) unrest(residual []float64, contact, outward float64) (most float64) {
	const span, reach, before, after = 20.0, 90.0, 10.0, 5.0 // s; common practice, no source
	mean, answers := math.Max(p.exponent(), leastExponent), p.answers()
	for _, side := range [][2]float64{{before, reach}, {-reach, -after}} {
		lo, hi := contact+outward*side[0], contact+outward*side[1]
		if lo > hi {
			lo, hi = hi, lo
		}
		j := 0
		for k := range p.t {
			if p.t[k] < lo || p.t[k] > hi {
				continue
			}
			for j < k && (p.t[j] < lo || p.t[k]-p.t[j] > span) {
				j++
			}
			for i := j; i < k; i++ {
				moved := math.Abs(residual[k]-residual[i]) - 3*p.blurred(i, k)
				most = math.Max(most, moved/(mean*(answers[i]+answers[k])/2))
			}
		}
	}
	return most
}

// blurred is the standard deviation of the difference of two readings by their own errors.
func (p *problem) blurred(i, k int) float64 {
	return math.Sqrt(p.readings[i].rel + p.softly[i] + p.readings[k].rel + p.softly[k])
}
