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
	blue   *eclipse.Curve // the same under the law of another colour
	edge   *eclipse.Curve // and under another kind of law
	max    timescale.TT
	clear  clearTable
	c1, c4 float64 // s from maximum
	c2, c3 float64 // NaN where the eclipse is not central
}

// The laws whose differences from the curve's own span what is not known of the
// disc that a sensor sees. Colour: at 445 nm it is darker towards the limb than at
// the 550 nm of common sensors; a longer wavelength is the same difference with
// the other sign. Kind: what a power of mu and a polynomial, fitted to the same
// measurements at the same colour, make of the last hundredth of the disc, which
// nobody has measured: by the last ten seconds they are 0.2 apart in the logarithm.
const (
	blueNM = 445.125
	edgeNM = 550.0
)

func newLight(c *eclipse.Curve) (*light, error) {
	circ := c.Circumstances()
	under := func(law disc.Law, err error) (*eclipse.Curve, error) {
		if err != nil {
			return nil, err
		}
		return eclipse.NewCurve(c.Observer(), eclipse.CurveOptions{Law: law})
	}
	blue, err := under(disc.NeckelLabs(blueNM))
	if err != nil {
		return nil, err
	}
	edge, err := under(disc.HestrofferMagnan(edgeNM))
	if err != nil {
		return nil, err
	}
	l := &light{curve: c, blue: blue, edge: edge, max: circ.Max.TT, c2: math.NaN(), c3: math.NaN()}
	since := func(k eclipse.Contact) float64 { return float64(k.TT - l.max) }
	l.c1, l.c4 = since(circ.C1), since(circ.C4)
	if circ.C2.Exists && circ.C3.Exists {
		l.c2, l.c3 = since(circ.C2), since(circ.C3)
	}
	l.clear, err = newClearTable(c.Observer().Site(), c.Observer().Scale(), l.max)
	return l, err
}

// total says that nothing of the Sun is left at maximum, so that the residual
// light matters.
func (l *light) total() bool { return !math.IsNaN(l.c2) && l.flux(0) <= 0 }

// flux is the visible fraction of the Sun's light.
func (l *light) flux(t float64) float64 { return l.curve.Flux(l.max + timescale.TT(t)) }

// than is the logarithm of the light under another law over the curve's own, 0
// where either sees nothing.
func (l *light) than(other *eclipse.Curve, t, flux float64) float64 {
	if flux >= 1 || flux <= 0 {
		return 0
	}
	f := other.Flux(l.max + timescale.TT(t))
	if f <= 0 {
		return 0
	}
	return math.Log(f / flux)
}
