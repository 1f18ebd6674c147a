package cooling

import (
	"math"

	"gonum.org/v1/gonum/floats"

	"example.org/noonfall/sensor/air"
)

// A kind is a way in which air may answer the lost light. One first-order response
// is the idea; that is never quite true, and what another kind would say belongs
// into the interval.
type kind struct {
	drive int     // which loss of light, see day.lost
	slow  float64 // part of the answer that comes with the ground's two hours
	ahead float64 // a second response before the air's, as a part of its time constant
	tilt  float64 // by which part of itself the light that clouds let through grows in an hour
}

// kinds weigh the same. The parts have no source: they are chosen to move the lag by a
// third or so, which is what published logs differ by among themselves; two equal
// responses in a row are nearly a delay. Under clouds it is not known how much light there
// was to lose before maximum against after it: on a measured day of broken cloud the hourly
// means against a clear day differ from hour to hour by 0.21 in the logarithm (standard
// deviation of nine), and a third of the kinds at 0.35 either way have that.
func kinds(cloudy bool) (out []kind) {
	for drive := range drives {
		out = append(out, kind{drive: drive}, kind{drive: drive, slow: 0.15}, kind{drive: drive, ahead: 0.3}, kind{drive: drive, ahead: 1})
		if cloudy {
			out = append(out, kind{drive: drive, tilt: 0.35}, kind{drive: drive, tilt: -0.35})
		}
	}
	return out
}

// unknownTau is what a thermometer is taken for of which nothing is said: a bare
// chip to a small box, one minute within a factor of two (common practice, no source).
const unknownTau = 60.0

// thermometers are time constants of the thermometer with weights: three-point
// Gauss-Hermite in tau, or for an unknown one in its logarithm.
func thermometers(m air.Thermometer) (tau, weight []float64) {
	r := math.Sqrt(3)
	for i, z := range []float64{0, -r, r} {
		w := []float64{2. / 3, 1. / 6, 1. / 6}[i]
		switch {
		case m == air.Thermometer{}:
			tau = append(tau, unknownTau*math.Exp(z*math.Ln2))
		case m.TauU == 0:
			return []float64{m.Tau.Seconds()}, []float64{1}
		default:
			tau = append(tau, math.Max(0, m.Tau.Seconds()+z*m.TauU.Seconds()))
		}
		weight = append(weight, w)
	}
	return tau, weight
}

// answers makes air the courses of one kind for some time constants, each for a fall of one degree
// at its deepest, and says when that is, s from maximum.
func (d *day) answers(air *course, k kind, tau ...float64) (lag []float64) {
	lost := d.lost[k.drive]
	if k.tilt != 0 {
		lost = lost.tilted(k.tilt / 3600)
	}
	air.repeat(&lost, len(tau))
	if k.ahead > 0 {
		air.lag(floats.ScaleTo(make([]float64, len(tau)), k.ahead, tau)...)
	}
	air.lag(tau...)
	if k.slow > 0 {
		slow := lost.lagged(7200)
		for i, v := range slow.v {
			for j := range tau {
				y := &air.v[i*len(tau)+j]
				*y = (1-k.slow)**y + k.slow*v
			}
		}
	}
	part := make([]float64, len(tau))
	for i := range tau {
		most, at := air.most(i)
		part[i], lag = 1/most, append(lag, at)
	}
	for i := 0; i < len(air.v); i += air.wide {
		floats.Mul(air.v[i:i+air.wide], part)
	}
	return lag
}
