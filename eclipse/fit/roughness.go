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

// A bend is one second difference: the variance that it shows beyond the readings' own, that
// own, how many neighbours see the same readings, and the time it stands for.
type bend struct{ excess, own, shared, dt, weight float64 }

func wander(readings []reading, residual, own []float64, jumps []int, span float64) []bend {
	n := len(readings)
	out := make([]bend, n)
	i, j := 0, 0
	for k := 1; k+1 < n; k++ {
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
		shared := float64(j-i) / 2 // neighbouring bends see the same readings
		out[k] = bend{excess: d*d - own, own: own, shared: shared, dt: f * after, weight: 1 / (own + steady*f*after)}
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
		if v, chance := wandering(bends[s.from:s.to], 0); !chance { // beyond the readings' own errors
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
			if _, chance := wandering(bends[s.from:s.to], usual); chance {
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

// wandering is how much faster than a usual speed the level went in a stretch, variance a
// second, and whether chance makes as much of that speed and of the readings' own errors:
// three deviations, or there are no bends.
func wandering(in []bend, usual float64) (beyond float64, chance bool) {
	var e, v, dt float64
	for _, b := range in {
		own := b.own + usual*b.dt
		e += b.weight * (b.excess - usual*b.dt)
		v += b.weight * b.weight * 2 * own * own * b.shared
		dt += b.weight * b.dt
	}
	if !(dt > 0) {
		return 0, true
	}
	return e / dt, math.Abs(e) <= 3*math.Sqrt(v)
}
