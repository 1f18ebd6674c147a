package fit

import (
	"fmt"
	"math"
)

// driftSD is what is believed of a clock's rate before the log is read: an oscillator
// without a crystal is off by up to some per cent (common practice, no source). A crystal's
// 20 millionths are lost in it, and in what an eclipse can tell.
const driftSD = 0.01

// drift finds the rate of the clock along with the shift, leaves it set, and says by what
// factor the shift's uncertainty grows because both are asked of the same light.
func (p *problem) drift(best float64) (shift, rateU, grow float64) {
	const (
		reach = 120.0 // s of shift either way
		tol   = 1e-6
		most  = 3 * driftSD
	)
	of := func(rate float64) float64 {
		p.setRate(rate)
		_, least := narrow(p.deviance, best-reach, best, best+reach, p.deviance(best), 0.02)
		return least + rate*rate/(driftSD*driftSD)
	}
	rate, least := 0.0, of(0)
	for step := most / 8; step > 50e-6; step /= 4 { // coarse steps first: a valley may be narrow
		at := rate
		for i := -8; i <= 8; i++ {
			if d := of(at + float64(i)*step); d < least {
				rate, least = at+float64(i)*step, d
			}
		}
	}
	rate, _ = narrow(of, rate-100e-6, rate, rate+100e-6, least, tol)
	p.setRate(rate)
	shift, _ = narrow(p.deviance, best-reach, best, best+reach, p.deviance(best), 0.02)
	rateU, grow = p.coupling(shift, rate)
	p.setRate(rate)
	p.deviance(shift)
	return shift, rateU, grow
}

// coupling reads the curvatures of the deviance in shift and rate around its least: the
// rate's uncertainty, and by what the shift's exceeds the one at a given rate.
func (p *problem) coupling(shift, rate float64) (rateU, grow float64) {
	ds := p.width(shift, p.deviance(shift), firstGuess, fineReach)
	dr := ds / 3000 // an hour from maximum a rate moves the light by that much
	at := func(i, j float64) float64 {
		p.setRate(rate + j*dr)
		x := (rate + j*dr) / driftSD
		return p.deviance(shift+i*ds) + x*x
	}
	middle := at(0, 0)
	ss := at(1, 0) + at(-1, 0) - 2*middle
	rr := at(0, 1) + at(0, -1) - 2*middle
	sr := (at(1, 1) - at(1, -1) - at(-1, 1) + at(-1, -1)) / 4
	det := ss*rr - sr*sr
	if !(ss > 0 && rr > 0 && det > 0.01*ss*rr) {
		return driftSD, 10
	}
	return dr * math.Sqrt(2*ss/det), math.Sqrt(ss * rr / det)
}

// setRate is by how much the clock gains, as a part of time, about the predicted maximum.
func (p *problem) setRate(rate float64) { p.rate, p.seenAt = rate, math.NaN() }

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
