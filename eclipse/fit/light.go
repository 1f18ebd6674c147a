package fit

import (
	"math"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/disc"
	"example.org/noonfall/sun/timescale"
)

// A light is the sky's prediction at one site, in seconds from maximum.
type light struct {
	curve  *eclipse.Curve
	other  *eclipse.Curve // the same under another limb-darkening law
	max    timescale.TT
	clear  clearTable
	c1, c4 float64 // s from maximum
	c2, c3 float64 // NaN where the eclipse is not central
}

// otherLaw is the law whose difference from the curve's own spans what is not
// known of the colour that a sensor sees: the disc at 450 nm, darker at the limb
// than at the 550 nm of common sensors. A longer wavelength is the same
// difference with the other sign.
const otherLawNM = 445.125

func newLight(c *eclipse.Curve) (*light, error) {
	circ := c.Circumstances()
	law, err := disc.NeckelLabs(otherLawNM)
	if err != nil {
		return nil, err
	}
	other, err := eclipse.NewCurve(c.Observer(), eclipse.CurveOptions{Law: law})
	if err != nil {
		return nil, err
	}
	l := &light{curve: c, other: other, max: circ.Max.TT, c2: math.NaN(), c3: math.NaN()}
	since := func(k eclipse.Contact) float64 { return float64(k.TT - l.max) }
	l.c1, l.c4 = since(circ.C1), since(circ.C4)
	if circ.C2.Exists && circ.C3.Exists {
		l.c2, l.c3 = since(circ.C2), since(circ.C3)
	}
	l.clear, err = newClearTable(c.Observer().Site(), c.Observer().Scale(), l.max)
	return l, err
}

// flux is the visible fraction of the Sun's light.
func (l *light) flux(t float64) float64 { return l.curve.Flux(l.max + timescale.TT(t)) }

// lawDifference is the logarithm of what the other law's light is to the
// curve's, 0 where either sees nothing.
func (l *light) lawDifference(t, flux float64) float64 {
	if flux >= 1 || flux <= 0 {
		return 0
	}
	f := l.other.Flux(l.max + timescale.TT(t))
	if f <= 0 {
		return 0
	}
	return math.Log(f / flux)
}
