package station

import (
	"math"
)

// What a clear sky does not do: common practice, no source, but for the range of
// extinctions. A sky without any particle has about 0.1 for the eye's colours
// (Rayleigh's scattering, from memory); 0.7 is cloud.
const (
	shadeLn      = 0.03 // departure of a minute's light that is shade or cloud's edge
	cloudLnU     = 0.03 // scatter of the light about the model that is cloud
	slowLnU      = 0.05 // slow departure from the model that is cloud
	mostShade    = 0.3  // of the minutes
	leastAir     = 0.08
	greatestAir  = 0.7
	robustRounds = 24
)

// clear finds the minutes in shade: it lays the model through the log so that far
// minutes count for little, then for nothing (J. W. Tukey's biweight, from memory), and
// marks those that stay apart. A morning with too many of them is refused.
func (m *morning) clear(start state) (state, error) {
	c := m.climbOf(m.single(), start)
	start[atLevel] = c.prior.mean[atLevel]
	tangents := make([]tangent, len(c.blocks))
	off := make([]float64, len(c.blocks))
	var scale float64
	for round := range robustRounds {
		for i := range c.blocks {
			tangents[i].ln, tangents[i].by = c.blocks[i].change(start)
			off[i] = (c.blocks[i].ln-start[atLevel])/start[atSlope] - (tangents[i].ln - c.middle)
		}
		if round == 0 {
			shift := median(off)
			for i := range off {
				off[i] -= shift
			}
		}
		scale = math.Max(1e-3, spread(off))
		for i := range c.blocks {
			c.blocks[i].variance = square(scale*start[atSlope]) / weight(off[i]/scale, round >= robustRounds/2)
		}
		next := c.pass(wander{0, 1}, start, tangents).mean
		for i := range atSlow {
			start[i] += (next[i] - start[i]) / 2 // whole steps may go to and fro
		}
		if !(math.Abs(start[atSlope]) > 1e-6 && math.Abs(start[atSlope]) < 1e6) {
			return start, refuse(CloudyMorning, "no clear-sky curve can be laid through the log")
		}
	}
	shaded := m.shade(off, math.Max(shadeLn, 4*scale))
	if n := len(off); float64(shaded) > mostShade*float64(n) || scale > cloudLnU {
		return start, refuse(CloudyMorning, "%d of %d minutes are darker or brighter than a clear sky makes them, the others scatter by %.1f %%: wait for a clear morning", shaded, n, 100*scale)
	}
	if used, low, high := m.climb(); used < leastMinutes || high < leastMassRatio*low {
		return start, refuse(CloudyMorning, "without %d minutes of cloud or shade %d are left, from air mass %.2f to %.2f", shaded, used, high, low)
	}
	return start, nil
}

// weight of a minute that is off by so many scales: first as for the least sum of
// absolute values, then the biweight.
func weight(x float64, biweight bool) float64 {
	const nothing = 1e-9
	x = math.Abs(x)
	if !biweight {
		return 1 / math.Max(1, x)
	}
	return math.Max(nothing, square(math.Max(0, 1-square(x/4.685))))
}

// shade marks minutes off by more than a bound, and their neighbours, which are
// half in the shade.
func (m *morning) shade(off []float64, bound float64) (shaded int) {
	asked := m.used()
	for i := range asked {
		for j := max(0, i-1); j <= min(len(asked)-1, i+1); j++ {
			if math.Abs(off[j]) > bound && asked[i].at.Sub(asked[j].at).Abs() < nextMinute {
				asked[i].fate = ShadedMinute
			}
		}
		if asked[i].fate == ShadedMinute {
			shaded++
		}
	}
	return shaded
}

// spread is a standard deviation that half of the values cannot spoil.
func spread(v []float64) float64 {
	away := make([]float64, len(v))
	middle := median(v)
	for i := range v {
		away[i] = math.Abs(v[i] - middle)
	}
	return 1.4826 * median(away) // of a normal distribution
}

func square(x float64) float64 { return x * x }
