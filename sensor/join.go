package sensor

import (
	"math"
)

// A Join makes one series out of two sensors of different ranges that stand side by
// side, reading by reading. The zero value trusts both calibrations and hands over by
// uncertainty alone; FitJoin makes one that brings both to one scale and hands
// over without a seam. Safe to copy and share.
type Join struct {
	// Ratio is what the bright sensor says over what the dim one says of the same
	// light; 0 means that both are right as they are.
	Ratio    float64
	RatioLnU float64 // standard uncertainty of ln Ratio, at PivotLux
	Kept     Keep    // whose scale the joined lux are on; not used without Ratio
	KeptLnU  float64 // what is open about that scale itself in the overlap, as a standard uncertainty of ln lux

	// Tilt is d ln Ratio/d ln lux, as where an exponent is off. Its size and its standard
	// uncertainty go into what is said of the other sensor's lux away from PivotLux.
	Tilt, TiltU float64
	PivotLux    float64 // lx, the middle of the readings that Ratio was fitted to

	// FromLux and ToLux, lx, are where the bright sensor begins to count and the dim one
	// ceases to: both must read numbers between. 0 means that there is no such zone.
	FromLux, ToLux float64

	// SharedLnU is the standard uncertainty of ln lux that both calibrations share, as
	// where one meter served for both; 0 to 1. With a Ratio it is not used.
	SharedLnU float64
	Pairs     int // of readings that Ratio was fitted to
}

// A Keep says whose lux are kept where two sensors disagree by a ratio.
type Keep uint8

// The choices. The zero value is for FitJoin to settle, and is KeepBright in a Join.
const (
	KeepBetter Keep = iota // the one whose CommonU is less in the overlap
	KeepDim
	KeepBright
)

const (
	// faintest is what is left of a sensor's weight at its end of the zone: two sensors
	// that disagree by all of it are still averaged and not divided by nothing.
	faintest = 1e-9
	// sameSure is a relative uncertainty below which no sensor is better than another.
	sameSure = 1e-6
)

// Merge is the joined reading of one instant.
//
// Two numbers are averaged with weights 1/u^2, times a smooth part that takes the bright
// sensor in from FromLux and lets the dim one go at ToLux: so that nothing jumps
// where one of them ends. A number beats a bound, and anything beats nothing: one sensor
// alone gives itself, on the kept scale. Of two bounds the closer one stands; where
// the dim one is Saturated below what the bright one calls TooDark, the dim one's. Bounds
// that contradict each other are Missing.
//
// Where the two disagree the joined reading turns from one to the other over the whole
// zone, and more light gives more light: after FitJoin with a cell that is off by a factor
// of e and by 0.2 in its exponent; with trusted calibrations while the two agree to
// a factor of 2.6.
func (j Join) Merge(dim, bright Reading) Reading {
	dim, bright = j.scaled(dim, j.Kept == KeepDim), j.scaled(bright, j.Kept != KeepDim)
	switch {
	case dim.Status == OK && bright.Status == OK:
		return j.blend(dim, bright)
	case dim.Status == OK || bright.Status == Missing:
		return dim
	case bright.Status == OK || dim.Status == Missing:
		return bright
	case dim.Status == bright.Status:
		if (dim.Lux < bright.Lux) == (dim.Status == TooDark) {
			return dim
		}
		return bright
	case dim.Status == Saturated && dim.Lux <= bright.Lux:
		return dim
	}
	return Reading{Lux: math.NaN(), LuxU: math.NaN(), RandomU: math.NaN(), Status: Missing}
}

// scaled brings a reading to the kept scale. What its own calibration leaves open is
// then not used: the kept one's, the ratio's and the tilt's uncertainty are.
func (j Join) scaled(r Reading, kept bool) Reading {
	if j.Ratio == 0 || kept || r.Status == Missing { // not fitted, or nothing to do
		return r
	}
	factor := j.Ratio // of the dim one's lux, to make them the bright one's
	if j.Kept == KeepDim {
		factor = 1 / j.Ratio
	}
	r.Lux, r.RandomU = r.Lux*factor, r.RandomU*factor
	r.LuxU = math.Hypot(r.RandomU, r.Lux*math.Hypot(j.KeptLnU, j.ratioLnU(r.Lux)))
	return r
}

// ratioLnU is what is open about the ratio at a light: its own, and what the two
// sensors were seen to turn away from each other, or might have.
func (j Join) ratioLnU(lux float64) float64 {
	if !(j.PivotLux > 0 && lux > 0) {
		return j.RatioLnU
	}
	return math.Hypot(j.RatioLnU, math.Hypot(j.Tilt, j.TiltU)*math.Log(lux/j.PivotLux))
}

func (j Join) blend(dim, bright Reading) Reading {
	wd, wb := j.weight(dim, j.Kept == KeepDim), j.weight(bright, j.Kept != KeepDim)
	if to := math.Log(j.ToLux / j.FromLux); j.FromLux > 0 && to > 0 {
		wd *= faintest + (1-faintest)*smooth(math.Log(j.ToLux/dim.Lux)/to)
		wb *= faintest + (1-faintest)*smooth(math.Log(bright.Lux/j.FromLux)/to)
	}
	pd := wd / (wd + wb)
	if !(wd+wb > 0) { // no light at all, twice
		pd = 0.5
	}
	pb := 1 - pd
	r := Reading{Lux: pd*dim.Lux + pb*bright.Lux, RandomU: math.Hypot(pd*dim.RandomU, pb*bright.RandomU)}
	r.LuxU = math.Hypot(r.RandomU, j.common(pd*dim.CommonU(), pb*bright.CommonU(), pd*dim.Lux, pb*bright.Lux))
	return r
}

// weight is by what is a reading's own and not on both sides. The tilt is left out: it
// would hand over in a narrow place, and that is a seam.
func (j Join) weight(r Reading, kept bool) float64 {
	u := r.LuxU
	if j.Ratio != 0 { // one scale for both
		u = r.RandomU
		if !kept {
			u = math.Hypot(u, r.Lux*j.RatioLnU)
		}
	}
	return 1 / (square(u/r.Lux) + sameSure*sameSure)
}

// common adds up the common parts, lx, of two parts of the light, lx: what both
// share before it is squared, the rest after.
func (j Join) common(dimU, brightU, dim, bright float64) float64 {
	if j.Ratio == 0 { // both stand on their own
		shared := j.SharedLnU
		own := func(u, lux float64) float64 { return math.Sqrt(math.Max(0, u*u-square(shared*lux))) }
		return math.Hypot(shared*(dim+bright), math.Hypot(own(dimU, dim), own(brightU, bright)))
	}
	keptU, other, otherU := brightU, dim, dimU
	if j.Kept == KeepDim {
		keptU, other, otherU = dimU, bright, brightU
	}
	scale := j.KeptLnU * other
	return math.Hypot(keptU+scale, math.Sqrt(math.Max(0, otherU*otherU-scale*scale)))
}

// smooth goes from 0 to 1 as x does, level at both ends.
func smooth(x float64) float64 {
	x = math.Min(math.Max(0, x), 1)
	return x * x * (3 - 2*x)
}
