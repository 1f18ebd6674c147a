package fit

import (
	"math"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/disc"
	"example.org/noonfall/sun"
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

// clearTable holds the logarithm of the clear sky's illuminance around an
// eclipse, so that a day of shifts costs one table.
type clearTable struct {
	first float64 // s from maximum
	log   []float64
}

// Half a day's clock error, a zone and the log's own length lie within the
// table; its step is fine enough for the steep light of a rising Sun (cubic
// interpolation, worst error 2e-4 above one degree of altitude).
const (
	clearStep = 120.0
	clearSpan = 30 * 3600.0
)

func newClearTable(site sun.Site, scale timescale.Scale, max timescale.TT) (clearTable, error) {
	o, err := sun.NewObserver(site, scale)
	if err != nil {
		return clearTable{}, err
	}
	n := int(2*clearSpan/clearStep) + 1
	c := clearTable{first: -clearSpan, log: make([]float64, n)}
	var sky sun.Sky
	for i := range c.log {
		h := o.Position(max + timescale.TT(c.first+float64(i)*clearStep))
		c.log[i] = math.Log(math.Max(sky.Illuminance(h.Alt, h.Distance).Global, darkest))
	}
	return c, nil
}

// darkest keeps the logarithm of a night finite: a moonless clear night, lx
// (testdata/references/natural_illuminance.csv).
const darkest = 0.002

// at is the logarithm of the clear sky's lux, by Catmull and Rom's cubic; past
// the table it is night.
func (c clearTable) at(t float64) float64 {
	x := (t - c.first) / clearStep
	i := int(x)
	if !(x >= 1) || i+2 >= len(c.log) {
		return math.Log(darkest)
	}
	x -= float64(i)
	a, b, d, e := c.log[i-1], c.log[i], c.log[i+1], c.log[i+2]
	return b + x/2*(d-a+x*(2*a-5*b+4*d-e+x*(3*(b-d)+e-a)))
}
