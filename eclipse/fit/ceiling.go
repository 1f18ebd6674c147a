package fit

import (
	"math"
	"slices"

	"example.org/noonfall/eclipse/internal/quantile"
)

// A ceiling is the samples at the end of the sensor's range at which the light is greatest:
// bounds, and no numbers. They say that it was light.
type ceiling struct {
	at      []float64 // their stamps, s from the predicted maximum, ascending
	cadence float64   // s for which each stands
}

// between is those from one stamp to before another.
func (c ceiling) between(lo, hi float64) ceiling {
	from, _ := slices.BinarySearch(c.at, lo)
	to, _ := slices.BinarySearch(c.at, hi)
	return ceiling{c.at[from:max(from, to)], c.cadence}
}

// seconds is the time that they stand for.
func (c ceiling) seconds() float64 { return float64(len(c.at)) * c.cadence }

// outshone is the part of the eclipse in which the sensor was at its ceiling though a shift
// leaves it less than half of the light that fills it: of the light that the brightest readings
// have, where cloud takes least. The constants are common practice, no source.
func (p *problem) outshone(shift float64) float64 {
	const (
		nearly = 0.2  // natural logarithm of light below the brightest reading
		clear  = 0.05 // of the readings so bright
		looks  = 500  // samples looked at
	)
	if len(p.full.at) == 0 {
		return 0
	}
	p.fill(shift)
	near := nearly * math.Max(p.exponent(), leastExponent)
	top := math.Inf(-1)
	for _, r := range p.readings {
		if !r.faint {
			top = math.Max(top, r.y)
		}
	}
	var light []float64
	for k, r := range p.readings {
		if !r.faint && r.y >= top-near {
			light = append(light, p.seen[k].clear+p.seen[k].flux)
		}
	}
	half := quantile.Of(clear, light) - math.Ln2
	step := 1 + len(p.full.at)/looks
	dim := 0
	for i := 0; i < len(p.full.at); i += step {
		var sky instant
		p.light.sight((p.full.at[i]-shift)/(1+p.rate), p.plain, &sky)
		if sky.clear+sky.flux < half {
			dim += step
		}
	}
	return float64(dim) * p.full.cadence / (p.light.c4 - p.light.c1)
}
