package fit

import (
	"math"

	"gonum.org/v1/gonum/interp"

	"example.org/noonfall/eclipse/disc"
)

// A Darkening is how much darker the Sun is towards its limb, as this log's sensor sees it.
type Darkening struct {
	// Half is the brightness where the line of sight and the vertical of the Sun's surface
	// are 60 degrees apart (a cosine of one half) over that of the disc's centre, and
	// HalfU its standard uncertainty. Published: 0.64 at 445 nm, 0.71 at 550, 0.83 at
	// 1047 (package disc, Neckel & Labs).
	Half, HalfU float64
	// NM is the wavelength at which the published law has it, nanometres, within 400 to
	// 1047, and NMU what HalfU makes of it.
	NM, NMU float64
}

// darkeningPriors are what is asked of the log instead of taken for granted: any colour.
const (
	anyColour = 3.0 // of colBlue, where 1 is from 550 to 445 nm
	leastDeep = 0.7 // magnitude; common practice, no source
	mostHalfU = 0.08
	// darkWiden is what the sky's bends and the Moon's heights add, which look like colour;
	// without it nine in ten rehearsed intervals held the truth.
	darkWiden = 1.3
)

// darkening reads the coefficient of the law's colour with the response held to what the
// options say of it. It returns why where nothing can be told.
func (p *problem) darkening(r *Result, best float64, opt Options) (*Darkening, string) {
	switch {
	case !(opt.ResponseU > 0):
		return nil, "the response is unknown, and may have any bend: a calibration would tell it"
	case p.light.curve.Circumstances().Magnitude < leastDeep:
		return nil, "the eclipse is too shallow here"
	case r.CloudFraction > 0.05 || p.lost():
		return nil, "cloud"
	}
	held := p.reg.priors
	defer func() {
		p.reg.priors = held
		p.deviance(best)
	}()
	p.reg.priors[colBlue] = prior{0, anyColour}
	p.reg.priors[colBend] = prior{0, opt.ResponseU}
	p.reg.priors[colTwist] = prior{0, opt.ResponseU / 2}
	s, err := p.reg.solution(p.deviance(best))
	if err != nil {
		return nil, "it cannot be told from the sky's own course"
	}
	power := p.power()
	own, blue := atHalf(p.light.curve.Options().Law), blueHalf()
	step := (blue - own) / power
	d := Darkening{Half: own + step*s.beta[colBlue], HalfU: darkWiden * math.Abs(step) * math.Sqrt(s.cov.At(colBlue, colBlue))}
	if !(d.HalfU < mostHalfU) {
		return nil, "too vague: the sky moves too much, or the response may"
	}
	d.NM, d.NMU = wavelength(d.Half, d.HalfU)
	return &d, ""
}

// lost says that an inner contact is under moving cloud.
func (p *problem) lost() bool {
	for _, l := range p.loose {
		if l > 0 {
			return true
		}
	}
	return false
}

func atHalf(l disc.Law) float64 { return l.Intensity(0.5) / l.Intensity(1) }

func blueHalf() float64 {
	law, err := disc.NeckelLabs(blueNM)
	if err != nil {
		return math.NaN()
	}
	return atHalf(law)
}

// wavelength reads the published table the other way round.
func wavelength(at, u float64) (nm, nmU float64) {
	const lo, hi, step = 400.0, 1040.0, 20.0
	var halves, nms []float64
	for x := lo; x <= hi; x += step {
		law, err := disc.NeckelLabs(x)
		if err != nil || len(halves) > 0 && atHalf(law) <= halves[len(halves)-1] {
			continue // near 400 nm lines make the table uneven
		}
		halves, nms = append(halves, atHalf(law)), append(nms, x)
	}
	var table interp.PiecewiseLinear
	if err := table.Fit(halves, nms); err != nil {
		return math.NaN(), math.NaN()
	}
	return table.Predict(at), (table.Predict(at+u) - table.Predict(at-u)) / 2
}
