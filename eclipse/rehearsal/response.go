package rehearsal

import (
	"math"

	"example.org/noonfall/sensor"
)

// A response turns light into counts as the real part does.
type response struct {
	chain    *sensor.Converter // the real parts; nil for plain counts
	exponent float64           // of counts, or of the owner's lux, against light
	bend     float64           // part of the response lost in full light
	full     float64           // counts of plain counts in full light
	top      float64           // greatest count
	step     float64           // to which counts are rounded
	noise    float64           // counts
}

// fullLight is about what the bend is reckoned from, lx.
const fullLight = 100e3

// newResponse draws the real parts from the described ones. Spreads that the
// chain does not state are common practice, no source.
func newResponse(d dice, c *sensor.Chain) (response, error) {
	r := response{
		exponent: d.between(0.92, 1.06), bend: d.between(0, 0.08),
		full: d.between(8000, 40000), top: 65535, step: 1, noise: 1,
	}
	if c == nil {
		return r, nil
	}
	made := *c
	r.exponent = 1
	if made.Divider != nil {
		part := *made.Divider
		described := part.Cell.Gamma
		part.Cell.R10Ohm *= math.Exp(part.Cell.R10LnU * d.NormFloat64())
		part.Cell.Gamma += part.Cell.GammaU * d.NormFloat64()
		part.LoadOhm *= 1 + part.LoadTolerance*d.between(-1, 1)
		r.exponent = part.Cell.Gamma / described
		made.Divider = &part
	}
	if made.Phototransistor != nil {
		part := *made.Phototransistor
		part.AmperesPerLux *= math.Exp(part.AmperesPerLuxLnU * d.NormFloat64())
		part.LoadOhm *= 1 + part.LoadTolerance*d.between(-1, 1)
		made.Phototransistor = &part
	}
	if made.Digital != nil {
		part := *made.Digital
		part.LuxPerCount *= math.Exp(part.LuxPerCountLnU * d.NormFloat64())
		made.Digital = &part
		r.top, r.noise = part.MaxCounts, part.NoiseCounts
		if part.StepCounts > 0 {
			r.step = part.StepCounts
		}
	} else {
		r.top = math.Ldexp(1, made.ADC.Bits) - 1
		r.noise = made.ADC.NoiseCounts / math.Sqrt(math.Max(1, float64(made.ADC.Averaged)))
		if made.ADC.LogStepCounts > 0 {
			r.step = made.ADC.LogStepCounts
		}
	}
	var err error
	r.chain, err = made.Compile()
	return r, err
}

// answer is the counts of a light in lux, without noise and not rounded.
func (r *response) answer(lux float64) float64 {
	lux = math.Max(lux, 0)
	lux *= 1 - r.bend*math.Min(lux/fullLight, 3) // never turns back: the bend is 0.08 at most
	if r.chain != nil {
		return r.chain.Counts(lux)
	}
	return math.Min(r.top, r.full*math.Pow(lux/fullLight, r.exponent))
}

// sample is one record's counts: light, scatter, rounding, and now and then a
// wild value.
func (r *response) sample(lux float64, p Plan, d dice) (counts float64, wild bool) {
	if p.Noise > 0 {
		lux *= math.Exp(p.Noise * d.NormFloat64())
	}
	v := r.answer(lux)
	if p.Noise > 0 {
		v += r.noise * d.NormFloat64()
	}
	if p.Spikes > 0 && d.Float64() < p.Spikes {
		v, wild = v*d.between(0, 2), true
	}
	v = r.step * math.Round(v/r.step)
	return math.Max(0, math.Min(r.top, v)), wild
}
