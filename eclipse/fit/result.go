package fit

import (
	"math"
	"time"
)

// A Result is what the light says about the clock.
type Result struct {
	// Offset is the stamp minus true UTC at the predicted maximum, seconds:
	// positive where the logger's clock is fast. It includes whole hours, the
	// sensor's lag and half the averaging window.
	Offset float64
	// OffsetU is its standard uncertainty, s, and CI95 the interval that holds
	// it with a probability of 95 %; both include the limb term.
	OffsetU float64
	CI95    [2]float64
	// LightU and LightCI95 are the same from the light alone, without LimbU.
	LightU    float64
	LightCI95 [2]float64
	// LimbU is the term for the Moon's limb that is included, s: the constant of that
	// name where the curve's Moon is smooth, else what the heights leave open.
	LimbU float64
	// DriftPPM is by how many millionths the clock gains, and DriftU its standard
	// uncertainty; 0 where Options.Drift was not asked for.
	DriftPPM, DriftU float64
	// ZoneH is the whole, half or quarter hours in Offset, as a clock that was
	// left on local time shows them; 0 where there are none.
	ZoneH float64
	// Response is how the readings follow the light.
	Response Response
	// Floor is the residual light that fits the darkest minutes, lx on the
	// scale of the curve's clear sky: totality's own light and whatever offset
	// the sensor has.
	Floor float64
	// Cloud lists the spans of cloud or shade, in true UTC, and CloudFraction
	// is their part of the eclipse that was recorded.
	Cloud         []Span
	CloudFraction float64
	// Contacts are those that the light shows, and Unseen those that it does not.
	Contacts []SeenContact
	Unseen   []UnseenContact
	// Darkening is the Sun's limb darkening, nil where it cannot be told: Undarkened says why.
	Darkening  *Darkening
	Undarkened string
	// Points are the readings of the fit, for pictures and residuals.
	Points []Point
	// Used counts the samples in the fit; Saturated, Dark and Bad those that
	// were bounds or no numbers.
	Used, Saturated, Dark, Bad int
	// Evidence is the squared deviations by which the eclipse explains the log
	// better than a plain day does.
	Evidence float64
	// Segments are the offsets before and after a move of the clock that hides in a pause of
	// the log and shows in the light; nil where there is none. Offset is then that of the two
	// which holds at the predicted maximum.
	Segments []SegmentClock
	Warnings []string // for a person to read
}

// A Response is the sensor's reading as a function of light.
type Response struct {
	// Law is "power" where one power of the light serves over the whole range,
	// "monotone" where the response bends.
	Law string
	// Exponent is d log reading / d log light, averaged over the range of light
	// in the log.
	Exponent, ExponentU float64
	// Falling says that the readings fall as the light grows, and were turned round: law and
	// exponent are those of (top - v)/v, with the converter's full scale for top.
	Falling bool
}

// A Span is a stretch of time in true UTC.
type Span struct {
	From, To time.Time // both ends, UTC
	// Depth is the light lost at the worst, as a fraction of the clear light.
	Depth float64
}

// A Point is one reading beside its prediction.
type Point struct {
	Stamp time.Time // mean of the stamps, as the log has them
	UTC   time.Time // the same with the offset taken out
	// Measured is the light that the reading stands for, lx on the curve's
	// scale; Predicted is the curve's.
	Measured, Predicted float64
	// Residual is the natural logarithm of the reading less the fitted response
	// and the sky's slow course.
	Residual float64
}

func (p *problem) report(s *series, shift float64, opt Options) (*Result, error) {
	best, least := p.lowest(shift, fineReach/4, fewSteps)
	rateU, grow := 0.0, 1.0
	if opt.Drift {
		best, rateU, grow = p.drift(best)
		least = p.deviance(best)
	}
	w := p.guess(best, least)
	best, least = p.deepest(best, 4*w)
	if math.IsInf(least, 0) || math.IsNaN(least) {
		return nil, refuse(Vague, "the response cannot be told from the sky's own course")
	}
	post, err := p.posterior(best, least, w, 2*fineReach)
	if err != nil {
		return nil, refuse(Vague, "the shift's probability cannot be followed: %v", err)
	}
	dev := p.deviance(best)
	sol, err := p.reg.solution(dev)
	if err != nil {
		return nil, refuse(Vague, "the response cannot be told from the sky's own course: %v", err)
	}
	post.widen(grow)
	r := &Result{Offset: post.mean, DriftPPM: 1e6 * p.rate, DriftU: 1e6 * rateU, Floor: p.floor, Saturated: len(s.full.at), Dark: s.dark, Bad: s.bad}
	for _, k := range p.readings {
		r.Used += k.n
	}
	r.ZoneH = zone(r.Offset)
	r.Response = p.response(sol)
	residual := p.residual()
	p.points(r, residual)
	cloudy := p.clouds(r, residual)
	// What was read through cloud is trusted less, by cloudedWiden where that is all that is
	// known of the shift, and so is what is left between clouds: by two fifths where half of
	// the eclipse is clouded. Common practice, no source.
	readings := p.pulls(best)
	wider := p.scatter(readings) * (1 + cloudedWiden*clouded(readings, cloudy)) /
		math.Sqrt(math.Max(leastClearPart, 1-r.CloudFraction))
	own := post.sd
	post.widen(wider)
	post.blur(p.discord(best))
	r.DriftU = math.Min(r.DriftU*post.sd/own, 1e6*driftSD)
	// A response or a sky that is a little wrong moves both flanks the same way in light,
	// and so in opposite ways in time; one alone has nothing to stand against it.
	if p.lesserFlank(best) < leastFlank {
		post.widen(oneFlankWiden)
	}
	r.LightU, r.LightCI95 = post.sd, [2]float64{post.lo, post.hi}
	if !opt.NoLimbTerm {
		r.LimbU = p.light.limbU
	}
	r.OffsetU = math.Hypot(r.LightU, r.LimbU)
	r.CI95 = withLimb(post, r.LimbU)
	r.Evidence = p.evidence(best)
	if err := p.judge(r); err != nil {
		return nil, err
	}
	p.shades(r, residual)
	p.contacts(r, best, cloudy)
	if !opt.Drift {
		r.gains()
	}
	r.Darkening, r.Undarkened = p.darkening(r, best, opt)
	return r, nil
}

