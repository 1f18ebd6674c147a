package fit

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"
)

// driftSD is what is believed of a clock's rate before the log is read: an oscillator
// without a crystal is off by up to some per cent (common practice, no source). A crystal's
// 20 millionths are lost in it, and in what an eclipse can tell.
const driftSD = 0.01

// drift finds the rate of the clock along with the shift, leaves it set, and says by what
// factor the shift's uncertainty grows because both are asked of the same light. The rate's
// probability is read as it is, over three deviations of what is believed of it and then over
// what that leaves: curvature over a step so small that a rate in it moves no light would be
// that of rounding.
func (p *problem) drift(best float64) (shift, rateU, grow float64) {
	lo, hi := -3*driftSD, 3*driftSD
	var rate, shiftU float64
	for range 3 {
		rate, rateU, shift, shiftU = p.rates(best, lo, hi)
		step := (hi - lo) / rateSteps
		if rateU > 2*step {
			break
		}
		lo, hi = rate-5*step, rate+5*step
	}
	p.setRate(rate)
	shift, least := narrow(p.deviance, shift-shiftReach, shift, shift+shiftReach, p.deviance(shift), 0.02)
	w := p.width(shift, least, p.guess(shift, least), fineReach)
	p.deviance(shift)
	return shift, rateU, math.Hypot(1, shiftU/w)
}

const (
	rateSteps  = 40    // of the rate's range
	shiftReach = 120.0 // s either way, by which a rate may move the shift
)

// rates weighs the rates between two: the mean and the deviation of the rate, and of the
// shift that fits each best.
func (p *problem) rates(best, lo, hi float64) (rate, rateU, shift, shiftU float64) {
	var rates, shifts, weights []float64
	least := math.Inf(1)
	for i := range rateSteps + 1 {
		at := lo + (hi-lo)*float64(i)/rateSteps
		p.setRate(at)
		s, d := narrow(p.deviance, best-shiftReach, best, best+shiftReach, p.deviance(best), 0.02)
		d += at * at / (driftSD * driftSD)
		least = math.Min(least, d)
		rates, shifts, weights = append(rates, at), append(shifts, s), append(weights, d)
	}
	for i, d := range weights {
		weights[i] = math.Exp((least - d) / 2)
	}
	rate, rateU = stat.PopMeanStdDev(rates, weights)
	shift, shiftU = stat.PopMeanStdDev(shifts, weights)
	return rate, rateU, shift, shiftU
}

// setRate is by how much the clock gains, as a part of time, about the predicted maximum.
func (p *problem) setRate(rate float64) { p.rate, p.seenAt, p.around = rate, math.NaN(), nil }

// gains warns of a clock that runs too fast or slow, where nobody asked for its rate: the
// contacts before and after the middle would be late by seconds that differ.
func (r *Result) gains() {
	const clear = 5 // standard uncertainties
	by := map[string]SeenContact{}
	for _, c := range r.Contacts {
		by[c.Name] = c
	}
	for _, pair := range [][2]string{{"C1", "C4"}, {"C2", "C3"}} {
		a, aSeen := by[pair[0]]
		b, bSeen := by[pair[1]]
		if !aSeen || !bSeen {
			continue
		}
		if apart, u := b.Late-a.Late, math.Hypot(a.StampU, b.StampU); math.Abs(apart) > clear*u {
			r.Warnings = append(r.Warnings, fmt.Sprintf("%s and %s are %.0f s further apart than predicted: a clock that gains or loses would do that; fit its drift as well", pair[0], pair[1], apart))
		}
	}
}
