package fit

import (
	"math"

	"example.org/noonfall/eclipse/internal/quantile"
)

// roughness says how fast the level wandered around each reading, variance a
// second, as far as the residuals show more than their own errors would. It is
// read from second differences, which a steady drift leaves at zero, over
// several spans of time, and the greatest answer counts: thin ripple wanders
// most from reading to reading, a tree's shade or a bank of cloud over minutes.
// A clear sky scores zero; a broken one does so minute by minute, and is given
// no more weight than the clear minutes between its clouds deserve.
func (p *problem) roughness(residual []float64) []float64 {
	readings, jump := p.readings, p.jump
	n := len(readings)
	own := make([]float64, n)
	for k := range own {
		own[k] = readings[k].rel + p.softly[k]
	}
	out := make([]float64, n)
	jumps := make([]int, n+1) // how many before each reading
	for k, j := range jump {
		jumps[k+1] = jumps[k]
		if j > 0 {
			jumps[k+1]++
		}
	}
	for _, span := range roughSpans {
		spread(out, wander(readings, residual, own, jumps, span), readings, math.Max(roughSide, 1.5*span))
	}
	return out
}

// roughSpans are the half-lengths of the second differences, s; the first takes
// neighbouring readings, whatever their distance.
var roughSpans = []float64{0, 60, 180}

const (
	roughSide  = 150.0 // s either way over which roughness is averaged
	roughLeast = 4     // readings either way, however slow the cadence
	steady     = 1e-4  // variance a second below which bends weigh alike: a per cent in a second
)

// A bend is second differences added up, each by its weight: the variance that they show
// beyond the readings' own, the time they stand for, and the variance of the former sum, as
// a polynomial in the speed at which the level wanders.
type bend struct {
	excess, dt float64
	variance   [3]float64
}

// wander adds up the second differences from the first reading to each.
func wander(readings []reading, residual, own []float64, jumps []int, span float64) []bend {
	n := len(readings)
	out := make([]bend, n+1)
	i, j := 0, 0
	for k := range n {
		out[k+1] = out[k]
		if k == 0 || k+1 == n {
			continue
		}
		for i+1 < k && readings[i+1].t <= readings[k].t-span {
			i++
		}
		for j = max(j, k+1); j+1 < n && readings[j].t < readings[k].t+span; j++ {
		}
		if i >= k || jumps[j+1] != jumps[i+1] {
			continue // a jump lies between, and is free already
		}
		before, after := readings[k].t-readings[i].t, readings[j].t-readings[k].t
		if before <= 0 || after <= 0 || before > 3*math.Max(span, 60) || after > 3*math.Max(span, 60) {
			continue
		}
		// The middle against the straight line between the ends: for a random
		// walk its variance is q before after/(before+after).
		f := before / (before + after)
		d := residual[k] - (1-f)*residual[i] - f*residual[j]
		own := own[k] + (1-f)*(1-f)*own[i] + f*f*own[j]
		out[k+1].add(d*d, own, f*after, float64(j-i)/2) // neighbouring bends see the same readings
	}
	return out
}

// spread averages bends around each reading and raises out to what they show. A stretch
// counts as rougher or quieter than the log's usual one only where chance does not make that
// of the usual wandering: weights that follow every accident of a stretch would trust most
// the minutes that happen to agree.
func spread(out []float64, bends []bend, readings []reading, side float64) {
	near := stretches(readings, side)
	speed := make([]float64, len(out))
	var minutes []float64 // the speed once in each
	next := math.Inf(-1)
	for k, s := range near {
		if v, chance := wandering(bends[s.from], bends[s.to], 0); !chance { // beyond the readings' own errors
			speed[k] = math.Max(0, v)
		}
		if readings[k].t >= next {
			minutes, next = append(minutes, speed[k]), readings[k].t+searchBin
		}
	}
	usual := quantile.MedianOf(minutes)
	for k, s := range near {
		v := speed[k]
		if usual > 0 {
			if _, chance := wandering(bends[s.from], bends[s.to], usual); chance {
				v = usual
			}
		}
		out[k] = math.Max(out[k], v)
	}
}

// A stretch is the readings around one of them.
type stretch struct{ from, to int }

func stretches(readings []reading, side float64) []stretch {
	n := len(readings)
	out := make([]stretch, n)
	lo, hi := 0, 0
	for k := range out {
		for readings[lo].t < readings[k].t-side {
			lo++
		}
		for hi < n && readings[hi].t <= readings[k].t+side {
			hi++
		}
		out[k] = stretch{max(0, min(lo, k-roughLeast)), min(n, max(hi, k+roughLeast+1))}
	}
	return out
}

// add takes in one squared second difference, of so much variance of the readings' own and so
// many seconds, whose readings so many neighbours share.
func (b *bend) add(square, own, dt, shared float64) {
	w := 1 / (own + steady*dt)
	b.excess += w * (square - own)
	b.dt += w * dt
	v := 2 * w * w * shared
	b.variance[0] += v * own * own
	b.variance[1] += v * 2 * own * dt
	b.variance[2] += v * dt * dt
}

// wandering is how much faster than a usual speed the level went between two sums, variance a
// second, and whether chance makes as much of that speed and of the readings' own errors:
// three deviations, or there are no bends.
func wandering(from, to bend, usual float64) (beyond float64, chance bool) {
	dt := to.dt - from.dt
	if !(dt > 0) {
		return 0, true
	}
	e := to.excess - from.excess - usual*dt
	var v float64
	for i, power := range [3]float64{1, usual, usual * usual} {
		v += power * (to.variance[i] - from.variance[i])
	}
	return e / dt, math.Abs(e) <= 3*math.Sqrt(math.Max(0, v))
}