// withLimb adds the limb's term to either half of the interval in quadrature.
func withLimb(p posterior, u float64) [2]float64 {
	return [2]float64{
		p.mean - math.Hypot(p.mean-p.lo, normal95*u),
		p.mean + math.Hypot(p.hi-p.mean, normal95*u),
	}
}

const normal95 = 1.959964 // 97.5 % of the normal distribution

// zone names the hours in an offset: the nearest quarter of an hour, where the
// remainder is what a clock set by hand would have.
func zone(offset float64) float64 {
	quarter := 900 * math.Round(offset/900)
	if quarter == 0 || math.Abs(offset-quarter) > 150 {
		return 0
	}
	return quarter / 3600
}

// exponents are the weights with which the coefficients of the response make its slope,
// averaged over the light seen.
func (p *problem) exponents() (g [3]float64) {
	lo := -0.1
	for k := range p.rows {
		lo = math.Min(lo, p.rows[k][colPower])
	}
	// f(0) - f(lo) over -lo, with f = a L + b (L/c)^2 + d (L/c)^3.
	return [3]float64{1, lo / (bendScale * bendScale), lo * lo / (bendScale * bendScale * bendScale)}
}

// exponent is that slope at the coefficients last solved for.
func (p *problem) exponent() (sum float64) {
	for i, g := range p.exponents() {
		sum += g * p.reg.beta.Data[colPower+i]
	}
	return sum
}

// response is the fitted response over the light seen.
func (p *problem) response(s solution) Response {
	out := Response{Law: "power", Exponent: p.exponent()}
	g := p.exponents()
	var variance float64
	for i := range 3 {
		for j := range 3 {
			variance += g[i] * g[j] * s.cov.At(colPower+i, colPower+j)
		}
	}
	out.ExponentU = math.Sqrt(math.Max(0, variance))
	for _, j := range []int{colBend, colTwist} {
		if math.Abs(s.beta[j]) > 3*math.Sqrt(s.cov.At(j, j)) {
			out.Law = "monotone"
		}
	}
	return out
}

// judge refuses what is no answer.
func (p *problem) judge(r *Result) error {
	half := (r.LightCI95[1] - r.LightCI95[0]) / 2
	enough := demanded(r.Offset, r.CloudFraction, r.Response.Exponent, 0)
	bend := p.bend()
	switch {
	case r.Evidence < enough && r.CloudFraction > mostCloud:
		return refuse(CloudThroughout, "%.0f %% of the eclipse is under cloud or shade, and what is left does not show it", 100*r.CloudFraction)
	case r.Evidence < enough:
		return refuse(NoDip, "the log is explained as well by a day without an eclipse")
	case r.Evidence < demanded(r.Offset, r.CloudFraction, r.Response.Exponent, bend):
		return refuse(NoShift, "the light falls and comes back, but not as the eclipse does at any shift: the sky would have to bend by %.0f %% in an hour; is the day right, and the site, and does the sensor lie level?", 100*bend)
	case p.unlike(r) != nil:
		return p.unlike(r)
	case half > mostHalf:
		return refuse(Vague, "the 95 %% interval would be +-%.0f s", half)
	}
	if r.CloudFraction > mostCloud {
		r.Warnings = append(r.Warnings, "more than half of the eclipse is under cloud or shade: the interval rests on the rest")
	}
	if half > fineReach {
		r.Warnings = append(r.Warnings, "the interval is wide: the light hardly tells the time")
	}
	return nil
}

const (
	mostCloud      = 0.5
	leastClearPart = 0.1
	oneFlankWiden  = 1.5   // common practice, no source
	cloudedWiden   = 0.4   // common practice, no source
	mostHalf       = 900.0 // s: wider than that, a clock that is wrong by a quarter of an hour cannot be told from a right one
)
